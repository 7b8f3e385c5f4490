//! Whether the lace grows down: every circuit of legs comes lower, and pairs
//! that only touch come straight down.

use std::cmp::Ordering;

use petgraph::graph::{DiGraph, NodeIndex};

use crate::check::findings::{Code, Place};
use crate::check::report::Report;
use crate::lattice::cell::UprightCell;
use crate::repeat::wiring::Wired;
use crate::words::number::number;

pub(super) fn leads_down(report: &mut Report<'_>, wired: Wired<'_>) {
    if let Some(circuit) = circuit_not_down(wired) {
        let ids = report.ids(circuit);
        let sentence = match &ids[..] {
            [one] => {
                format!("a pair can go from one stitch {one} to the next for ever without coming lower")
            }
            _ => "a pair can follow these stitches for ever without coming lower".to_owned(),
        };
        report.say(Code::NotDown, Place::Stitches(ids), sentence);
        return;
    }
    for circuit in wired.wiring.map().touching_circuits() {
        let legs = circuit.iter().map(|&edge| wired.leg_cell(wired.wiring.leg_of_edge(edge)));
        let moved = legs.fold(UprightCell::ORIGIN, |sum, cell| sum + cell);
        let side = match wired.upright.side(moved) {
            Ordering::Equal => continue,
            Ordering::Less => "left",
            Ordering::Greater => "right",
        };
        let drift = wired.upright.place(moved);
        let sentence = format!(
            "the lace drifts {} grid steps to the {side} in {} down: are the steps across and down right?",
            number(drift.x.abs()),
            number(drift.y)
        );
        let ids = report.ids(circuit.iter().map(|e| e / 2));
        report.say(Code::PairsDrift, Place::Stitches(ids), sentence);
        return;
    }
}

/// A directed circuit of stitches whose rows sum to zero or less, if any.
///
/// Weighs each leg by its rows, scaled so that a circuit of rows 0 becomes
/// negative, and looks for a negative circuit (Bellman and Ford).
fn circuit_not_down(wired: Wired<'_>) -> Option<Vec<usize>> {
    let mut graph = DiGraph::<(), f64>::new();
    let n = wired.repeat.stitches.len();
    let nodes: Vec<NodeIndex> = (0..n).map(|_| graph.add_node(())).collect();
    // Whole numbers below 2^53, so that the sums are exact: a circuit of at
    // most n legs and total row 0 weighs between -n and -1.
    let scale = (n + 1) as i64;
    for (l, leg) in wired.repeat.legs.iter().enumerate() {
        let weight = wired.leg_cell(l).row * scale - 1;
        graph.add_edge(nodes[leg.from.stitch], nodes[leg.to.stitch], weight as f64);
    }
    // In a connected map where every stitch has as many exits as entries, every
    // stitch reaches every other, so any start finds all circuits.
    petgraph::algo::find_negative_cycle(&graph, nodes[0])
        .map(|c| c.into_iter().map(NodeIndex::index).collect())
}
