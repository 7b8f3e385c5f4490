//! Zigzag trails in torchon ground. A worker weaves from edge to edge. At every pin
//! it takes in a pair on the side the trail moves to and leaves one out on the
//! other.

use pairwise_sdk::{About, Contribution, Pillow, Problem, Repeat, Settings, TORCHON, Variety, contribution};

/// The stitches of a trail.
#[derive(Clone, Copy)]
struct Cloth {
    weave: &'static str,
    /// Through the pair at the edge, round the pin, and back through it.
    right: &'static str,
    left: &'static str,
    /// Twists of a pair that is left out (common practice, no source).
    left_out: i32,
}

/// The stitches to choose from: id, title, moves.
const CLOTHS: [(&str, &str, Cloth); 2] = [
    (
        "cloth",
        "cloth stitch",
        Cloth { weave: "CTC", right: "CTC twist-right pin CTC", left: "CTC twist-left pin CTC", left_out: 1 },
    ),
    (
        "half",
        "half stitch",
        Cloth { weave: "CT", right: "CT twist-right pin CT", left: "CT twist-left pin CT", left_out: 0 },
    ),
];

/// Zigzag trails.
pub struct Trail;

impl Contribution for Trail {
    fn about() -> About {
        About::ground("trail", "Zigzag trail in torchon ground")
            .family("cloth")
            .used_in(["Torchon"])
            // Torchon is pricked at 3 to 5 mm (common practice, no source).
            .pin_spacing(4.0)
            .notes(
                "A band zigzags down the lace. On the side it moves towards, a pair comes in at every pin; on \
                 the other side one is left out. Twist the worker before it goes round a pin.",
            )
            .source("common practice, from memory")
            .choose("stitch", "Stitch of the trail", &CLOTHS)
            .choose_count("pairs", "Half of the passive pairs in the trail: 2 for four", 2..=4, 2)
            .choose_count("pins", "Pins from turn to turn", 2..=6, 4)
            .choose_count("strip", "Dots across the strip of ground", 1..=4, 2)
            .choose("ground", "Stitch at the pins of the ground", &TORCHON)
            .variety(Variety::new("cloth", "Cloth stitch trail").notes("Every pair stays. The worker goes to and fro with the trail; the passives hang straight down, taken in at one edge and left out at the other. Twist every pair that is left out."))
            .variety(Variety::new("half", "Half stitch trail").set("stitch", "half").notes("Threads part at every stitch and slip out of the trail into the ground: most travel, to either side; one in sixteen stays."))
    }

    fn define(settings: &Settings) -> Result<Repeat, Problem> {
        let cloth = *settings.pick("stitch", &CLOTHS)?;
        let ground = settings.pick("ground", &TORCHON)?;
        let (pairs, pins) = (2 * settings.count("pairs")?, settings.count("pins")?);
        let width = pairs + 2 * settings.count("strip")?;
        // Where the pin on the right of the trail stands in each row.
        let edge = |row: i32| (row % (2 * pins)).min(2 * pins - row % (2 * pins));

        let mut pillow = Pillow::new(width, width);
        let mut worker = edge(2 * pins - 1) - pairs;
        for row in 0..2 * pins {
            let (left, right, y) = (edge(row) - pairs, edge(row), f64::from(row));
            for x in (right + 2..left + width).step_by(2) {
                pillow = pillow.dot(&format!("dot-{row}-{x}"), (x, row), ground);
            }
            // Weaving presses the rows together, so they lie flatter than the line from pin to pin.
            for x in worker + 1..right {
                let gone = f64::from(x - worker) / f64::from(right - worker);
                let (id, at) = (format!("right-{row}-{}", right - x), (x, y - 0.65 + 0.3 * gone));
                pillow = pillow.stitch(&id, at, x - 1, cloth.weave);
            }
            pillow = pillow.stitch(&format!("pin-right-{row}"), (right, y), right - 1, cloth.right);
            let (outwards, next) = (edge(row), edge(row + 1));
            if next < outwards {
                pillow = pillow.twist(right, cloth.left_out);
            }
            for x in (left + 1..right).rev() {
                pillow = pillow.stitch(&format!("left-{row}-{}", right - x), (x, y), x - 1, cloth.weave);
            }
            pillow = pillow.stitch(&format!("pin-left-{row}"), (left, y), left - 1, cloth.left);
            if next > outwards {
                pillow = pillow.twist(left - 1, cloth.left_out);
            }
            worker = left;
        }
        pillow.repeat((0, 2 * pins), 0)
    }
}

contribution!(Trail);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_variety_can_be_worked() {
        let warnings = pairwise_sdk::check::<Trail>();
        assert!(warnings.is_empty(), "{warnings:#?}");
    }

    // Threads of one repeat that travel left, stay and travel right, to match the notes.
    #[test]
    fn colours_go_where_the_notes_say() {
        let expected = [("cloth", [0, 16, 0]), ("half", [6, 1, 9])];
        assert_eq!(pairwise_sdk::travels::<Trail>(), expected.map(|(id, threads)| (id.to_owned(), threads)));
    }
}
