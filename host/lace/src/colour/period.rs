//! The width and height after which colours repeat.

use crate::colour::arrangement::Arrangement;
use crate::ground::Ground;
use crate::limits::MAX_ROWS;
use crate::threads::affine_permutation::AffinePermutation;

/// The width and height after which the colours repeat.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ColourPeriod {
    /// Pairs until the colours repeat to the right.
    pub pairs_across: usize,
    /// The same in grid steps.
    pub steps_across: f64,
    /// The distance at which the same colours lie straight below; `None` when that
    /// takes more than [`MAX_ROWS`] rows.
    pub down: Option<PeriodDown>,
}

/// The distance down at which the same colours lie straight below.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PeriodDown {
    /// The distance in rows of repeats.
    pub rows: usize,
    /// The same in grid steps.
    pub steps: f64,
}

impl Ground {
    /// The colour of the thread in each slot, over the width at which the ground
    /// and the arrangement both repeat.
    pub(crate) fn slot_colours(&self, arrangement: &Arrangement) -> Vec<u8> {
        arrangement.extended(self.pairs_until_both_repeat(arrangement.pairs().len())).threads()
    }

    /// The width and height after which the colours of an arrangement repeat.
    pub fn colour_period(&self, arrangement: &Arrangement) -> ColourPeriod {
        let colours = self.slot_colours(arrangement);
        let own = self.hanging().pairs().len();
        let repeats = colours.len() / 2 / own;
        let turned =
            |by: usize| (0..colours.len()).all(|s| colours[s] == colours[(s + 2 * own * by) % colours.len()]);
        let across = (1..=repeats).find(|&p| repeats.is_multiple_of(p) && turned(p)).unwrap_or(repeats);
        ColourPeriod {
            pairs_across: across * own,
            steps_across: across as f64 * self.upright().width(),
            down: self.period_down(&colours),
        }
    }

    fn period_down(&self, colours: &[u8]) -> Option<PeriodDown> {
        let own = 2 * self.hanging().pairs().len();
        let mut below = AffinePermutation::identity(own);
        (1..=MAX_ROWS).find_map(|rows| {
            below = self.hanging().row_inverse().then(&below);
            let shift = self.upright().columns_back(rows as i64)? * own as i64;
            let same = colours.iter().zip(0i64..).all(|(&colour, slot)| {
                let origin = below.apply(slot - shift).rem_euclid(colours.len() as i64);
                colours[origin as usize] == colour
            });
            same.then(|| PeriodDown { rows, steps: rows as f64 * self.upright().row_height() })
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::repeat::samples::torchon;

    #[test]
    fn colours_repeat_after_the_known_distances() {
        let ground = Ground::new(torchon("CT pin CT", 0)).unwrap();
        let period = |colours: &str| ground.colour_period(&colours.parse().unwrap());
        // One dot across for every dot down: 4 pairs lie over 4 steps.
        let four = period("A A A B");
        assert_eq!((four.pairs_across, four.steps_across), (4, 4.0));
        assert_eq!(four.down.unwrap().steps, 4.0);
        assert_eq!(period("A").pairs_across, 2);
        let double = Ground::new(torchon("CTCT pin CTCT", 0)).unwrap();
        let period = double.colour_period(&"A A B B".parse().unwrap());
        assert_eq!(period.down.unwrap().steps, 2.0);
    }
}
