//! An order of working: the sequence of stitches, and the pairs for each, when
//! several repeats are worked side by side from a straight line of hanging
//! pairs.

use crate::ground::Ground;
use crate::lattice::cell::UprightCell;
use crate::repeat::Side;

/// One stitch in the order of working.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Step {
    /// Position of the stitch in the repeat.
    pub stitch: usize,
    /// Which copy of it.
    pub cell: UprightCell,
    /// The left of its two pairs, by place among the pairs as they lie on the
    /// pillow at that moment, from 0 at the left; the right one is the next.
    pub left_pair: usize,
    /// Extra twists of the left and of the right pair just before the stitch.
    pub twists: [u32; 2],
}

impl Ground {
    /// An order in which `rows` rows of `repeats` repeats side by side can be
    /// worked: always the leftmost stitch that is ready, so that the work runs
    /// down to the left along diagonals. A stitch that would need a pair from
    /// outside is left out: there the edge is worked.
    ///
    /// Takes time and space in proportion to the stitches worked.
    pub fn order_of_working(&self, repeats: usize, rows: usize) -> Vec<Step> {
        let pairs = self.hanging().pairs().len();
        let width = repeats * pairs;
        let (one_row, drift) = (self.hanging().row_steps(), self.hanging().drift());
        // All stitches row by row: a valid order, though not a lacemaker's.
        let mut steps = Vec::with_capacity(one_row.len() * repeats * rows);
        for row in 0..rows as i64 {
            for step in one_row {
                let at = step.left_pair + row * drift;
                let first = -at.div_euclid(pairs as i64);
                for column in first..first + repeats as i64 {
                    let left = at + column * pairs as i64;
                    if left + 1 < width as i64 {
                        steps.push(Step {
                            stitch: step.stitch,
                            cell: UprightCell::new(column, row - self.hanging().row_of(step.stitch, 0)),
                            left_pair: left as usize,
                            twists: step.twists,
                        });
                    }
                }
            }
        }
        leftmost_first(&steps, width)
    }

    /// The stitches of a row of repeats, from 0, in an order in which they can be
    /// worked with the pairs of `repeats` repeats. An edge stitch takes the place of
    /// a stitch that needs a pair from outside.
    pub(crate) fn steps_to_the_edges(&self, repeats: usize, row: usize) -> Vec<EdgedStep> {
        let pairs = self.hanging().pairs().len() as i64;
        let last = repeats as i64 * pairs - 1;
        let (one_row, drift) = (self.hanging().row_steps(), self.hanging().drift());
        let mut steps = Vec::with_capacity(one_row.len() * repeats + 2);
        for step in one_row {
            let at = step.left_pair + row as i64 * drift;
            // The first copy with a pair inside the edge.
            let mut left = (at + 1).rem_euclid(pairs) - 1;
            while left <= last {
                let (edge, twists) = match left {
                    -1 => (Some(Side::Left), [0, step.twists[1]]),
                    left if left == last => (Some(Side::Right), [step.twists[0], 0]),
                    _ => (None, step.twists),
                };
                steps.push(EdgedStep { stitch: step.stitch, left_pair: left, edge, twists });
                left += pairs;
            }
        }
        steps
    }
}

/// A stitch between two footsides.
pub(crate) struct EdgedStep {
    /// The stitch of the ground that is worked, or would be.
    pub stitch: usize,
    /// The left of its two pairs, counted among those of the ground; -1 is the pair
    /// along the left footside.
    pub left_pair: i64,
    /// The footside at which it is worked.
    pub edge: Option<Side>,
    /// Extra twists of the left and of the right pair just before it.
    pub twists: [u32; 2],
}

impl EdgedStep {
    /// The first of its four threads as they lie. The pair along the left
    /// footside comes first.
    pub(crate) fn first_thread(&self) -> usize {
        2 * (self.left_pair + 1) as usize
    }
}

/// Sorts steps, given in any workable order, so that each is the leftmost one
/// that is ready.
fn leftmost_first(steps: &[Step], width: usize) -> Vec<Step> {
    // The steps that use each place, last first: a step is ready when it is the
    // next to use both its places.
    let mut queue: Vec<Vec<usize>> = vec![Vec::new(); width];
    for (number, step) in steps.iter().enumerate().rev() {
        queue[step.left_pair].push(number);
        queue[step.left_pair + 1].push(number);
    }
    let mut done = Vec::with_capacity(steps.len());
    // Nothing is ready to the left of this place.
    let mut left = 0;
    while done.len() < steps.len() {
        match (queue[left].last(), queue[left + 1].last()) {
            (Some(&next), Some(&other)) if next == other => {
                queue[left].pop();
                queue[left + 1].pop();
                done.push(steps[next]);
                // Only stitches that use one of the two places become ready.
                left = left.saturating_sub(1);
            }
            _ => left += 1,
        }
    }
    done
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::repeat::samples::{rose, torchon};

    // Common practice, no source: each diagonal runs down to the left.
    #[test]
    fn torchon_is_worked_in_diagonals() {
        let ground = Ground::new(torchon("CT pin CT", 0)).unwrap();
        let lefts = |repeats, rows| -> Vec<usize> {
            ground.order_of_working(repeats, rows).iter().map(|s| s.left_pair).collect()
        };
        assert_eq!(lefts(3, 2), [1, 0, 3, 2, 4]);
        assert_eq!(lefts(3, 4), [1, 0, 3, 2, 1, 0, 4, 3, 2, 4]);
    }

    #[test]
    fn no_stitch_is_lost_but_at_the_edges() {
        for repeat in [torchon("CT pin CT", 1), rose("CTCT", "CT pin CT")] {
            let ground = Ground::new(repeat).unwrap();
            let per_row = ground.stitches().len();
            let grow = |repeats: usize, rows: usize| ground.order_of_working(repeats, rows).len();
            assert_eq!(grow(4, 3) - grow(3, 3), 3 * per_row);
            assert_eq!(grow(2, 5) - grow(2, 4), grow(2, 1));
        }
    }
}
