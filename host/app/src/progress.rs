//! Progress bars for work that takes longer than a second.

use std::time::{Duration, Instant};

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};

/// How long work may take before a bar appears.
const PATIENCE: Duration = Duration::from_secs(1);

/// A bar on standard error that appears only if the work takes long, and only on
/// a terminal (not in files and pipes).
pub struct Progress {
    bar: ProgressBar,
    begun: Instant,
}

impl Progress {
    /// A bar for `steps` steps of work.
    pub fn new(steps: usize, what: &'static str) -> Progress {
        let bar = ProgressBar::with_draw_target(Some(steps as u64), ProgressDrawTarget::hidden());
        let style = ProgressStyle::with_template("{msg:28} {bar:30} {pos}/{len} {eta}")
            .unwrap_or(ProgressStyle::default_bar());
        bar.set_style(style);
        bar.set_message(what);
        Progress { bar, begun: Instant::now() }
    }

    /// Counts one step as done.
    pub fn step(&self) {
        if self.bar.is_hidden() && self.begun.elapsed() > PATIENCE {
            self.bar.set_draw_target(ProgressDrawTarget::stderr());
        }
        self.bar.inc(1);
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        self.bar.finish_and_clear();
    }
}
