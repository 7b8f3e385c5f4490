//! The order of working of a piece: always the highest stitch whose pairs are there, and
//! from it down its diagonal to the left (common practice, no source).

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use super::finding::{PieceCode, PieceFinding};
use super::join::Joined;
use super::region::Outline;
use super::{LegFrom, LegTo, Piece, PieceLeg};
use crate::lattice::point::Point;
use crate::repeat::{End, Side};

/// Rows and columns in whole numbers, by which stitches are compared: the highest first,
/// and of those the leftmost.
type Height = (i64, i64);

fn height(at: Point) -> Height {
    let whole = |x: f64| (x * 1024.0).round() as i64;
    (whole(at.y), whole(at.x))
}

/// The piece with its stitches in the order of working. `None`, with a finding, when some
/// stitches wait for each other.
pub(crate) fn in_order(outline: Outline, joined: Joined, findings: &mut Vec<PieceFinding>) -> Option<Piece> {
    let Joined { stitches, pairs, legs } = joined;
    let mut after = vec![None; 2 * stitches.len()];
    let mut waits = vec![0usize; stitches.len()];
    for leg in &legs {
        if let (LegFrom::Stitch(from), LegTo::Stitch(to)) = (leg.from, leg.to) {
            after[from.dart()] = Some(to.stitch);
            waits[to.stitch] += 1;
        }
    }
    let mut ready: BinaryHeap<Reverse<(Height, usize)>> = (0..stitches.len())
        .filter(|&s| waits[s] == 0)
        .map(|s| Reverse((height(stitches[s].at), s)))
        .collect();
    let mut order = Vec::with_capacity(stitches.len());
    let mut done = vec![false; stitches.len()];
    let mut along: Option<usize> = None;
    loop {
        let next = along
            .take()
            .or_else(|| std::iter::from_fn(|| ready.pop()).map(|Reverse((_, s))| s).find(|&s| !done[s]));
        let Some(stitch) = next else { break };
        done[stitch] = true;
        order.push(stitch);
        for side in Side::BOTH {
            if let Some(to) = after[End::new(stitch, side).dart()] {
                waits[to] -= 1;
                if waits[to] == 0 {
                    ready.push(Reverse((height(stitches[to].at), to)));
                    if side == Side::Left && stitches[to].at.x < stitches[stitch].at.x {
                        along = Some(to);
                    }
                }
            }
        }
    }
    if order.len() < stitches.len() {
        let waiting = (0..stitches.len()).filter(|&s| !done[s]);
        let first = waiting.min_by_key(|&s| height(stitches[s].at))?;
        let at = stitches[first].at;
        findings.push(
            PieceFinding::new(
                PieceCode::NoOrder,
                format!("the stitch at {}, {} waits for a pair that waits for it", at.x, at.y),
                "move the area that meets another there by one pin",
            )
            .at(at)
            .of([stitches[first].area]),
        );
        return None;
    }
    let mut number = vec![0; stitches.len()];
    for (k, &s) in order.iter().enumerate() {
        number[s] = k;
    }
    let renamed = |end: End| End::new(number[end.stitch], end.side);
    // Pairs are numbered in the order in which they are first worked.
    let mut first_worked = vec![(usize::MAX, 0); pairs.len()];
    for leg in &legs {
        if let (LegFrom::Pair(pair), LegTo::Stitch(to)) = (leg.from, leg.to) {
            first_worked[pair] = (number[to.stitch], to.side.index());
        }
    }
    let mut hung: Vec<usize> = (0..pairs.len()).collect();
    hung.sort_by_key(|&pair| first_worked[pair]);
    let mut pair_number = vec![0; pairs.len()];
    for (k, &pair) in hung.iter().enumerate() {
        pair_number[pair] = k;
    }
    let mut sorted: Vec<PieceLeg> = legs
        .iter()
        .map(|leg| PieceLeg {
            from: match leg.from {
                LegFrom::Pair(pair) => LegFrom::Pair(pair_number[pair]),
                LegFrom::Stitch(end) => LegFrom::Stitch(renamed(end)),
            },
            to: match leg.to {
                LegTo::Stitch(end) => LegTo::Stitch(renamed(end)),
                ends @ LegTo::Ends(_) => ends,
            },
            twists: leg.twists,
        })
        .collect();
    sorted.sort_by_key(|leg| match leg.from {
        LegFrom::Pair(pair) => (0, pair),
        LegFrom::Stitch(end) => (1, end.dart()),
    });
    let mut into = vec![usize::MAX; 2 * stitches.len()];
    let mut out = vec![usize::MAX; 2 * stitches.len()];
    for (k, leg) in sorted.iter().enumerate() {
        if let LegFrom::Stitch(end) = leg.from {
            out[end.dart()] = k;
        }
        if let LegTo::Stitch(end) = leg.to {
            into[end.dart()] = k;
        }
    }
    debug_assert!(!into.contains(&usize::MAX) && !out.contains(&usize::MAX));
    Some(Piece {
        outline,
        stitches: order.iter().map(|&s| stitches[s].clone()).collect(),
        pairs: hung.iter().map(|&pair| pairs[pair].clone()).collect(),
        legs: sorted,
        into,
        out,
        warnings: Vec::new(),
    })
}
