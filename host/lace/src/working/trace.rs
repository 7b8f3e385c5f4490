//! Tracing: where every hanging pair is after each row of repeats, on an
//! endless width and between two footsides.
//!
//! Places are counted from 0 along the pairs as they lie on the pillow (along
//! the threads, where a stitch parts the two threads of a pair).

use serde::Serialize;
use thiserror::Error;

use crate::colour::pattern::MOST_ROWS;
use crate::ground::Ground;
use crate::repeat::Side;
use crate::stitch::{PairEffect, Stitch};

/// Where pairs, or threads, are row by row.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Trace {
    /// Whether single threads are followed, because a stitch parts the threads
    /// of a pair.
    pub by_threads: bool,
    /// Places across: pairs or threads that are followed.
    pub places: usize,
    /// Whether it is worked between two footsides; else the width is endless
    /// and place `places` is place 0 of the next time the order hangs.
    pub footsides: bool,
    /// For every row from 0, the place of each pair (thread) by the place in
    /// which it began. On an endless width places go on beyond both sides.
    pub rows: Vec<Vec<i64>>,
    /// Rows after which each is back where it began, as far as
    /// [`MOST_ROWS`](crate::colour::pattern::MOST_ROWS) rows; on an endless width also
    /// in a place that looks the same, counted round the width.
    pub returns: Vec<Option<usize>>,
    /// The edge stitches in which each takes part.
    pub visits: Vec<Vec<EdgeVisit>>,
}

/// A pair at a footside.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct EdgeVisit {
    /// Row of repeats, from 1, in which the edge stitch is worked.
    pub row: usize,
    /// At which footside.
    pub side: Side,
    /// Which edge stitch of that side it is, from 1.
    pub number: usize,
}

/// The stitches at the footsides: each is worked by the pair that comes to the
/// edge and the pair that runs along it.
#[derive(Clone, Debug, PartialEq)]
pub struct EdgeStitches {
    /// What is worked.
    pub stitch: Stitch,
    /// Other works for single stitches: side, number from 1, work.
    pub changes: Vec<(Side, usize, Stitch)>,
}

impl EdgeStitches {
    fn at(&self, side: Side, number: usize) -> &Stitch {
        let changed = self.changes.iter().find(|(s, n, _)| (*s, *n) == (side, number));
        changed.map_or(&self.stitch, |(_, _, work)| work)
    }
}

/// Why a ground cannot be traced so.
#[derive(Clone, Copy, Debug, Error, PartialEq, Eq)]
pub enum TraceError {
    /// More rows than [`MOST_ROWS`](crate::colour::pattern::MOST_ROWS).
    #[error("{0} rows are too many to trace: give at most {MOST_ROWS}")]
    TooManyRows(usize),
    /// More pairs than [`crate::colour::arrangement::MAX_PAIRS`].
    #[error("{0} pairs are too many to trace: give at most {max}", max = crate::colour::arrangement::MAX_PAIRS)]
    TooManyPairs(usize),
}

impl Ground {
    /// Follows `pairs` pairs (rounded up to whole repeats) over `rows` rows of
    /// repeats of an endless width, on which they hang again and again.
    ///
    /// # Errors
    /// [`TraceError`] beyond the limits it names.
    pub fn trace(&self, pairs: usize, rows: usize) -> Result<Trace, TraceError> {
        let pairs = self.pairs_until_both_repeat(pairs);
        limits(pairs, rows)?;
        let by_threads = !self.keeps_pairs();
        let per_pair = if by_threads { 2 } else { 1 };
        let places = per_pair * pairs;
        let (own, drift) = (self.hanging().pairs().len() as i64, self.drift());
        let row = self.hanging().row();
        // The slot of the first thread of each, row by row, with the fronts
        // moved back over each other.
        let mut slots: Vec<i64> = (0..places as i64).map(|k| 2 * k / per_pair as i64).collect();
        let place = |slot: i64, rows: i64| (slot + 2 * rows * drift).div_euclid(2 / per_pair as i64);
        let mut trace = Trace {
            by_threads,
            places,
            footsides: false,
            rows: vec![slots.iter().map(|&s| place(s, 0)).collect()],
            returns: vec![None; places],
            visits: vec![Vec::new(); places],
        };
        for r in 1..=MOST_ROWS as i64 {
            slots = slots.into_iter().map(|s| row.apply(s)).collect();
            let now: Vec<i64> = slots.iter().map(|&s| place(s, r)).collect();
            for (k, &at) in now.iter().enumerate() {
                let home = (at - k as i64).rem_euclid(places as i64) == 0 && (r * drift).rem_euclid(own) == 0;
                if home && trace.returns[k].is_none() {
                    trace.returns[k] = Some(r as usize);
                }
            }
            if r as usize <= rows {
                trace.rows.push(now);
            }
        }
        Ok(trace)
    }

