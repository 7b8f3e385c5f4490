//! Traces: where every hanging pair is after each row of repeats, on an endless
//! width ([`endless`]) and between two footsides ([`footsides`]).
//!
//! Places are counted from 0 along the pairs as they lie on the pillow, or along
//! the threads where a stitch parts the two threads of a pair.

mod endless;
pub mod footsides;

use thiserror::Error;

use crate::colour::arrangement::Arrangement;
use crate::limits::{MAX_ARRANGEMENT_PAIRS, MAX_ROWS};
use crate::repeat::Side;

/// The places of pairs, or of threads, row by row.
#[derive(Clone, Debug, PartialEq)]
pub struct Trace {
    /// Whether single threads are followed, because a stitch parts the threads
    /// of a pair.
    pub by_threads: bool,
    /// Places across: pairs or threads that are followed.
    pub places: usize,
    /// Whether it is worked between two footsides. Otherwise the width is endless
    /// and place `places` is place 0 of the next copy of the arrangement.
    pub footsides: bool,
    /// For every row from 0, the place of each pair (thread), indexed by its starting
    /// place. On an endless width places continue beyond both sides.
    pub rows: Vec<Vec<i64>>,
    /// When each is back, within [`MAX_ROWS`] rows. Between two footsides, the first row
    /// after which it is in its starting place. On an endless width, the row after which
    /// its places come again as from row 0, counted modulo the width: one that comes by
    /// its starting place and goes on to others is not back yet.
    pub returns: Vec<Option<usize>>,
    /// The edge stitches in which each pair or thread takes part.
    pub visits: Vec<Vec<EdgeVisit>>,
}

/// A pair at a footside.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct EdgeVisit {
    /// Row of repeats, from 1, in which the edge stitch is worked.
    pub row: usize,
    /// At which footside.
    pub side: Side,
    /// Which edge stitch of that side it is, from 1.
    pub number: usize,
}

/// Why a ground cannot be traced.
#[derive(Clone, Copy, Debug, Error, PartialEq, Eq)]
pub enum TraceError {
    /// More rows than [`MAX_ROWS`].
    #[error("{0} rows of repeats are too many to follow; {MAX_ROWS} can be followed")]
    TooManyRows(usize),
    /// More pairs than [`MAX_ARRANGEMENT_PAIRS`].
    #[error("{pairs} pairs are too many to follow; {MAX_ARRANGEMENT_PAIRS} can be followed")]
    TooManyPairs {
        /// The pairs asked for, with those that run along the footsides.
        pairs: usize,
        /// Pairs in one repeat.
        repeat: usize,
    },
    /// A change of an edge stitch that is not worked.
    #[error(
        "there is no edge stitch {number} at the {} footside: {worked} are worked there in these rows",
        side.word()
    )]
    NoSuchEdge {
        /// At which footside.
        side: Side,
        /// The number asked for.
        number: usize,
        /// How many are worked there.
        worked: usize,
    },
}

impl Trace {
    /// A trace that starts with each in its own place.
    fn begin(by_threads: bool, pairs: usize, footsides: bool) -> Trace {
        let places = if by_threads { 2 * pairs } else { pairs };
        Trace {
            by_threads,
            places,
            footsides,
            rows: vec![(0..places as i64).collect()],
            returns: vec![None; places],
            visits: vec![Vec::new(); places],
        }
    }

    /// The colours of the pair followed from each place, with the arrangement
    /// repeated across the width. For a thread, its one colour twice.
    pub fn hung(&self, arrangement: &Arrangement) -> Vec<[u8; 2]> {
        if self.by_threads {
            let threads = arrangement.threads();
            (0..self.places).map(|k| [threads[k % threads.len()]; 2]).collect()
        } else {
            let pairs = arrangement.pairs();
            (0..self.places).map(|k| pairs[k % pairs.len()]).collect()
        }
    }

    /// How many are followed for each pair: 1, or 2 when threads are followed.
    fn per_pair(&self) -> usize {
        if self.by_threads { 2 } else { 1 }
    }
}

fn check_size(pairs: usize, repeat: usize, rows: usize) -> Result<(), TraceError> {
    if rows > MAX_ROWS {
        return Err(TraceError::TooManyRows(rows));
    }
    if pairs > MAX_ARRANGEMENT_PAIRS {
        return Err(TraceError::TooManyPairs { pairs, repeat });
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ground::Ground;
    use crate::repeat::Repeat;
    use crate::repeat::samples::{rose, torchon};
    use crate::working::trace::footsides::{EdgeChange, EdgeStitches};

    fn ground(repeat: Repeat) -> Ground {
        Ground::new(repeat).unwrap()
    }

    fn plain_edges(moves: &str) -> EdgeStitches {
        EdgeStitches { stitch: moves.parse().unwrap(), changes: Vec::new() }
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
        // The pairs at the footsides stay there.
        assert!(keep.rows.iter().all(|row| row[0] == 0 && row[7] == 7));
        // Every other pair goes to one edge, turns back and goes to the other.
        for pair in 1..7 {
            let sides: Vec<Side> = keep.visits[pair].iter().map(|v| v.side).collect();
            assert!(sides.windows(2).all(|w| w[0] != w[1]) && sides.len() >= 2, "{pair}: {sides:?}");
        }
        let change = EdgeChange { side: Side::Left, number: 2, stitch: "CT pin CT".parse().unwrap() };
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
        assert_eq!(
            ground.trace_between_footsides(300, 1, &edges),
            Err(TraceError::TooManyPairs { pairs: 602, repeat: 2 })
        );
    }

    #[test]
    fn an_edge_stitch_that_is_not_worked_cannot_be_changed() {
        let ground = ground(torchon("CT pin CT", 0));
        let traced = |side: Side, number: usize| {
            let change = EdgeChange { side, number, stitch: "C".parse().unwrap() };
            let edges = EdgeStitches { changes: vec![change], ..plain_edges("CTCT pin CTCT") };
            ground.trace_between_footsides(3, 4, &edges)
        };
        let Err(TraceError::NoSuchEdge { side: Side::Left, number: usize::MAX, worked }) =
            traced(Side::Left, usize::MAX)
        else {
            panic!("{:?}", traced(Side::Left, usize::MAX));
        };
        assert!(worked > 0 && traced(Side::Left, worked).is_ok());
        assert!(matches!(traced(Side::Left, worked + 1), Err(TraceError::NoSuchEdge { .. })));
    }
}
