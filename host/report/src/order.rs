//! The order of working as the reports write it.

use lace::Ground;
use schemars::JsonSchema;
use serde::Serialize;

/// A closed order of working, from a line of pairs that hang side by side: no stitch
/// waits for a pair that has not arrived. Every stitch of the repeat comes in it,
/// `rows` times `rows` times in all; then, perhaps, stitches of the next repeats that
/// close this one. To the right, `rows` repeats on, the same is worked again.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Order {
    /// Upright repeats side by side over which the pairs hang. Their pairs are
    /// `pairs_across` times as many; the last of them may not be needed.
    pub repeats: usize,
    /// Rows of repeats.
    pub rows: usize,
    /// Pairs that hang at the start.
    pub pairs: usize,
    /// The stitches, each in its turn.
    pub steps: Vec<Step>,
}

/// One stitch in its turn.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Step {
    /// Name of the stitch in the repeat.
    pub stitch: String,
    /// Which copy of it: upright repeats across and rows of repeats down, counted from the copy
    /// in the repeat as it is defined. An upright repeat is `repeat_width_mm` wide; its
    /// neighbours lie level with it.
    pub cell: [i64; 2],
    /// The pairs it is worked with, left and right, counted from 1 at the left as they lie on the
    /// pillow at that moment. After the stitch the two places are taken again by its two pairs.
    pub pairs: [usize; 2],
    /// Extra twists of the left and of the right pair just before the stitch.
    pub twists: [u32; 2],
}

impl Order {
    /// The order of working of a ground.
    pub fn new(ground: &Ground) -> Order {
        let order = ground.order_of_working();
        let step = |step: &lace::Step| Step {
            stitch: ground.stitches()[step.stitch].id.clone(),
            cell: step.cell.into(),
            pairs: [step.left_pair + 1, step.left_pair + 2],
            twists: step.twists,
        };
        Order {
            repeats: order.pairs.div_ceil(ground.hanging().pairs().len()),
            rows: order.side,
            pairs: order.pairs,
            steps: order.steps.iter().map(step).collect(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    // Common practice, no source: each diagonal of torchon ground runs down to
    // the left.
    #[test]
    fn pairs_are_counted_from_one_at_the_left() {
        let ground = Ground::new(lace::samples::torchon("CT pin CT", 0)).unwrap();
        let order = Order::new(&ground);
        let pairs: Vec<[usize; 2]> = order.steps.iter().map(|s| s.pairs).collect();
        let diagonals = [[[3, 4], [2, 3], [1, 2]], [[4, 5], [3, 4], [2, 3]], [[5, 6], [4, 5], [3, 4]]];
        assert_eq!(pairs, diagonals.concat());
        assert_eq!((order.repeats, order.rows, order.pairs), (3, 3, 6));
        assert!(order.steps.iter().all(|s| s.stitch == ground.stitches()[0].id));
    }
}
