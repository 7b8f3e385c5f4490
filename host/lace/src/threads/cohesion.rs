//! Whether a fabric hangs together: no layer of it may lie on top of the rest
//! everywhere.
//!
//! Say that thread a holds thread b when a lies over b somewhere. The fabric
//! hangs together exactly when this relation is strongly connected
//! (C. R. J. Clapham, "When a fabric hangs together", Bulletin of the London
//! Mathematical Society 12, 1980, 161-164, stated there for woven fabrics; the
//! argument does not use that the threads are straight).

use petgraph::graph::{DiGraph, NodeIndex};

use crate::repeat::Repeat;
use crate::threads::braid::Braid;

/// Most crossings of the finite piece on which the endless fabric is judged.
const MOST: usize = 200_000;

/// The layers of a finite fabric, top layer first.
///
/// `threads` is the number of threads, `overs` the pairs (upper, lower). One
/// layer means that it hangs together.
pub fn fabric_layers(threads: usize, overs: impl IntoIterator<Item = (usize, usize)>) -> Vec<Vec<usize>> {
    let mut graph = DiGraph::<(), ()>::new();
    for _ in 0..threads {
        graph.add_node(());
    }
    for (upper, lower) in overs {
        graph.update_edge(NodeIndex::new(upper), NodeIndex::new(lower), ());
    }
    // Tarjan's components come out in reverse order: the one below first.
    let mut layers: Vec<Vec<usize>> = petgraph::algo::tarjan_scc(&graph)
        .into_iter()
        .rev()
        .map(|layer| layer.into_iter().map(NodeIndex::index).collect())
        .collect();
    for layer in &mut layers {
        layer.sort_unstable();
    }
    layers
}

/// The layers of a ground, top layer first, each as the stitches its threads
/// enter. Judged on a torus of several repeats, so that a layer which runs
/// through every second repeat only is found.
pub(crate) fn layers(repeat: &Repeat, braid: &Braid) -> Vec<Vec<usize>> {
    let mut times = 1i64;
    while times < 6
        && (times + 1) * (times + 1) * braid.nodes.len().max(repeat.stitches.len()) as i64 <= MOST as i64
    {
        times += 1;
    }
    let cells = (times * times) as usize;
    let copy = |cell: [i64; 2]| (cell[0].rem_euclid(times) * times + cell[1].rem_euclid(times)) as usize;
    let darts = 2 * braid.nodes.len();
    // A thread is the closed line of segments that follow each other; the one
    // that arrives on the left leaves on the right.
    let mut thread = vec![usize::MAX; darts * cells];
    let mut threads = 0;
    let mut enters: Vec<Vec<usize>> = Vec::new();
    for start in 0..thread.len() {
        if thread[start] != usize::MAX {
            continue;
        }
        let mut stitches = Vec::new();
        let (mut dart, mut cell) = (start % darts, start / darts);
        while thread[cell * darts + dart] == usize::MAX {
            thread[cell * darts + dart] = threads;
            stitches.push(braid.segments[dart].entry.0);
            let step = braid.segments[dart].cell;
            let here = [cell as i64 / times, cell as i64 % times];
            cell = copy([here[0] + step[0], here[1] + step[1]]);
            dart = braid.map.arrival(dart) ^ 1;
        }
        stitches.sort_unstable();
        stitches.dedup();
        enters.push(stitches);
        threads += 1;
    }
    // Threads that cross nothing at all are layers of their own.
    for &(stitch, _) in &braid.loose_threads {
        enters.push(vec![stitch]);
        threads += 1;
    }
    let overs = (0..cells).flat_map(|cell| {
        let thread = &thread;
        braid.nodes.iter().enumerate().map(move |(node, n)| {
            // The thread from the left leaves on the right.
            let (left, right) = (thread[cell * darts + 2 * node + 1], thread[cell * darts + 2 * node]);
            if n.left_over { (left, right) } else { (right, left) }
        })
    });
    fabric_layers(threads, overs)
        .into_iter()
        .map(|layer| {
            let mut stitches: Vec<usize> =
                layer.into_iter().flat_map(|t| enters[t].iter().copied()).collect();
            stitches.sort_unstable();
            stitches.dedup();
            stitches
        })
        .collect()
}
