//! Two fillings of four pairs in rows: roses change with something else.

use pairwise_sdk::{About, Contribution, Pillow, Problem, Repeat, Settings, Variety, contribution};

/// What stands between the rows of roses: id, what the lacemaker reads.
const OTHERS: [(&str, &str, Other); 2] = [
    ("torchon", "four dots of torchon ground", Other::Torchon),
    ("spider", "spiders, two legs a side", Other::Spider),
];

/// What may change with roses.
#[derive(Clone, Copy)]
enum Other {
    Torchon,
    Spider,
}

/// Rows of roses and of something else.
pub struct RoseRows;

impl Contribution for RoseRows {
    fn about() -> About {
        let with = |id, title| Variety::new(id, title).set("other", id);
        About::ground("rose-rows", "Rose ground in rows with another")
            .family("rose")
            .used_in(["Torchon"])
            .notes(
                "Roses stand in every second row; between them stands another motif that takes four pairs. All \
                 pairs cross without a pin before and after a rose.",
            )
            .source("both motifs: common practice, from memory; put together in rows by us")
            .choose("other", "In the rows between", &OTHERS)
            .choose_count("twists", "Twists on the legs of the spiders", 1..=3, 2)
            .variety(with("torchon", "Roses and torchon ground").notes("Every pair travels, half to the left and half to the right, through rose and ground."))
            .variety(with("spider", "Roses and spiders").notes("Round spiders between the roses. The spiders send their pairs back: every pair stays."))
    }

    fn define(settings: &Settings) -> Result<Repeat, Problem> {
        let pillow = rose(Pillow::new(4, 4));
        match settings.pick("other", &OTHERS)? {
            Other::Torchon => torchon(pillow),
            Other::Spider => spider(pillow, settings.count("twists")?),
        }
        .repeat((0, 4), 0)
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

/// Four dots round (2, 3), pairs 2 to 5.
fn torchon(pillow: Pillow) -> Pillow {
    let pin = "CT pin CT";
    pillow
        .stitch("dot-1", (2, 2), 3, pin)
        .stitch("dot-2", (1, 3), 2, pin)
        .stitch("dot-3", (3, 3), 4, pin)
        .stitch("dot-4", (2, 4), 3, pin)
}

/// A spider round (2, 3): woven, pinned in the middle, woven back.
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

    // Threads of a repeat that travel left, stay, travel right: what the notes say.
    #[test]
    fn colours_go_where_the_notes_say() {
        let expected = [("torchon", [4, 0, 4]), ("spider", [0, 8, 0])];
        assert_eq!(
            pairwise_sdk::travels::<RoseRows>(),
            expected.map(|(id, threads)| (id.to_owned(), threads))
        );
    }
}
