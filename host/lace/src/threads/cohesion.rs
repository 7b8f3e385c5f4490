//! Whether a fabric hangs together: no layer may lie on top of the rest
//! everywhere.
//!
//! Thread a is said to press on thread b when a lies over b somewhere. The
//! fabric hangs together exactly when this relation is strongly connected
//! (C. R. J. Clapham, "When a fabric hangs together", Bulletin of the London
//! Mathematical Society 12, 1980, 161-164). The paper states it for woven
//! fabrics; its argument does not need straight threads.

use petgraph::graph::{DiGraph, NodeIndex};

use crate::lattice::cell::Cell;
use crate::threads::braid::Braid;

/// Most crossings in the finite piece that stands for the endless fabric.
const MAX_CROSSINGS: i64 = 200_000;
/// Most repeats across and down of that piece.
const MAX_TIMES: i64 = 6;

/// Thread `upper` lies over thread `lower` somewhere.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Over {
    /// The thread on top.
    pub upper: usize,
    /// The thread below.
    pub lower: usize,
}

/// The layers of a finite fabric of `threads` threads, top layer first. A single
/// layer means that it hangs together.
pub fn fabric_layers(threads: usize, overs: impl IntoIterator<Item = Over>) -> Vec<Vec<usize>> {
    let mut graph = DiGraph::<(), ()>::new();
    for _ in 0..threads {
        graph.add_node(());
    }
    for Over { upper, lower } in overs {
        graph.update_edge(NodeIndex::new(upper), NodeIndex::new(lower), ());
    }
    // Tarjan's algorithm returns components in reverse order, lowest first.
    petgraph::algo::tarjan_scc(&graph)
        .into_iter()
        .rev()
        .map(|layer| sorted(layer.into_iter().map(NodeIndex::index).collect()))
        .collect()
}

fn sorted(mut numbers: Vec<usize>) -> Vec<usize> {
    numbers.sort_unstable();
    numbers.dedup();
    numbers
}

/// The layers of a ground of `stitches` stitches, top layer first, each as the
/// stitches its threads enter.
pub(crate) fn layers(stitches: usize, braid: &Braid) -> Vec<Vec<usize>> {
    let torus = Torus::new(stitches, braid);
    let threads = torus.threads();
    fabric_layers(threads.enters.len(), torus.overs(&threads))
        .into_iter()
        .map(|layer| sorted(layer.into_iter().flat_map(|t| threads.enters[t].iter().copied()).collect()))
        .collect()
}

/// Several repeats closed up into a torus, so that a layer which runs only
/// through every second repeat is found.
struct Torus<'a> {
    braid: &'a Braid,
    /// Repeats across and down.
    times: i64,
}

/// The threads of the torus.
struct Threads {
    /// The thread of every copy of every segment.
    of_segment: Vec<usize>,
    /// The stitches that each thread enters.
    enters: Vec<Vec<usize>>,
}

impl Torus<'_> {
    fn new(stitches: usize, braid: &Braid) -> Torus<'_> {
        let each = braid.nodes.len().max(stitches) as i64;
        let fits = |times: &i64| times * times * each <= MAX_CROSSINGS;
        Torus { braid, times: (2..=MAX_TIMES).take_while(fits).last().unwrap_or(1) }
    }

    /// The number of a copy of a segment.
    fn number(&self, segment: usize, cell: Cell) -> usize {
        let copy = cell.across.rem_euclid(self.times) * self.times + cell.down.rem_euclid(self.times);
        copy as usize * self.braid.segments.len() + segment
    }

    fn cells(&self) -> impl Iterator<Item = Cell> + use<> {
        let times = self.times;
        (0..times).flat_map(move |i| (0..times).map(move |j| Cell::new(i, j)))
    }

    /// A thread is the closed line of segments that follow each other; the one
    /// that arrives on the left leaves on the right.
    fn threads(&self) -> Threads {
        const NONE: usize = usize::MAX;
        let Braid { segments, map, loose_threads, .. } = self.braid;
        let all = segments.len() * (self.times * self.times) as usize;
        let mut threads = Threads { of_segment: vec![NONE; all], enters: Vec::new() };
        for (first_cell, first) in self.cells().flat_map(|cell| (0..segments.len()).map(move |s| (cell, s))) {
            let (mut cell, mut segment) = (first_cell, first);
            let mut stitches = Vec::new();
            while threads.of_segment[self.number(segment, cell)] == NONE {
                let number = self.number(segment, cell);
                threads.of_segment[number] = threads.enters.len();
                stitches.push(segments[segment].entry.stitch);
                cell += segments[segment].cell;
                segment = map.arrival(segment) ^ 1;
            }
            if !stitches.is_empty() {
                threads.enters.push(sorted(stitches));
            }
        }
        // Threads that cross nothing at all are layers of their own.
        threads.enters.extend(loose_threads.iter().map(|loose| vec![loose.stitch]));
        threads
    }

    fn overs(&self, threads: &Threads) -> impl Iterator<Item = Over> {
        self.cells().flat_map(move |cell| {
            self.braid.nodes.iter().enumerate().map(move |(node, n)| {
                // The thread from the left leaves on the right.
                let [left, right] =
                    [2 * node + 1, 2 * node].map(|out| threads.of_segment[self.number(out, cell)]);
                let (upper, lower) = if n.left_over { (left, right) } else { (right, left) };
                Over { upper, lower }
            })
        })
    }
}
