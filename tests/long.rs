//! Tests that go on for as long as they are given:
//!
//! ```sh
//! PAIRWISE_LONG=3600 cargo test --workspace long_run -- --ignored --nocapture
//! ```
//!
//! gives all of them together so many seconds. They run one after the other, each
//! for its share.

use std::time::{Duration, Instant};

/// The time of a long run.
pub struct LongRun {
    end: Instant,
}

impl LongRun {
    /// Begins a long run with a share of the time: of a minute, if nothing is given.
    pub fn with_share(share: f64) -> LongRun {
        let seconds =
            std::env::var("PAIRWISE_LONG").map_or(60.0, |s| s.parse().expect("a number of seconds"));
        LongRun { end: Instant::now() + Duration::from_secs_f64(share * seconds) }
    }

    /// Whether there is time left.
    pub fn goes_on(&self) -> bool {
        Instant::now() < self.end
    }
}
