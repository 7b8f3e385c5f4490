//! Traces between two footsides.

use crate::ground::Ground;
use crate::repeat::Side;
use crate::stitch::{PairEffect, Stitch};
use crate::working::order::EdgedStep;
use crate::working::trace::{EdgeVisit, Trace, TraceError, check_size};

/// The stitches at the footsides. Each is worked with the pair that comes to the
/// edge and the pair that runs along it.
#[derive(Clone, Debug, PartialEq)]
pub struct EdgeStitches {
    /// The stitch worked.
    pub stitch: Stitch,
    /// Single edge stitches that differ.
    pub changes: Vec<EdgeChange>,
}

/// One edge stitch that differs from the others.
#[derive(Clone, Debug, PartialEq)]
pub struct EdgeChange {
    /// At which footside.
    pub side: Side,
    /// Which edge stitch of that side it is, from 1.
    pub number: usize,
    /// The stitch worked.
    pub stitch: Stitch,
}

impl EdgeStitches {
    fn at(&self, side: Side, number: usize) -> &Stitch {
        let changed = self.changes.iter().find(|c| (c.side, c.number) == (side, number));
        changed.map_or(&self.stitch, |change| &change.stitch)
    }

    /// Whether every edge stitch keeps its pairs.
    fn keep_pairs(&self) -> bool {
        let mut all = self.changes.iter().map(|c| &c.stitch).chain([&self.stitch]);
        all.all(|stitch| stitch.pair_effect() != PairEffect::Split)
    }
}

impl Ground {
    /// Follows all pairs of `repeats` repeats between two footsides over `rows` rows
    /// of repeats. At each side one extra pair runs along the footside. Where the
    /// ground would need a pair from outside, an edge stitch is worked with it.
    ///
    /// # Errors
    /// [`TraceError`] beyond the limits it names, and for a change of an edge stitch
    /// that is not worked.
    pub fn trace_between_footsides(
        &self,
        repeats: usize,
        rows: usize,
        edges: &EdgeStitches,
    ) -> Result<Trace, TraceError> {
        let repeat = self.hanging().pairs().len();
        let pairs = repeats.saturating_mul(repeat).saturating_add(2);
        check_size(pairs, repeat, rows)?;
        let by_threads = !(self.keeps_pairs() && edges.keep_pairs());
        let mut strip = Strip {
            ground: self,
            edges,
            lie: (0..2 * pairs).collect(),
            worked: [0; 2],
            trace: Trace::begin(by_threads, pairs, true),
        };
        for row in 1..=rows {
            for step in self.steps_to_the_edges(repeats, row - 1) {
                strip.work(&step, row);
            }
            strip.end_row(row);
        }
        // What is never worked must not decide whether threads are followed or pairs.
        for &EdgeChange { side, number, .. } in &edges.changes {
            let worked = strip.worked[side.index()];
            if number > worked {
                return Err(TraceError::NoSuchEdge { side, number, worked });
            }
        }
        Ok(strip.trace)
    }
}

/// A strip of lace on the pillow.
struct Strip<'a> {
    ground: &'a Ground,
    edges: &'a EdgeStitches,
    /// The threads from left to right, each named by its starting place.
    lie: Vec<usize>,
    /// Edge stitches worked at either side.
    worked: [usize; 2],
    trace: Trace,
}

impl Strip<'_> {
    fn work(&mut self, step: &EdgedStep, row: usize) {
        let stitch = match step.edge {
            Some(side) => self.visit(step, side, row),
            None => &self.ground.stitches()[step.stitch].stitch,
        };
        let order = stitch.end_order();
        let threads = &mut self.lie[step.first_thread()..][..4];
        for (side, twists) in step.twists.into_iter().enumerate() {
            if twists % 2 == 1 {
                threads.swap(2 * side, 2 * side + 1);
            }
        }
        let before = [threads[0], threads[1], threads[2], threads[3]];
        for (at, from) in order.into_iter().enumerate() {
            threads[at] = before[from];
        }
    }

    /// Counts an edge stitch, also for the pairs that work it, and returns it.
    fn visit(&mut self, step: &EdgedStep, side: Side, row: usize) -> &Stitch {
        let number = &mut self.worked[side.index()];
        *number += 1;
        let visit = EdgeVisit { row, side, number: *number };
        let per_pair = self.trace.per_pair();
        for &thread in &self.lie[step.first_thread()..][..4] {
            let visits = &mut self.trace.visits[thread * per_pair / 2];
            if visits.last() != Some(&visit) {
                visits.push(visit);
            }
        }
        self.edges.at(side, visit.number)
    }

    fn end_row(&mut self, row: usize) {
        let per_pair = self.trace.per_pair();
        let mut now = vec![0i64; self.trace.places];
        for (at, &thread) in self.lie.iter().enumerate() {
            now[thread * per_pair / 2] = (at * per_pair / 2) as i64;
        }
        for (k, &at) in now.iter().enumerate() {
            if at == k as i64 && self.trace.returns[k].is_none() {
                self.trace.returns[k] = Some(row);
            }
        }
        self.trace.rows.push(now);
    }
}