    /// Follows all pairs of `repeats` repeats between two footsides over `rows`
    /// rows of repeats. Outside the pairs of the ground one more hangs at
    /// either side, which runs along the footside; where the ground would need
    /// a pair from beyond, an edge stitch is worked with it.
    ///
    /// # Errors
    /// [`TraceError`] beyond the limits it names.
    pub fn trace_between_footsides(
        &self,
        repeats: usize,
        rows: usize,
        edges: &EdgeStitches,
    ) -> Result<Trace, TraceError> {
        let pairs = repeats.saturating_mul(self.hanging().pairs().len()).saturating_add(2);
        limits(pairs, rows)?;
        let keeps = |work: &Stitch| work.pair_effect() != PairEffect::Split;
        let by_threads = !(self.keeps_pairs()
            && keeps(&edges.stitch)
            && edges.changes.iter().all(|(_, _, work)| keeps(work)));
        // The threads as they lie, by the place in which each began.
        let mut lie: Vec<usize> = (0..2 * pairs).collect();
        let per_pair = if by_threads { 2 } else { 1 };
        let places = per_pair * pairs;
        let where_now = |lie: &[usize]| {
            let mut now = vec![0i64; places];
            for (at, &thread) in lie.iter().enumerate() {
                now[thread * per_pair / 2] = (at * per_pair / 2) as i64;
            }
            now
        };
        let mut trace = Trace {
            by_threads,
            places,
            footsides: true,
            rows: vec![where_now(&lie)],
            returns: vec![None; places],
            visits: vec![Vec::new(); places],
        };
        let mut numbers = [0; 2];
        for row in 1..=rows {
            for step in self.steps_to_the_edges(repeats, row - 1) {
                // The footside pair at the left has place 0.
                let left = (step.left_pair + 1) as usize;
                let threads = &mut lie[2 * left..2 * left + 4];
                let work = match (step.stitch, step.edge) {
                    (_, Some(side)) => {
                        let number = &mut numbers[side.index()];
                        *number += 1;
                        let visit = EdgeVisit { row, side, number: *number };
                        for &thread in threads.iter() {
                            let visits = &mut trace.visits[thread * per_pair / 2];
                            if visits.last() != Some(&visit) {
                                visits.push(visit);
                            }
                        }
                        edges.at(side, *number)
                    }
                    (stitch, None) => &self.stitches()[stitch].stitch,
                };
                for (side, twists) in step.twists.into_iter().enumerate() {
                    if twists % 2 == 1 {
                        threads.swap(2 * side, 2 * side + 1);
                    }
                }
                let before = [threads[0], threads[1], threads[2], threads[3]];
                for (at, from) in work.end_order().into_iter().enumerate() {
                    threads[at] = before[from];
                }
            }
            let now = where_now(&lie);
            for (k, &at) in now.iter().enumerate() {
                if at == k as i64 && trace.returns[k].is_none() {
                    trace.returns[k] = Some(row);
                }
            }
            trace.rows.push(now);
        }
        Ok(trace)
    }
}

