//! Six-sided mesh with two plaited and four twisted sides: one plait at every
//! dot of a steep grid, twisted pairs between.

use pairwise_sdk::{About, Contribution, Grid, Problem, Repeat, Settings, Variety, contribution};

const DILLMONT: &str =
    "Th. de Dillmont, Encyclopedia of Needlework, 1886, Laces of different kinds, Brussels ground";
const PALLISER: &str = "sides of the mesh: Mrs. Bury Palliser, History of Lace, 1865, from memory; \
                        the pin is ours, lacemakers of old often set none";

/// The plaited sides: id, what the lacemaker reads, the moves.
const PLAITS: [(&str, &str, &str); 3] = [
    ("four", "four half stitches, the pin in the middle", "CTCT pin CTCT"),
    ("three", "three half stitches, the pin below", "CTCTCT pin"),
    ("six", "six half stitches, the pin in the middle", "CTCTCT pin CTCTCT"),
];

/// Brussels and Mechlin meshes.
pub struct Mesh;

impl Contribution for Mesh {
    fn about() -> About {
        About::ground("mesh", "Mesh with plaited sides")
            .family("mesh")
            .used_in(["Brussels", "Mechlin"])
            .angle(60.0)
            .notes("Six-sided meshes: two sides are plaited with four threads, four are a pair twisted twice.")
            .source(DILLMONT)
            .choose("plait", "The plaited sides", &PLAITS)
            .choose_count("twists", "Extra twists between the plaits", 0..=3, 1)
            .variety(
                Variety::new("brussels", "Brussels ground")
                    .also_called("en", "droschel", "common practice")
                    .also_called("fr", "drochel", "common practice")
                    .also_called("fr", "vrai réseau", "common practice")
                    .notes("Plaited four times. Every thread comes back to its own side: colours stay in their columns."),
            )
            .variety(
                Variety::new("mechlin", "Mechlin ground")
                    .set("plait", "three")
                    .also_called("fr", "réseau de Malines", "common practice")
                    .also_called("nl", "Mechelse grond", "common practice")
                    .source(PALLISER)
                    .notes("Plaited three times, so that threads part: colours mix, but every thread stays in its column."),
            )
    }

    fn define(settings: &Settings) -> Result<Repeat, Problem> {
        Grid::new((1, 1), (-1, 1))
            .dot("plait", (0, 0), settings.pick("plait", &PLAITS)?)
            .twists(settings.count("twists")?)
            .repeat()
    }
}

contribution!(Mesh);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_variety_can_be_worked() {
        let warnings = pairwise_sdk::check::<Mesh>();
        assert!(warnings.is_empty(), "{warnings:#?}");
    }

    // Threads of a repeat that travel left, stay, travel right: what the notes say.
    #[test]
    fn colours_go_where_the_notes_say() {
        let expected = [("brussels", [0, 4, 0]), ("mechlin", [0, 4, 0])];
        assert_eq!(pairwise_sdk::travels::<Mesh>(), expected.map(|(id, threads)| (id.to_owned(), threads)));
    }
}
