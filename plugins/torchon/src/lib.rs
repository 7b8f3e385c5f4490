//! Torchon ground: one stitch at every dot of the grid. What is worked at the
//! pin decides everything, so it is a choice.

use pairwise_sdk::{About, Contribution, Grid, Problem, Repeat, Settings, Variety, contribution};

const PLAIN_1886: &str =
    "Th. de Dillmont, Encyclopedia of Needlework, 1886, Laces of different kinds, figures 787 and 788";
const TWISTED_1886: &str = "Th. de Dillmont, Encyclopedia of Needlework, 1886, Laces of different kinds, hole ground with twisted thread";
const BRUSSELS_1886: &str =
    "Th. de Dillmont, Encyclopedia of Needlework, 1886, Laces of different kinds, figure 797";
const EDKINS: &str = "J. Edkins, online lace tutorial, Torchon ground";
const EDKINS_DOUBLE: &str = "J. Edkins, online lace tutorial, double Torchon ground";
const FROM_MEMORY: &str = "common practice, from memory";

/// Stitches at a pin: id, title, moves.
const STITCHES: [(&str, &str, &str); 7] = [
    ("half-half", "half stitch, pin, half stitch", "CT pin CT"),
    ("half-half-twist", "half stitch, pin, half stitch and a twist", "CT pin CTT"),
    ("half", "half stitch, pin, left open", "CT pin"),
    ("half-cloth", "half stitch, pin, cloth stitch", "CT pin CTC"),
    ("cloth-twist", "cloth stitch and twist, pin, left open", "CTCT pin"),
    ("double", "cloth stitch and twist, pin, cloth stitch and twist", "CTCT pin CTCT"),
    ("double-twist", "cloth stitch and twist, pin, cloth stitch and two twists", "CTCT pin CTCTT"),
];

/// Torchon ground with its varieties.
pub struct Torchon;

impl Contribution for Torchon {
    fn about() -> About {
        About::ground("torchon", "Torchon ground")
            .family("torchon")
            .also_called("de", "Torchongrund", "common practice")
            .also_called("fr", "fond torchon", "common practice")
            .used_in(["Torchon"])
            // Torchon is pricked at 3 to 5 mm (common practice, no source).
            .pin_spacing(4.0)
            .notes("A stitch and a pin at every dot. Work one diagonal after the other.")
            .source("common practice, from memory")
            .choose("stitch", "Stitch at every pin", &STITCHES)
            .choose_count("twists", "Extra twists between the pins", 0..=3, 0)
            .variety(
                Variety::new("plain", "Torchon ground")
                    .notes("Every pair travels along its diagonal: colours run slantwise across the lace.")
                    .also_called("en", "plain hole ground", PLAIN_1886)
                    .also_called("nl", "grond in netslag", EDKINS)
                    .source(PLAIN_1886),
            )
            .variety(
                Variety::new("twisted", "Torchon ground with a twist")
                    .set("stitch", "half-half-twist")
                    .notes("Firmer and rounder holes; every pair still travels along its diagonal.")
                    .also_called("en", "twisted hole ground", TWISTED_1886)
                    .also_called("en", "Dieppe ground", FROM_MEMORY)
                    .also_called("fr", "fond de Dieppe", FROM_MEMORY)
                    .source(TWISTED_1886),
            )
            .variety(
                Variety::new("double", "Double torchon ground")
                    .set("stitch", "double")
                    .notes("Dense. Both pairs turn back at every pin: colours stay in their columns.")
                    .also_called("nl", "grond in dubbele netslag", EDKINS_DOUBLE)
                    .source(EDKINS_DOUBLE),
            )
            .variety(
                Variety::new("double-twisted", "Double torchon ground with a twist")
                    .set("stitch", "double-twist")
                    .notes(
                        "As the double ground, with twisted pairs between the pins: the stitch of Brussels ground \
                         on a torchon grid. Colours stay in their columns.",
                    )
                    .also_called("en", "Brussels ground", BRUSSELS_1886)
                    .source(BRUSSELS_1886),
            )
            .variety(
                Variety::new("half-stitch", "Half stitch ground")
                    .set("stitch", "half")
                    .notes("Thin and loose. One thread of every pair travels slantwise, the other zigzags and stays: two colours mix.")
                    .source("J. Edkins, online lace tutorial, half stitch ground"),
            )
            .variety(
                Variety::new("open-cloth", "Torchon ground, open pins")
                    .set("stitch", "cloth-twist")
                    .notes("Cloth stitch and twist, then the pin; no stitch closes it. No hole in the middle of the stitch. Every pair travels.")
                    .source(EDKINS),
            )
    }

    fn define(settings: &Settings) -> Result<Repeat, Problem> {
        Grid::new((1, 1), (-1, 1))
            .dot("pin", (0, 0), settings.pick("stitch", &STITCHES)?)
            .twists(settings.count("twists")?)
            .repeat()
    }
}

contribution!(Torchon);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_variety_can_be_worked() {
        let warnings = pairwise_sdk::check::<Torchon>();
        assert!(warnings.is_empty(), "{warnings:#?}");
    }

    // Threads of one repeat that travel left, stay and travel right, to match the notes.
    #[test]
    fn colours_go_where_the_notes_say() {
        let expected = [
            ("plain", [2, 0, 2]),
            ("twisted", [2, 0, 2]),
            ("double", [0, 4, 0]),
            ("double-twisted", [0, 4, 0]),
            ("half-stitch", [1, 2, 1]),
            ("open-cloth", [2, 0, 2]),
        ];
        assert_eq!(
            pairwise_sdk::travels::<Torchon>(),
            expected.map(|(id, threads)| (id.to_owned(), threads))
        );
    }
}
