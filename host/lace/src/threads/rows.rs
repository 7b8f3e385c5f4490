//! Rows of repeats: which copy of each stitch belongs to a row, and in what
//! order the stitches of a row can be worked.

use petgraph::graph::{DiGraph, NodeIndex};

use crate::repeat::wiring::Wired;

/// The first row at which every stitch may be worked, at or above the rows
/// wanted: for every leg the later stitch's row is at most the earlier's plus
/// the leg's rows.
pub(crate) fn earliest_rows(wired: Wired<'_>, wanted: &[i64]) -> Vec<i64> {
    let legs = &wired.repeat.legs;
    let mut row = wanted.to_vec();
    // Relaxation ends within n rounds because every circuit comes lower.
    for _ in 0..=row.len() {
        let mut changed = false;
        for (l, leg) in legs.iter().enumerate() {
            let bound = row[leg.from.stitch] + wired.leg_cell(l).row;
            if row[leg.to.stitch] > bound {
                row[leg.to.stitch] = bound;
                changed = true;
            }
        }
        if !changed {
            break;
        }
    }
    row
}

/// The stitches of one row of repeats in an order in which they can be worked.
pub(crate) fn row_order(wired: Wired<'_>, first_row: &[i64]) -> Vec<usize> {
    let mut graph = DiGraph::<(), ()>::new();
    let nodes: Vec<NodeIndex> = first_row.iter().map(|_| graph.add_node(())).collect();
    for (l, leg) in wired.repeat.legs.iter().enumerate() {
        let (from, to) = (leg.from.stitch, leg.to.stitch);
        if first_row[from] + wired.leg_cell(l).row == first_row[to] {
            graph.add_edge(nodes[from], nodes[to], ());
        }
    }
    petgraph::algo::toposort(&graph, None)
        .expect("every circuit of legs comes lower, so none lies within a row")
        .into_iter()
        .map(NodeIndex::index)
        .collect()
}
