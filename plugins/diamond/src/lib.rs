//! Cloth stitch and half stitch diamonds in torchon ground: one worker weaves to
//! and fro, takes in a pair at every pin and, past the widest row, leaves one out.

use pairwise_sdk::{
    About, Contribution, Pillow, Problem, Repeat, Settings, TORCHON, Variety, contribution, in_torchon,
};

/// The stitches of a diamond.
#[derive(Clone, Copy)]
struct Cloth {
    weave: &'static str,
    /// Through the pair at the edge, round the pin, and back through it.
    right: &'static str,
    left: &'static str,
    /// First and last stitch, of the two pairs in the middle.
    end: &'static str,
    /// Twists of a pair that is left out (common practice, no source): a cloth stitch leaves it
    /// untwisted.
    left_out: i32,
}

/// The stitches to choose from: id, title, moves.
const CLOTHS: [(&str, &str, Cloth); 3] = [
    (
        "cloth",
        "cloth stitch",
        Cloth {
            weave: "CTC",
            right: "CTC twist-right pin CTC",
            left: "CTC twist-left pin CTC",
            end: "CTC pin CTC",
            left_out: 1,
        },
    ),
    (
        "half",
        "half stitch",
        Cloth {
            weave: "CT",
            right: "CT twist-right pin CT",
            left: "CT twist-left pin CT",
            end: "CT pin CT",
            left_out: 0,
        },
    ),
    (
        "cloth-twist",
        "cloth stitch and twist",
        Cloth {
            weave: "CTCT",
            right: "CTCT pin CTCT",
            left: "CTCT pin CTCT",
            end: "CTCT pin CTCT",
            left_out: 0,
        },
    ),
];

/// Diamonds in torchon ground.
pub struct Diamond;

impl Contribution for Diamond {
    fn about() -> About {
        let woven = |id, title| Variety::new(id, title).set("stitch", id);
        About::filling("diamond", "Diamond in torchon ground", "torchon")
            .family("cloth")
            .also_called("de", "Raute", "common practice")
            .also_called("fr", "losange", "common practice")
            .used_in(["Torchon"])
            // Torchon is pricked at 3 to 5 mm (common practice, no source).
            .pin_spacing(4.0)
            .notes(
                "A diamond, worked to and fro from the topmost pin. Twist the worker before it goes round a pin; \
                 in half stitch only one thread of the worker goes right across. At every pin of the upper half a pair comes in, at every pin of the lower half one is left out.",
            )
            .source("common practice, from memory")
            .choose("stitch", "Stitch of the diamond", &CLOTHS)
            .choose_count("size", "Pins along a side", 2..=7, 4)
            .choose_count("rows", "Rows of ground between the diamonds", 1..=4, 1)
            .choose("ground", "Stitch at the pins of the ground", &TORCHON)
            .variety(woven("cloth", "Cloth stitch diamond").notes("Firm, as woven linen is. The passives and the worker stay; the pairs that run between the diamonds travel."))
            .variety(woven("half", "Half stitch diamond").notes("A slanting lattice. Threads part at every stitch and wander: in the end every thread travels, some to the left and some to the right."))
            .variety(woven("cloth-twist", "Cloth stitch and twist diamond").notes("More open than cloth stitch, because every pair is twisted. The passives and the worker stay; the pairs that run between the diamonds travel."))
            .variety(Variety::new("large", "Large cloth stitch diamond").set("size", 6).notes("Six pins along a side. The passives and the worker stay; the pairs that run between the diamonds travel."))
    }

    fn define(settings: &Settings) -> Result<Repeat, Problem> {
        let (cloth, size) = (*settings.pick("stitch", &CLOTHS)?, settings.count("size")?);
        in_torchon(size, settings.count("rows")?, settings.pick("ground", &TORCHON)?, |pillow, middle| {
            diamond(pillow, middle, size, cloth)
        })
    }
}

/// A diamond round `middle`, one pair to every step across. The worker is pair
/// `-half` at the pins on the left and `half - 1` at those on the right.
fn diamond(pillow: Pillow, middle: (i32, i32), size: i32, cloth: Cloth) -> Pillow {
    let top = middle.1 - size + 1;
    let mut pillow = pillow.dot("top", (0, top), cloth.end);
    let mut before = 0;
    for row in 1..=2 * size - 3 {
        let half = row.min(2 * size - 2 - row);
        let y = f64::from(top + row);
        // Weaving presses the rows together, so they lie flatter than the line from pin to pin.
        for x in 1 - before..half {
            let gone = f64::from(x + before) / f64::from(half + before);
            let (id, at) = (format!("right-{row}-{}", x + before), (x, y - 0.65 + 0.3 * gone));
            pillow = pillow.stitch(&id, at, x - 1, cloth.weave);
        }
        pillow = pillow.stitch(&format!("pin-right-{row}"), (half, y), half - 1, cloth.right);
        for x in (1 - half..half).rev() {
            pillow = pillow.stitch(&format!("left-{row}-{}", half - x), (x, y), x - 1, cloth.weave);
        }
        pillow = pillow.stitch(&format!("pin-left-{row}"), (-half, y), -half - 1, cloth.left);
        if row >= size - 1 {
            pillow = pillow.twist(half, cloth.left_out).twist(-half - 1, cloth.left_out);
        }
        before = half;
    }
    pillow.dot("bottom", (0, top + 2 * size - 2), cloth.end).twist_all(-1..1, cloth.left_out)
}

contribution!(Diamond);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_variety_can_be_worked() {
        let warnings = pairwise_sdk::check::<Diamond>();
        assert!(warnings.is_empty(), "{warnings:#?}");
    }

    // Threads of one repeat that travel left, stay and travel right, to match the notes.
    #[test]
    fn colours_go_where_the_notes_say() {
        let expected =
            [("cloth", [2, 16, 2]), ("half", [8, 0, 12]), ("cloth-twist", [2, 16, 2]), ("large", [2, 24, 2])];
        assert_eq!(
            pairwise_sdk::travels::<Diamond>(),
            expected.map(|(id, threads)| (id.to_owned(), threads))
        );
    }
}
