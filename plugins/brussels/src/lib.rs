//! Brussels ground: six-sided mesh, two sides plaited four times round a pin, four
//! sides a twisted pair.

use pairwise_sdk::{About, Contribution, Grid, Problem, Repeat, Settings, Variety, contribution};

const SOURCE: &str = "stitch and twist: Th. de Dillmont, Encyclopedia of Needlework, 1886, Laces of different kinds, \
                      figure 797; without pins: J. Edkins, online lace tutorial, Brussels ground; angle: ours";
const PALLISER: &str = "Mrs. Bury Palliser, History of Lace, 1902, page 119";

/// The plaited sides: id, title, moves.
const PLAITS: [(&str, &str, &str); 2] = [
    ("four", "four half stitches, the pin in the middle", "CTCT pin CTCT"),
    ("six", "six half stitches, the pin in the middle", "CTCTCT pin CTCTCT"),
];

/// Distance between plaits, across and down, in grid steps: a plait of four half stitches needs
/// the room (ours, no source).
const APART: f64 = 1.5;

/// Brussels ground.
pub struct Brussels;

impl Contribution for Brussels {
    fn about() -> About {
        About::ground("brussels", "Brussels ground")
            .family("mesh")
            .also_called("nl", "droschel", PALLISER)
            .also_called("fr", "drochel", "common practice")
            .also_called("fr", "vrai réseau", PALLISER)
            .used_in(["Brussels"])
            // Finer than point ground: pins under one another stand 1.5 mm apart (common practice, no source).
            .pin_spacing(1.0)
            // Nearly regular hexagons.
            .angle(35.0)
            .notes(
                "Six-sided meshes. Two sides are plaits of four threads, four are a pair with two twists. Dillmont \
                 (1886) sets a pin in the middle of the plait; the old ground was worked without pins.",
            )
            .source(SOURCE)
            .choose("plait", "The plaited sides", &PLAITS)
            .choose_count("twists", "Extra twists of the pairs between the plaits", 0..=3, 1)
            .variety(
                Variety::new("plain", "Brussels ground").notes(
                    "Plaited four times round a pin. Every thread comes back to its own side: colours stay in their columns.",
                ),
            )
    }

    fn define(settings: &Settings) -> Result<Repeat, Problem> {
        Grid::new((APART, APART), (-APART, APART))
            .dot("plait", (0, 0), settings.pick("plait", &PLAITS)?)
            .twists(settings.count("twists")?)
            .repeat()
    }
}

contribution!(Brussels);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_variety_can_be_worked() {
        let warnings = pairwise_sdk::check::<Brussels>();
        assert!(warnings.is_empty(), "{warnings:#?}");
    }

    // Threads of one repeat that travel left, stay and travel right, to match the notes.
    #[test]
    fn colours_go_where_the_notes_say() {
        let expected = [("plain", [0, 4, 0])];
        assert_eq!(
            pairwise_sdk::travels::<Brussels>(),
            expected.map(|(id, threads)| (id.to_owned(), threads))
        );
    }
}
