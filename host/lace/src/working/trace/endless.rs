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
        let mut rows_followed = trace.rows.clone();
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
            rows_followed.push(now);
        }
        // What comes again together with the ground may come again earlier: in a ground
        // whose rows lie between each other, a pair that never leaves its place is back
        // after every row.
        for (k, back) in trace.returns.iter_mut().enumerate() {
            let places = rows_followed.iter().map(|row| row[k].rem_euclid(trace.places as i64));
            *back = back.map(|back| shortest_round(&places.take(back + 1).collect::<Vec<_>>()));
        }
        rows_followed.truncate(rows + 1);
        trace.rows = rows_followed;
        Ok(trace)
    }
}

/// After how many rows places come again as from the first; the last of them is the
/// first place again, and all come again from there.
fn shortest_round(places: &[i64]) -> usize {
    let whole = places.len() - 1;
    let comes_again = |rows: usize| places.iter().zip(&places[rows..]).all(|(one, later)| one == later);
    (1..whole).find(|&rows| whole.is_multiple_of(rows) && comes_again(rows)).unwrap_or(whole)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::repeat::Repeat;
    use crate::repeat::samples::{rose, torchon};

    fn returns(repeat: Repeat, pairs: usize) -> Vec<Option<usize>> {
        Ground::new(repeat).unwrap().trace(pairs, 8).unwrap().returns
    }

    // Common practice, no source: the stitches of both send every pair back.
    #[test]
    fn a_pair_that_never_leaves_its_place_is_back_after_every_row() {
        assert_eq!(returns(torchon("CTCT pin CTCT", 0), 6), [Some(1); 6]);
        assert_eq!(returns(rose("CTCTCTCT", "CTCT pin CTCT"), 8), [Some(1); 8]);
    }

    #[test]
    fn a_pair_that_passes_its_place_is_not_back() {
        let ground = Ground::new(rose("CTCT", "CT pin CT")).unwrap();
        let trace = ground.trace(8, 8).unwrap();
        let way: Vec<i64> = trace.rows.iter().map(|row| row[0].rem_euclid(8)).collect();
        assert_eq!(way, [0, 0, 4, 4, 0, 0, 4, 4, 0]);
        assert_eq!(trace.returns, [Some(4); 8]);
    }

    #[test]
    fn the_shortest_round_of_places_counts() {
        for (places, rows) in [
            (&[3, 3, 3][..], 1),
            (&[3, 3], 1),
            (&[0, 1, 0, 1, 0], 2),
            (&[0, 0, 4, 4, 0], 4),
            (&[0, 1, 0, 1, 0, 1, 0], 2),
            (&[0, 1, 2, 0, 1, 2, 0], 3),
            (&[0, 1, 0, 0], 3),
        ] {
            assert_eq!(shortest_round(places), rows, "{places:?}");
        }
    }
}
