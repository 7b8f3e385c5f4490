//! Cane ground: pairs run slantwise by twos, like the cane of a chair seat. Where
//! two meet two there is a pin in the middle of four crossings.

use pairwise_sdk::{About, Contribution, Pillow, Problem, Repeat, Settings, Variety, contribution};

/// What may be worked at every crossing: id, what the lacemaker reads, the moves.
const CROSSINGS: [(&str, &str, &str); 2] =
    [("cloth-twist", "cloth stitch and twist", "CTCT"), ("cloth", "cloth stitch", "CTC")];

/// Cane ground.
pub struct Cane;

impl Contribution for Cane {
    fn about() -> About {
        About::ground("cane", "Cane ground")
            .family("torchon")
            .used_in(["Torchon"])
            .notes(
                "Four pairs and one pin. The middle two cross, then those on the left and on the right; the pin \
                 is set and the middle two close it. Large square holes, small ones round the pins.",
            )
            .source("common practice: four pairs, one pin, every crossing cloth stitch and twist; the order from memory")
            .choose("crossing", "Every crossing", &CROSSINGS)
            .choose_count("twists", "Extra twists between the crossings of four and four", 0..=3, 1)
            .variety(
                Variety::new("plain", "Cane ground")
                    .notes("Every pair travels, half to the left and half to the right, beside another that does the same."),
            )
    }

    fn define(settings: &Settings) -> Result<Repeat, Problem> {
        let crossing = settings.pick("crossing", &CROSSINGS)?;
        Pillow::new(4, 4)
            .stitch("top", (0, -0.6), 1, crossing)
            .stitch("left", (-0.6, 0), 0, crossing)
            .stitch("right", (0.6, 0), 2, crossing)
            .stitch("bottom", (0, 0.6), 1, format!("pin {crossing}"))
            .twist_all(0..4, settings.count("twists")?)
            .repeat((2, 2), 2)
    }
}

contribution!(Cane);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_variety_can_be_worked() {
        let warnings = pairwise_sdk::check::<Cane>();
        assert!(warnings.is_empty(), "{warnings:#?}");
    }

    // Threads of a repeat that travel left, stay, travel right: what the notes say.
    #[test]
    fn colours_go_where_the_notes_say() {
        let expected = [("plain", [4, 0, 4])];
        assert_eq!(pairwise_sdk::travels::<Cane>(), expected.map(|(id, threads)| (id.to_owned(), threads)));
    }
}
