//! Small grounds for the tests of pictures.

use lace::{Grid, Ground, samples};
use picture::layout::{Layout, lay_out};

/// One stitch on a dot grid. Each pair runs along its diagonal.
pub fn torchon(work: &str, twists: u32) -> Ground {
    Ground::new(samples::torchon(work, twists)).unwrap()
}

/// The four-pin rose ground.
pub fn rose(crossing: &str, pin: &str) -> Ground {
    Ground::new(samples::rose(crossing, pin)).unwrap()
}

/// Grounds with different stitches and wiring, each with a name for messages.
pub fn grounds() -> Vec<(&'static str, Ground)> {
    vec![
        ("half stitch, pin, half stitch", torchon("CT pin CT", 0)),
        ("half stitch, pin, half stitch, twisted legs", torchon("CT pin CT", 2)),
        ("cloth stitch and twist either side", torchon("CTCT pin CTCT", 0)),
        ("three twists before the pin", torchon("CTTT pin", 0)),
        ("whole pairs cross", torchon("CT pin pair-cross CT", 1)),
        ("rose", rose("CTCT", "CT pin CT")),
        ("rose with cloth stitches", rose("CT", "CTC pin CTC")),
    ]
}

/// Laid out at 5 mm between footside pins, 0.3 mm thread.
pub fn laid_out(ground: &Ground) -> Layout {
    lay_out(ground, &Grid::new(5.0, 45.0).unwrap(), 0.3)
}
