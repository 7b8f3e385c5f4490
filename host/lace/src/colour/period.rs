//! After how much lace colours come again.

use crate::colour::arrangement::Arrangement;
use crate::ground::Ground;
use crate::limits::MAX_ROWS;
use crate::threads::affine_permutation::AffinePermutation;

/// After how much lace the colours come again.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ColourPeriod {
    /// Pairs until the colours come again to the right.
    pub pairs_across: usize,
    /// Grid steps until then.
    pub steps_across: f64,
    /// When the same colours lie straight below; `None` when that takes more
    /// than [`MAX_ROWS`] rows.
    pub down: Option<PeriodDown>,
}

/// After how much lace the same colours lie straight below.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PeriodDown {
    /// Rows of repeats until then.
    pub rows: usize,
    /// Grid steps until then.
    pub steps: f64,
}

impl Ground {
    /// The colour of the thread in each slot until ground and arrangement both
    /// begin again.
    pub(crate) fn slot_colours(&self, arrangement: &Arrangement) -> Vec<u8> {
        arrangement.extended(self.pairs_until_both_repeat(arrangement.pairs().len())).threads()
    }

    /// After how much lace the colours of an arrangement come again.
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
    fn colours_come_again_where_they_must() {
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
