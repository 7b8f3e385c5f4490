//! Rows of roses alternate with rows of spiders. Each motif takes four pairs.

use pairwise_sdk::{About, Contribution, Pillow, Problem, Repeat, Settings, Variety, contribution};

/// Rows of roses and of spiders.
pub struct RoseRows;

impl Contribution for RoseRows {
    fn about() -> About {
        About::ground("rose-rows", "Rose ground with spiders, in rows")
            .family("rose")
            .used_in(["Torchon"])
            // Torchon is pricked at 3 to 5 mm (common practice, no source).
            .pin_spacing(4.0)
            .notes(
                "Roses stand in every second row; between them stand spiders with two legs a side. All pairs \
                 cross without a pin before and after a rose.",
            )
            .source("rose and spider: common practice, from memory; in rows together: our own arrangement")
            .choose_count("twists", "Twists on the legs of the spiders", 1..=3, 2)
            .variety(Variety::new("spider", "Roses and spiders").notes(
                "Round spiders between the roses. The spiders send their pairs back: every pair stays.",
            ))
    }

    fn define(settings: &Settings) -> Result<Repeat, Problem> {
        spider(rose(Pillow::new(4, 4)), settings.count("twists")?).repeat((0, 4), 0)
    }
}

/// The rose with the crossings before and after it: pairs 0 to 3 round (0, 1).
fn rose(pillow: Pillow) -> Pillow {
    pillow
        .stitch("crossing-1", (-1, 0), 0, "CTCT")
        .stitch("crossing-2", (1, 0), 2, "CTCT")
        .stitch("top", (0, 0), 1, "CT pin CT")
        .stitch("left", (-1, 1), 0, "CT pin CT")
        .stitch("right", (1, 1), 2, "CT pin CT")
        .stitch("bottom", (0, 2), 1, "CT pin CT")
        .stitch("crossing-3", (-1, 2), 0, "CTCT")
        .stitch("crossing-4", (1, 2), 2, "CTCT")
}

/// A spider round (2, 3), pairs 2 to 5: woven, pinned in the middle, woven back.
fn spider(pillow: Pillow, twists: i32) -> Pillow {
    pillow
        .twist_all(2..6, twists)
        .stitch("body-1", (2, 2.5), 3, "CTC")
        .stitch("body-2", (1.6, 2.75), 2, "CTC")
        .stitch("body-3", (2.4, 2.75), 4, "CTC")
        .stitch("middle", (2, 3), 3, "CTC pin CTC")
        .stitch("body-4", (1.6, 3.25), 2, "CTC")
        .stitch("body-5", (2.4, 3.25), 4, "CTC")
        .stitch("body-6", (2, 3.5), 3, "CTC")
        .twist_all(2..6, twists)
}

contribution!(RoseRows);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_variety_can_be_worked() {
        let warnings = pairwise_sdk::check::<RoseRows>();
        assert!(warnings.is_empty(), "{warnings:#?}");
    }

    // Threads of one repeat that travel left, stay and travel right, to match the notes.
    #[test]
    fn colours_go_where_the_notes_say() {
        let expected = [("spider", [0, 8, 0])];
        assert_eq!(
            pairwise_sdk::travels::<RoseRows>(),
            expected.map(|(id, threads)| (id.to_owned(), threads))
        );
    }
}
