//! Rose ground: units of four pins, joined by crossings without a pin. Every
//! stitch is a choice, before and after each pin, because in this ground one
//! stitch decides which way a colour goes.

mod varieties;

use pairwise_sdk::Side::{Left, Right};
use pairwise_sdk::{About, Contribution, Grid, Problem, Repeat, Settings, contribution};

const FIVE_HOLES: &str = "J. Edkins, online lace tutorial, rose ground; L. Halley, teaching notes";

/// Where pairs cross between the roses: id, title, moves.
const CROSSINGS: [(&str, &str, &str); 6] = [
    ("cloth-twist", "cloth stitch and twist", "CTCT"),
    ("half", "half stitch", "CT"),
    ("half-twist", "half stitch and twist", "CTT"),
    ("cloth", "cloth stitch", "CTC"),
    ("cloth-two-twists", "cloth stitch and two twists", "CTCTT"),
    ("doubled", "cloth stitch and twist, worked twice", "CTCTCTCT"),
];

/// Before or after a pin; `open` only after it.
const STITCHES: [(&str, &str, &str); 6] = [
    ("half", "half stitch", "CT"),
    ("half-twist", "half stitch and twist", "CTT"),
    ("cloth", "cloth stitch", "CTC"),
    ("cloth-twist", "cloth stitch and twist", "CTCT"),
    ("cloth-two-twists", "cloth stitch and two twists", "CTCTT"),
    ("open", "nothing, the pin is not closed", ""),
];

/// Rose ground with its varieties.
pub struct Rose;

impl Contribution for Rose {
    fn about() -> About {
        let before = &STITCHES[..5];
        let about = About::ground("rose", "Rose ground")
            .also_called("en", "virgin ground", "common practice")
            .also_called("en", "five-hole ground", FIVE_HOLES)
            .also_called("de", "Rosengrund", "common practice")
            .also_called("fr", "fond à la vierge", "common practice")
            .also_called("fr", "cinq trous", FIVE_HOLES)
            .used_in(["Torchon"])
            // Torchon is pricked at 3 to 5 mm (common practice, no source).
            .pin_spacing(4.0)
            .notes(
                "Four pins make a rose: top, two sides, bottom. Between the roses pairs cross without a pin. \
                 As five-hole ground it often has one pin, in the middle.",
            )
            .source("common practice, from memory")
            .choose("crossing", "Crossing between the roses", &CROSSINGS)
            .choose("top-before", "Before the top pin", before)
            .choose("top-after", "After the top pin", &STITCHES)
            .choose("sides-before", "Before the pins at the sides", before)
            .choose("sides-after", "After the pins at the sides", &STITCHES)
            .choose("bottom-before", "Before the bottom pin", before)
            .choose("bottom-after", "After the bottom pin", &STITCHES)
            .choose_count("inner-twists", "Extra twists between the pins of a rose", 0..=3, 0)
            .choose_count("outer-twists", "Extra twists between roses and crossings", 0..=3, 0);
        varieties::varieties().into_iter().fold(about, About::variety)
    }

    fn define(settings: &Settings) -> Result<Repeat, Problem> {
        let crossing = settings.pick("crossing", &CROSSINGS)?;
        let pin = |place: &str| {
            let before = settings.pick(&format!("{place}-before"), &STITCHES)?;
            let after = settings.pick(&format!("{place}-after"), &STITCHES)?;
            Ok(format!("{before} pin {after}"))
        };
        let inner = settings.count("inner-twists")?;
        Grid::new((2, 2), (-2, 2))
            .dot("crossing-left", (-1, 0), crossing)
            .dot("crossing-right", (1, 0), crossing)
            .dot("top", (0, 0), pin("top")?)
            .dot("left", (-1, 1), pin("sides")?)
            .dot("right", (1, 1), pin("sides")?)
            .dot("bottom", (0, 2), pin("bottom")?)
            // From the crossings above into the rose.
            .leg(("crossing-left", Left), ("left", Left), (-1, 1))
            .leg(("crossing-left", Right), ("top", Left), (0, 0))
            .leg(("crossing-right", Left), ("top", Right), (0, 0))
            .leg(("crossing-right", Right), ("right", Right), (1, 1))
            // From the rose to the crossings below it, which the next roses share.
            .leg(("left", Left), ("crossing-right", Left), (-1, 2))
            .leg(("bottom", Left), ("crossing-right", Right), (-1, 2))
            .leg(("bottom", Right), ("crossing-left", Left), (1, 2))
            .leg(("right", Right), ("crossing-left", Right), (1, 2))
            // Inside the rose the pairs follow the diagonals.
            .twists(settings.count("outer-twists")?)
            .twist(("top", Left), inner)
            .twist(("top", Right), inner)
            .twist(("left", Right), inner)
            .twist(("right", Left), inner)
            .repeat()
    }
}

contribution!(Rose);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_variety_can_be_worked() {
        let warnings = pairwise_sdk::check::<Rose>();
        assert!(warnings.is_empty(), "{warnings:#?}");
    }

    // Threads of one repeat that travel left, stay and travel right, to match the notes.
    #[test]
    fn colours_go_where_the_notes_say() {
        let travels = pairwise_sdk::travels::<Rose>();
        let going = |to: [usize; 3]| -> Vec<&str> {
            travels.iter().filter(|(_, threads)| *threads == to).map(|(id, _)| id.as_str()).collect()
        };
        assert_eq!(
            going([4, 0, 4]),
            [
                "plain",
                "half-crossings",
                "half-twist-crossings",
                "cloth-crossings",
                "doubled-crossings",
                "twisted-pins",
            ]
        );
        assert_eq!(
            going([0, 8, 0]),
            [
                "doubled",
                "halved",
                "double-pins",
                "honeycomb-pins",
                "open-pins",
                "double-sides",
                "double-ends"
            ]
        );
        assert_eq!(going([2, 4, 2]), ["double-sides-bottom"]);
    }
}
