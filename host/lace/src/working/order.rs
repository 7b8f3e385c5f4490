//! An order of working: which stitch after which, and with which pairs, when a
//! number of repeats is worked side by side from a straight line of hanging
//! pairs; and the same as steps in words.

use serde::Serialize;

use crate::ground::Ground;
use crate::repeat::{End, Side};
use crate::words::stitch::times;

/// One stitch in its turn.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Step {
    /// Position of the stitch in the repeat.
    pub stitch: usize,
    /// Which copy of it: repeats across and rows down, in upright coordinates.
    pub cell: [i64; 2],
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
        let (one_row, drift) = self.row_of_steps();
        // All stitches row by row: an order, if not the one of a lacemaker.
        let mut steps = Vec::with_capacity(one_row.len() * repeats * rows);
        for row in 0..rows as i64 {
            for step in &one_row {
                let at = step.left_pair + row * drift;
                let first = -at.div_euclid(pairs as i64);
                for p in first..first + repeats as i64 {
                    let left = at + p * pairs as i64;
                    if left + 1 < width as i64 {
                        steps.push(Step {
                            stitch: step.stitch,
                            cell: [p, row - self.hanging().row_of(step.stitch, 0)],
                            left_pair: left as usize,
                            twists: step.twists,
                        });
                    }
                }
            }
        }
        leftmost_first(&steps, width)
    }

    /// The steps of [`Ground::order_of_working`] in words, one line each,
    /// without numbers. Pairs are counted from 1 at the left as they lie.
    pub fn steps_in_words(&self, repeats: usize, rows: usize) -> Vec<String> {
        let say = |step: &Step| {
            let (left, right) = (step.left_pair + 1, step.left_pair + 2);
            let twist = match step.twists.map(|n| n as usize) {
                [0, 0] => String::new(),
                [n, m] if n == m => format!("twist pairs {left} and {right} {}; ", times(n)),
                [n, 0] => format!("twist pair {left} {}; ", times(n)),
                [0, n] => format!("twist pair {right} {}; ", times(n)),
                [n, m] => format!("twist pair {left} {} and pair {right} {}; ", times(n), times(m)),
            };
            let words = self.stitches()[step.stitch].stitch.words();
            format!("{twist}{words} with pairs {left} and {right}")
        };
        self.order_of_working(repeats, rows).iter().map(say).collect()
    }

    /// By how many places the pairs of a stitch lie farther right than those of
    /// the same stitch a row of repeats higher.
    pub(crate) fn drift(&self) -> i64 {
        self.row_of_steps().1
    }

    /// The stitches of a row of repeats, from 0, in an order in which they can
    /// be worked, among the pairs of `repeats` repeats; where a stitch needs a
    /// pair from beyond, an edge stitch.
    pub(crate) fn steps_to_the_edges(&self, repeats: usize, row: usize) -> Vec<EdgedStep> {
        let pairs = self.hanging().pairs().len() as i64;
        let last = repeats as i64 * pairs - 1;
        let (one_row, drift) = self.row_of_steps();
        let mut steps = Vec::with_capacity(one_row.len() * repeats + 2);
        for step in &one_row {
            let at = step.left_pair + row as i64 * drift;
            // The first with a pair inside the edge.
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

    /// The stitches of one row of repeats in an order in which they can be
    /// worked, with places of pairs counted without end to both sides; and by
    /// how many places the same stitches of the next row lie farther right.
    fn row_of_steps(&self) -> (Vec<RowStep>, i64) {
        let hanging = self.hanging();
        let pairs = hanging.pairs().len() as i64;
        let cell = |leg: usize| self.upright().from_cell(self.legs()[leg].cell.map(i64::from));
        // Place of the pair on each leg that crosses the moving front, by the
        // leg and the row of its departure, for departures in column 0.
        let mut place = indexmap::IndexMap::new();
        for (k, pair) in hanging.pairs().iter().enumerate() {
            place.insert((pair.leg, pair.cell[1]), k as i64 - pair.cell[0] * pairs);
        }
        let mut steps = Vec::with_capacity(self.stitches().len());
        for &stitch in hanging.row_order() {
            let row = -hanging.row_of(stitch, 0);
            let entries = Side::BOTH.map(|side| self.leg_to(End::new(stitch, side)));
            let [left, right] = entries.map(|leg| {
                let [p, q] = cell(leg);
                place[&(leg, row - q)] - p * pairs
            });
            debug_assert_eq!(left + 1, right, "the pairs of a stitch lie side by side");
            for (side, at) in Side::BOTH.into_iter().zip([left, right]) {
                place.insert((self.leg_from(End::new(stitch, side)), row), at);
            }
            steps.push(RowStep {
                stitch,
                left_pair: left,
                twists: entries.map(|leg| self.legs()[leg].twists),
            });
        }
        // Pairs that only touch keep their places, so all drift alike.
        let first = hanging.pairs()[0];
        let drift = place[&(first.leg, first.cell[1] + 1)] + first.cell[0] * pairs;
        (steps, drift)
    }
}

/// A stitch of the repeat in upright column 0, with the place of its left pair.
struct RowStep {
    stitch: usize,
    left_pair: i64,
    twists: [u32; 2],
}

/// A stitch between two footsides.
pub(crate) struct EdgedStep {
    /// The stitch of the ground that is worked, or would be.
    pub stitch: usize,
    /// The left of its two pairs among those of the ground; -1 is the pair
    /// along the left footside.
    pub left_pair: i64,
    /// The footside at which it is worked.
    pub edge: Option<Side>,
    /// Extra twists of the left and of the right pair just before.
    pub twists: [u32; 2],
}

/// Puts steps, given in an order in which they can be worked, so that each is
/// the leftmost that is ready.
fn leftmost_first(steps: &[Step], width: usize) -> Vec<Step> {
    // The steps that use each place, the last to be worked first: a step is
    // ready when it is the next to use both its places.
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
    fn the_rose_is_told_step_by_step() {
        let ground = Ground::new(rose("CTCT", "CT pin CT")).unwrap();
        assert_eq!(
            ground.steps_in_words(1, 1),
            [
                // The bottom pin of the unit before lies level with the crossings.
                "half stitch, pin, half stitch with pairs 2 and 3",
                "cloth stitch and twist with pairs 1 and 2",
                "half stitch, pin, half stitch with pairs 1 and 2",
                "cloth stitch and twist with pairs 3 and 4",
                "half stitch, pin, half stitch with pairs 3 and 4",
            ]
        );
        let top = ground.stitches().iter().position(|s| s.id == "top").unwrap();
        let worked = ground.order_of_working(2, 1).iter().any(|s| s.stitch == top && s.left_pair == 3);
        assert!(worked, "the top pin joins two repeats");
    }

    #[test]
    fn extra_twists_come_before_the_stitch() {
        let mut repeat = torchon("CT pin", 0);
        repeat.legs[0].twists = 2;
        let ground = Ground::new(repeat).unwrap();
        let words = ground.steps_in_words(2, 2);
        assert_eq!(words[0], "twist pair 3 twice; half stitch, pin with pairs 2 and 3");
        assert_eq!(words[1], "twist pair 2 twice; half stitch, pin with pairs 1 and 2");
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
