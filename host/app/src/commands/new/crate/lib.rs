//! My filling: two pairs from the left and two from the right meet in torchon
//! ground, cross in four stitches without a pin and part again.
//!
//! This file is a whole contribution. Change it bit by bit, run `cargo test`
//! after each change, and look at the result. README.md explains it line by
//! line.

use pairwise_sdk::{
    About, Contribution, Problem, Repeat, Settings, TORCHON, Variety, contribution, in_torchon,
};

/// The stitches that can be worked where pairs cross: id, title, moves. C is a
/// cross, T a twist. The first is the usual one.
const CROSSINGS: [(&str, &str, &str); 3] = [
    ("cloth", "cloth stitch", "CTC"),
    ("cloth-twist", "cloth stitch and twist", "CTCT"),
    ("half", "half stitch", "CT"),
];

/// My filling.
pub struct Filling;

impl Contribution for Filling {
    /// Its names, its source and its choices.
    fn about() -> About {
        About::filling("my-filling", "My filling", "torchon")
            .used_in(["Torchon"])
            .pin_spacing(4.0)
            .notes("Four pairs cross in a small diamond of plain stitches.")
            .source("made up to begin with")
            .choose("crossing", "Stitch where the pairs cross", &CROSSINGS)
            .choose_count("twists", "Twists before and after the crossing", 0..=3, 1)
            .choose_count("rows", "Rows of ground between two crossings", 1..=4, 2)
            .choose("ground", "Stitch at the pins of the ground", &TORCHON)
            .variety(Variety::new("plain", "My filling").notes("The usual one comes first."))
            .variety(Variety::new("open", "My filling, open").set("crossing", "half"))
            .variety(Variety::new("close", "My filling, close together").set("rows", 1))
    }

    /// The repeat for these settings.
    fn define(settings: &Settings) -> Result<Repeat, Problem> {
        let crossing = settings.pick("crossing", &CROSSINGS)?;
        let twists = settings.count("twists")?;
        let rows = settings.count("rows")?;
        let ground = settings.pick("ground", &TORCHON)?;
        // Two pairs come in from each side, so the motif replaces two by two
        // dots of the ground. The pairs are -2 and -1 on the left, 0 and 1 on
        // the right; a dot at x takes the pairs x - 1 and x.
        in_torchon(2, rows, ground, |pillow, (x, y)| {
            pillow
                .twist_all(-2..2, twists)
                .dot("top", (x, y - 1), crossing)
                .dot("left", (x - 1, y), crossing)
                .dot("right", (x + 1, y), crossing)
                .dot("bottom", (x, y + 1), crossing)
                .twist_all(-2..2, twists)
        })
    }
}

contribution!(Filling);

#[cfg(test)]
mod tests {
    use super::*;

    /// Works every variety and every choice, and fails at anything a lacemaker
    /// could not do.
    #[test]
    fn every_variety_can_be_worked() {
        let warnings = pairwise_sdk::check::<Filling>();
        assert!(warnings.is_empty(), "{warnings:#?}");
    }
}
