//! Rows of repeats: which copy of each stitch belongs to a row, and the order in
//! which the stitches of a row can be worked.

use petgraph::graph::{DiGraph, NodeIndex};

use crate::lattice::cell::UprightCell;
use crate::repeat::wiring::Wired;

/// The first row at which each stitch may be worked, no lower than its row in
/// `latest`: for every leg, the row of the later stitch is at most the row of
/// the earlier one plus the rows of the leg.
pub(crate) fn earliest_rows(wired: Wired<'_>, latest: &[i64]) -> Vec<i64> {
    earliest(wired, latest, |cell| cell.row).expect("every circuit of legs leads down")
}

/// The same for any way of counting how far a leg leads, which must be linear in
/// the cell. `None` when some circuit of legs leads back.
pub(crate) fn earliest(
    wired: Wired<'_>,
    latest: &[i64],
    leads: impl Fn(UprightCell) -> i64,
) -> Option<Vec<i64>> {
    let legs = &wired.repeat.legs;
    let far: Vec<i64> = (0..legs.len()).map(|leg| leads(wired.leg_cell(leg))).collect();
    let mut row = latest.to_vec();
    // Relaxation ends within n rounds unless a circuit leads back.
    for _ in 0..=row.len() {
        let mut changed = false;
        for (leg, far) in legs.iter().zip(&far) {
            let bound = row[leg.from.stitch] + far;
            if row[leg.to.stitch] > bound {
                row[leg.to.stitch] = bound;
                changed = true;
            }
        }
        if !changed {
            return Some(row);
        }
    }
    None
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
        .expect("every circuit of legs leads down, so none lies within a row")
        .into_iter()
        .map(NodeIndex::index)
        .collect()
}
