//! The order of working as the reports write it.

use lace::Ground;
use schemars::JsonSchema;
use serde::Serialize;

/// An order in which some repeats side by side can be worked from a straight
/// line of hanging pairs. A stitch that would need a pair from beyond them is
/// left out: there the edge is worked.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Order {
    /// Upright repeats side by side. Their pairs are `pairs_across` times as many.
    pub repeats: usize,
    /// Rows of repeats.
    pub rows: usize,
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
    /// The order in which `rows` rows of `repeats` repeats are worked.
    pub fn new(ground: &Ground, repeats: usize, rows: usize) -> Order {
        let step = |step: &lace::Step| Step {
            stitch: ground.stitches()[step.stitch].id.clone(),
            cell: step.cell.into(),
            pairs: [step.left_pair + 1, step.left_pair + 2],
            twists: step.twists,
        };
        Order { repeats, rows, steps: ground.order_of_working(repeats, rows).iter().map(step).collect() }
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
        let order = Order::new(&ground, 3, 2);
        let pairs: Vec<[usize; 2]> = order.steps.iter().map(|s| s.pairs).collect();
        assert_eq!(pairs, [[2, 3], [1, 2], [4, 5], [3, 4], [5, 6]]);
        assert!(order.steps.iter().all(|s| s.stitch == ground.stitches()[0].id));
    }
}
