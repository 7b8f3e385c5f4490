//! Single roses in torchon ground: each replaces four dots.

use pairwise_sdk::{
    About, Contribution, Pillow, Problem, Repeat, Settings, TORCHON, Variety, contribution, in_torchon,
};

/// Where pairs cross before and after a rose: id, title, moves.
const CROSSINGS: [(&str, &str, &str); 3] = [
    ("cloth-twist", "cloth stitch and twist", "CTCT"),
    ("half", "half stitch", "CT"),
    ("cloth", "cloth stitch", "CTC"),
];

/// The pins of a rose: id, title, moves.
const PINS: [(&str, &str, &str); 2] = [
    ("plain", "half stitch, pin, half stitch", "CT pin CT"),
    ("double", "cloth stitch and twist, pin, the same again", "CTCT pin CTCT"),
];

/// Single roses in torchon ground.
pub struct SingleRose;

impl Contribution for SingleRose {
    fn about() -> About {
        About::filling("single-rose", "Single roses in torchon ground", "torchon")
            .family("rose")
            .used_in(["Torchon"])
            // Torchon is pricked at 3 to 5 mm (common practice, no source).
            .pin_spacing(4.0)
            .notes(
                "A rose of four pins with its four crossings, set out with rows of torchon ground between.",
            )
            .source("common practice, from memory")
            .choose("crossing", "Crossings round a rose", &CROSSINGS)
            .choose("pins", "Pins of a rose", &PINS)
            .choose_count("rows", "Rows of ground between the roses", 1..=4, 1)
            .choose("ground", "Stitch at the pins of the ground", &TORCHON)
            .variety(Variety::new("close", "Single roses, one row of ground between").notes("Every pair travels, half to the left and half to the right, through roses and ground."))
            .variety(
                Variety::new("wide", "Single roses, two rows of ground between").set("rows", 2).notes("The roses stand farther apart. Every pair travels, half to the left and half to the right."),
            )
            .variety(Variety::new("double", "Single roses, double pins").set("pins", "double").notes("The double pins turn pairs back: those that meet a rose stay, those that run between the roses travel."))
    }

    fn define(settings: &Settings) -> Result<Repeat, Problem> {
        let crossing = settings.pick("crossing", &CROSSINGS)?;
        let pin = settings.pick("pins", &PINS)?;
        in_torchon(2, settings.count("rows")?, settings.pick("ground", &TORCHON)?, |pillow, middle| {
            rose(pillow, middle, crossing, pin)
        })
    }
}

/// A rose round `(x, y)` with the crossings before and after it.
fn rose(pillow: Pillow, (x, y): (i32, i32), crossing: &str, pin: &str) -> Pillow {
    let (x, y) = (f64::from(x), f64::from(y));
    pillow
        .stitch("crossing-1", (x - 1.0, y - 1.0), -2, crossing)
        .stitch("crossing-2", (x + 1.0, y - 1.0), 0, crossing)
        .stitch("top", (x, y - 1.0), -1, pin)
        .stitch("left", (x - 1.0, y), -2, pin)
        .stitch("right", (x + 1.0, y), 0, pin)
        .stitch("bottom", (x, y + 1.0), -1, pin)
        .stitch("crossing-3", (x - 1.0, y + 1.0), -2, crossing)
        .stitch("crossing-4", (x + 1.0, y + 1.0), 0, crossing)
}

contribution!(SingleRose);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_variety_can_be_worked() {
        let warnings = pairwise_sdk::check::<SingleRose>();
        assert!(warnings.is_empty(), "{warnings:#?}");
    }

    // Threads of one repeat that travel left, stay and travel right, to match the notes.
    #[test]
    fn colours_go_where_the_notes_say() {
        let expected = [("close", [6, 0, 6]), ("wide", [8, 0, 8]), ("double", [2, 8, 2])];
        assert_eq!(
            pairwise_sdk::travels::<SingleRose>(),
            expected.map(|(id, threads)| (id.to_owned(), threads))
        );
    }
}
