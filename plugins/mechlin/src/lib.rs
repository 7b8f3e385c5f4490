//! Mechlin ground: six-sided mesh, two sides plaited three times, four sides a
//! twisted pair.

use pairwise_sdk::{About, Contribution, Grid, Problem, Repeat, Settings, Variety, contribution};

const SOURCE: &str = "two threads twisted twice on four sides, four threads plaited three times on two: Mrs. Bury Palliser, History of Lace, \
                      1902, page 125; no pin: J. Edkins, online lace tutorial, Mechlin ground; angle: ours";

const FROM_MEMORY: &str = "common practice, from memory";

/// The plaited sides: id, title, moves.
const PLAITS: [(&str, &str, &str); 3] = [
    ("open", "three half stitches, no pin", "CTCTCT"),
    ("below", "three half stitches, the pin below", "CTCTCT pin"),
    ("middle", "three half stitches, the pin after the second", "CTCT pin CT"),
];

/// Mechlin ground.
pub struct Mechlin;

impl Contribution for Mechlin {
    fn about() -> About {
        About::ground("mechlin", "Mechlin ground")
            .family("mesh")
            .also_called("fr", "réseau de Malines", "common practice")
            .also_called("nl", "Mechelse grond", "common practice")
            .also_called("en", "ice ground", FROM_MEMORY)
            .also_called("de", "Eisgrund", FROM_MEMORY)
            .also_called("nl", "ijsgrond", FROM_MEMORY)
            .used_in(["Mechlin"])
            // Finer than point ground (common practice, no source).
            .pin_spacing(1.5)
            // Nearly regular hexagons.
            .angle(40.0)
            .notes("Six-sided meshes. Two sides are short plaits of four threads, four are a pair with two twists. Worked without pins: the threads alone hold the mesh.")
            .source(SOURCE)
            .choose("plait", "The plaited sides", &PLAITS)
            .choose_count("twists", "Extra twists of the pairs between the plaits", 0..=3, 1)
            .variety(
                Variety::new("plain", "Mechlin ground").notes(
                    "Three half stitches part the pairs, so colours mix; every thread stays in its column.",
                ),
            )
    }

    fn define(settings: &Settings) -> Result<Repeat, Problem> {
        Grid::new((1, 1), (-1, 1))
            .dot("plait", (0, 0), settings.pick("plait", &PLAITS)?)
            .twists(settings.count("twists")?)
            .repeat()
    }
}

contribution!(Mechlin);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_variety_can_be_worked() {
        // It is worked without pins, so that is all there is to warn of.
        let warnings = pairwise_sdk::check::<Mechlin>();
        assert!(!warnings.is_empty());
        assert!(warnings.iter().all(|warning| warning.contains("no stitch has a pin")), "{warnings:#?}");
    }

    // Threads of one repeat that travel left, stay and travel right, to match the notes.
    #[test]
    fn colours_go_where_the_notes_say() {
        let expected = [("plain", [0, 4, 0])];
        assert_eq!(
            pairwise_sdk::travels::<Mechlin>(),
            expected.map(|(id, threads)| (id.to_owned(), threads))
        );
    }
}
