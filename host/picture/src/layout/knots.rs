//! How hard threads pull: a stitch is pulled tight as it is worked and does not
//! slide open again, while twists are free to spread along their leg.

use lace::{BraidNode, Cell, CrossingSource, End, Ground, Side};

/// Whether each crossing belongs to the heart of its stitch: from its first
/// crossing between the pairs to its last. Twists before and after, and those of
/// legs, do not.
pub(super) fn hearts(ground: &Ground) -> Vec<bool> {
    let braid = ground.braid();
    let mut heart = vec![false; braid.nodes.len()];
    for &first in &braid.stitch_nodes {
        let Some(stitch) = braid.nodes.get(first).map(|n| n.source) else { continue };
        let links: Vec<usize> = (first..braid.nodes.len())
            .take_while(|&v| braid.nodes[v].source == stitch)
            .filter(|&v| braid.nodes[v].at == 1)
            .collect();
        if let (Some(&from), Some(&to)) = (links.first(), links.last()) {
            heart[from..=to].fill(true);
        }
    }
    heart
}

/// Whether each segment of the braid belongs to a weaver, between two threads it
/// passes.
pub(super) fn weavers(ground: &Ground) -> Vec<bool> {
    let braid = ground.braid();
    let woven: Vec<Vec<bool>> = ground.stitches().iter().map(|s| s.stitch.woven()).collect();
    let weaves = |node: &BraidNode| match node.source {
        CrossingSource::Stitch(stitch) => woven[stitch][node.order],
        CrossingSource::Leg(_) => false,
    };
    (0..braid.segments.len())
        .map(|s| {
            let (a, b) = (&braid.nodes[s / 2], &braid.nodes[braid.map.arrival(s) / 2]);
            let same = a.source == b.source && braid.segments[s].cell == Cell::ORIGIN;
            same && a.at != b.at && weaves(a) && weaves(b)
        })
        .collect()
}

/// How tight each segment of the braid is pulled: 0 on legs, up to 1 inside a
/// stitch.
///
/// The more pairs of a stitch are twisted before the next stitch, the tighter it
/// is: twists keep it closed, while in plain cloth nothing holds the threads of a
/// stitch together and they spread evenly.
pub(super) fn tightness(ground: &Ground, heart: &[bool]) -> Vec<f64> {
    let braid = ground.braid();
    // Twists of a pair in its stitch before the first or after the last link.
    let twists = |s: usize, side: Side, after: bool| {
        let first = braid.stitch_nodes[s];
        let nodes = &braid.nodes[first..first + ground.stitches()[s].stitch.crossings().count()];
        let own = |n: &&BraidNode| n.at == 2 * side.index();
        let link = |n: &BraidNode| n.at == 1;
        if after {
            nodes.iter().rev().take_while(|n| !link(n)).filter(own).count()
        } else {
            nodes.iter().take_while(|n| !link(n)).filter(own).count()
        }
    };
    let mut closed = vec![0.0; ground.stitches().len()];
    for (s, closed) in closed.iter_mut().enumerate() {
        for side in Side::BOTH {
            let out = &ground.legs()[ground.leg_from(End::new(s, side))];
            let into = &ground.legs()[ground.leg_to(End::new(s, side))];
            let after =
                twists(s, side, true) + out.twists as usize + twists(out.to.stitch, out.to.side, false);
            let before = twists(s, side, false)
                + into.twists as usize
                + twists(into.from.stitch, into.from.side, true);
            *closed += 0.25 * (f64::from(u8::from(after > 0)) + f64::from(u8::from(before > 0)));
        }
    }
    (0..braid.segments.len())
        .map(|s| {
            let (from, to) = (s / 2, braid.map.arrival(s) / 2);
            let (a, b) = (braid.nodes[from], braid.nodes[to]);
            match a.source {
                CrossingSource::Stitch(stitch)
                    if a.source == b.source
                        && heart[from]
                        && heart[to]
                        && braid.segments[s].cell == Cell::ORIGIN =>
                {
                    closed[stitch]
                }
                _ => 0.0,
            }
        })
        .collect()
}