fn limits(pairs: usize, rows: usize) -> Result<(), TraceError> {
    if rows > MOST_ROWS {
        return Err(TraceError::TooManyRows(rows));
    }
    if pairs > crate::colour::arrangement::MAX_PAIRS {
        return Err(TraceError::TooManyPairs(pairs));
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::repeat::Repeat;
    use crate::repeat::samples::{rose, torchon};

    fn ground(repeat: Repeat) -> Ground {
        Ground::new(repeat).unwrap()
    }

    fn plain_edges(work: &str) -> EdgeStitches {
        EdgeStitches { stitch: work.parse().unwrap(), changes: Vec::new() }
    }

    // Common practice, no source.
    #[test]
    fn half_stitch_pin_half_stitch_sends_pairs_along_the_diagonals() {
        let trace = ground(torchon("CT pin CT", 0)).trace(8, 8).unwrap();
        assert!(!trace.by_threads && trace.places == 8);
        for pair in 0..8 {
            let way: Vec<i64> = trace.rows.iter().map(|row| row[pair] - pair as i64).collect();
            let right: Vec<i64> = (0..=8).collect();
            let left: Vec<i64> = (0..=8).map(|r| -r).collect();
            assert!(way == right || way == left, "{way:?}");
            assert_eq!(trace.returns[pair], Some(8), "round the width of eight pairs");
        }
    }

    // Common practice, no source.
    #[test]
    fn cloth_stitch_and_twist_on_either_side_keeps_pairs_where_they_are() {
        let trace = ground(torchon("CTCT pin CTCT", 0)).trace(6, 10).unwrap();
        assert!(trace.rows.iter().all(|row| *row == [0, 1, 2, 3, 4, 5]));
        let strip = ground(torchon("CTCT pin CTCT", 0))
            .trace_between_footsides(3, 10, &plain_edges("CTCT pin CTCT"))
            .unwrap();
        assert!(strip.rows.iter().all(|row| *row == [0, 1, 2, 3, 4, 5, 6, 7]));
        assert!(strip.visits[0].len() >= 4 && strip.visits[3].is_empty());
    }

    // Common practice, no source: at the footside the pair turns back when the
    // edge stitch keeps the pairs; when it lets them cross the pair stays along
    // the edge and the one that ran there turns inward.
    #[test]
    fn one_changed_edge_stitch_exchanges_two_colours() {
        let ground = ground(torchon("CT pin CT", 0));
        let keep = ground.trace_between_footsides(3, 12, &plain_edges("CTCT pin CTCT")).unwrap();
        // The pairs at the footsides stay there for ever.
        assert!(keep.rows.iter().all(|row| row[0] == 0 && row[7] == 7));
        // Every other pair goes to one edge, turns back and goes to the other.
        for pair in 1..7 {
            let sides: Vec<Side> = keep.visits[pair].iter().map(|v| v.side).collect();
            assert!(sides.windows(2).all(|w| w[0] != w[1]) && sides.len() >= 2, "{pair}: {sides:?}");
        }
        let change = (Side::Left, 2, "CT pin CT".parse().unwrap());
        let edges = EdgeStitches { changes: vec![change], ..plain_edges("CTCT pin CTCT") };
        let changed = ground.trace_between_footsides(3, 12, &edges).unwrap();
        let comes =
            (1..7).find(|&p| keep.visits[p].iter().any(|v| v.side == Side::Left && v.number == 2)).unwrap();
        let row = keep.visits[comes].iter().find(|v| v.side == Side::Left && v.number == 2).unwrap().row;
        assert_eq!(keep.rows[..row], changed.rows[..row], "nothing else changes before");
        // From there on the two have exchanged their ways.
        for r in row..=12 {
            assert_eq!(changed.rows[r][comes], 0, "it runs along the edge");
            assert_eq!(changed.rows[r][0], keep.rows[r][comes], "the other turns inward in its place");
        }
        for pair in (1..8).filter(|&p| p != comes) {
            assert!(keep.rows.iter().zip(&changed.rows).all(|(a, b)| a[pair] == b[pair]));
        }
    }

    #[test]
    fn far_from_the_edges_both_traces_agree() {
        for repeat in [
            torchon("CT pin CT", 1),
            rose("CTCT", "CT pin CT"),
            rose("CTC", "CT pin CT"),
            rose("CT", "CT pin CT"),
        ] {
            let ground = ground(repeat);
            let own = ground.hanging().pairs().len();
            let repeats = 9;
            let endless = ground.trace(own * repeats, 2).unwrap();
            let strip = ground.trace_between_footsides(repeats, 2, &plain_edges("CTCT")).unwrap();
            let per_pair = if endless.by_threads { 2 } else { 1 };
            let middle = own * per_pair * 3..own * per_pair * 6;
            for k in middle {
                for r in 0..=2 {
                    let off = per_pair as i64;
                    assert_eq!(endless.rows[r][k] + off, strip.rows[r][k + per_pair], "{k} in row {r}");
                }
            }
        }
    }

    #[test]
    fn too_much_is_refused() {
        let ground = ground(torchon("CT pin CT", 0));
        assert_eq!(ground.trace(8, 1000), Err(TraceError::TooManyRows(1000)));
        let edges = plain_edges("CT");
        assert_eq!(ground.trace_between_footsides(300, 1, &edges), Err(TraceError::TooManyPairs(602)));
    }
}
