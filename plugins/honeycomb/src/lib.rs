//! Honeycomb: rows in which every dot is worked alternate with rows in which every
//! second dot is left out. Each dot left out becomes a hole with six pins.

use pairwise_sdk::Side::{Left, Right};
use pairwise_sdk::{About, Contribution, Grid, Problem, Repeat, Settings, Variety, contribution, tally};

/// She calls it rose ground, a name that has gone over to another ground.
const DILLMONT: &str =
    "Th. de Dillmont, Encyclopedia of Needlework, 1886, Laces of different kinds, figures 791 and 792";
const TALLIES: &str = "stitch and rows: Th. de Dillmont, Encyclopedia of Needlework, 1886, Laces of different kinds, \
                       figures 791 and 792; tally and twists after it: J. Edkins, online lace tutorial, tally; in every \
                       other hole: common practice, no source";
const EDKINS: &str = "J. Edkins, online lace tutorial, honeycomb";

/// Stitches at a pin: id, title, moves.
const STITCHES: [(&str, &str, &str); 2] = [
    ("honeycomb", "half stitch and twist, pin, half stitch and twist", "CTT pin CTT"),
    ("two-twists", "half stitch and two twists, pin, the same again", "CTTT pin CTTT"),
];

/// Fillings of a gap: id, title, whether a tally.
const GAPS: [(&str, &str, bool); 2] = [
    ("open", "nothing: the two pairs pass straight down", false),
    ("tally", "a tally in every second row of gaps, nothing in the others", true),
];

/// Honeycomb with its varieties.
pub struct Honeycomb;

impl Contribution for Honeycomb {
    fn about() -> About {
        About::filling("honeycomb", "Honeycomb", "point")
            .also_called("en", "honeycomb filling", "common practice")
            .also_called("nl", "rozengrond", "common practice, from memory")
            .also_called("nl", "honingraatgrond", EDKINS)
            .also_called("fr", "fond de mariage", EDKINS)
            .used_in(["Bucks Point", "Chantilly", "Lille", "Torchon", "Tønder"])
            // Bucks Point is pricked at 1.5 to 2 mm (common practice, no source).
            .pin_spacing(1.75)
            .angle(60.0)
            .notes(
                "Worked in slanting rows. A continuous row has a stitch at every dot; in a gap row every \
                 second dot is left out and the pairs there hang straight past the gap, twisted.",
            )
            .source(DILLMONT)
            .choose("stitch", "Stitch at every pin", &STITCHES)
            .choose("gap", "In the gaps", &GAPS)
            .choose_count("passing-twists", "Extra twists on the pairs that pass a gap", 0..=2, 0)
            .choose_count("turns", "Times there and back in a tally", 2..=6, 3)
            .variety(
                Variety::new("plain", "Honeycomb")
                    .also_called("en", "rose ground", DILLMONT)
                    .notes("Round holes with six pins, small three-cornered ones between. Every pair stays, going to and fro between two columns of pins."),
            )
            .variety(Variety::new("tallies", "Honeycomb with tallies").set("gap", "tally").source(TALLIES).notes("Tallies fill every second row of holes; the rows between stay round. Every pair stays, going to and fro between two columns of pins."))
    }

    fn define(settings: &Settings) -> Result<Repeat, Problem> {
        let stitch = settings.pick("stitch", &STITCHES)?;
        let passing = settings.count("passing-twists")?;
        if !*settings.pick("gap", &GAPS)? {
            // A gap is at (0, 0) and at every step from there; two pairs meet the next
            // ones, (-2, 2) and (2, 2), and pass straight down.
            return Grid::new((2, 2), (-2, 2))
                .dot("left", (-1, 1), stitch)
                .dot("right", (1, 1), stitch)
                .dot("middle", (0, 2), stitch)
                .leg(("left", Left), ("right", Left), (-1, 3))
                .leg(("right", Right), ("left", Right), (1, 3))
                .twist(("left", Left), passing)
                .twist(("right", Right), passing)
                .repeat();
        }
        // Open gaps at (0, 0) and (4, 0), a row of tallies at (2, 2) and (-2, 2), and so on.
        Grid::new((4, 0), (0, 4))
            .dot("left", (-1, 1), stitch)
            .dot("right", (1, 1), stitch)
            .dot("middle", (0, 2), stitch)
            .dot("tally", (2, 2), tally(settings.count("turns")?))
            .dot("tally-left", (1, 3), stitch)
            .dot("tally-right", (3, 3), stitch)
            .dot("tally-middle", (2, 4), stitch)
            .leg(("tally-left", Left), ("right", Left), (1, 5))
            .leg(("tally-right", Right), ("left", Right), (3, 5))
            .twist(("tally-left", Left), passing)
            .twist(("tally-right", Right), passing)
            .twist(("tally", Left), 1)
            .twist(("tally", Right), 1)
            .repeat()
    }
}

contribution!(Honeycomb);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_variety_can_be_worked() {
        let warnings = pairwise_sdk::check::<Honeycomb>();
        assert!(warnings.is_empty(), "{warnings:#?}");
    }

    // Threads of one repeat that travel left, stay and travel right, to match the notes.
    #[test]
    fn colours_go_where_the_notes_say() {
        let expected = [("plain", [0, 8, 0]), ("tallies", [0, 8, 0])];
        assert_eq!(
            pairwise_sdk::travels::<Honeycomb>(),
            expected.map(|(id, threads)| (id.to_owned(), threads))
        );
    }
}
