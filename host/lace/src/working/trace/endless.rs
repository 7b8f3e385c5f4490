//! Traces on an endless width.

use crate::ground::Ground;
use crate::limits::MAX_ROWS;
use crate::working::trace::{Trace, TraceError, check_size};

impl Ground {
    /// Follows `pairs` pairs (rounded up to whole repeats), repeated across an
    /// endless width, over `rows` rows of repeats.
    ///
    /// # Errors
    /// [`TraceError`] beyond the limits it names.
    pub fn trace(&self, pairs: usize, rows: usize) -> Result<Trace, TraceError> {
        let pairs = self.pairs_until_both_repeat(pairs);
        check_size(pairs, self.hanging().pairs().len(), rows)?;
        let mut trace = Trace::begin(!self.keeps_pairs(), pairs, false);
        let slots_per_place = 2 / trace.per_pair() as i64;
        let (own, drift) = (self.hanging().pairs().len() as i64, self.hanging().drift());
        // The slot of the first thread of each, row by row.
        let mut slots: Vec<i64> = (0..trace.places as i64).map(|k| k * slots_per_place).collect();
        for row in 1..=MAX_ROWS {
            slots = slots.into_iter().map(|s| self.hanging().row().apply(s)).collect();
            // The fronts are shifted against each other: undo the shift.
            let shift = row as i64 * drift;
            let now: Vec<i64> = slots.iter().map(|s| (s + 2 * shift).div_euclid(slots_per_place)).collect();
            let same_ground = shift.rem_euclid(own) == 0;
            for (k, &at) in now.iter().enumerate() {
                let home = same_ground && (at - k as i64).rem_euclid(trace.places as i64) == 0;
                if home && trace.returns[k].is_none() {
                    trace.returns[k] = Some(row);
                }
            }
            if row <= rows {
                trace.rows.push(now);
            }
        }
        Ok(trace)
    }
}
