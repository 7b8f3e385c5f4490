//! Steering: the fewest stitches to change so that a pair goes where it is wanted.
//!
//! A pair meets every stitch once at most, and what is worked there alone decides by which
//! side it goes on. So the fewest changes are a shortest way through the piece, found
//! exactly (a shortest path in a graph without circuits).

use super::{EdgeKind, LegFrom, LegTo, Piece};
use crate::repeat::{End, Side};
use crate::stitch::Stitch;

/// Where a pair is wanted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PieceWish {
    /// It ends in the half of the finish on this side.
    EndsAt(Side),
    /// It runs down this edge, from its first pin to its last.
    DownTheEdge(Side),
}

/// Stitches to change so that a pair goes where it is wanted.
#[derive(Clone, Debug, PartialEq)]
pub struct Steered {
    /// The stitches, by their positions in the order of working, and what to work there.
    pub changes: Vec<(usize, Stitch)>,
    /// The legs along which the pair then goes, from where it is hung.
    pub way: Vec<usize>,
}

/// The best known way to a leg.
#[derive(Clone, Copy)]
struct Best {
    changes: usize,
    /// The leg before, and the work chosen at the stitch between, if it is changed.
    before: Option<(usize, Option<usize>)>,
}

/// By stitch, the works that keep both pairs whole: whether they exchange their sides, and
/// which of the works it is; `None` is what is worked there now.
type Works = Vec<Vec<(bool, Option<usize>)>>;

impl Piece {
    /// The fewest stitches to change so that both threads of a pair go together where they
    /// are wanted. At each stitch one of `works` may be chosen that has a pin if the
    /// present one has. `None` if no choice leads there.
    pub fn steer(&self, pair: usize, wish: PieceWish, works: &[Stitch]) -> Option<Steered> {
        let choices = self.choices(works);
        let mut best = vec![None; self.legs.len()];
        best[pair] = Some(Best { changes: 0, before: None });
        let goal = match wish {
            PieceWish::EndsAt(side) => {
                self.walk(&choices, &mut best, |_| true);
                let middle = self.outline.middle();
                let there = |leg: &usize| match (self.legs[*leg].from, self.legs[*leg].to) {
                    (LegFrom::Stitch(end), LegTo::Ends(_)) => {
                        let off = self.stitches[end.stitch].at.x - middle;
                        let at = if off == 0.0 {
                            end.side
                        } else if off > 0.0 {
                            Side::Right
                        } else {
                            Side::Left
                        };
                        at == side
                    }
                    _ => false,
                };
                (0..self.legs.len())
                    .filter(there)
                    .filter(|&leg| best[leg].is_some())
                    .min_by_key(|&leg| best[leg].map(|best| best.changes))?
            }
            PieceWish::DownTheEdge(side) => {
                let edge = self.edge_legs(side);
                let (first, last) = (*edge.first()?, *edge.last()?);
                // Once on the edge, it stays there to the last pin.
                let mut on_edge = vec![false; self.stitches.len()];
                for &leg in &edge {
                    if let LegFrom::Stitch(end) = self.legs[leg].from {
                        on_edge[end.stitch] = true;
                    }
                }
                let allowed = |leg: usize| match self.legs[leg].from {
                    LegFrom::Stitch(end) => !on_edge[end.stitch] || edge.contains(&leg),
                    LegFrom::Pair(_) => true,
                };
                self.walk(&choices, &mut best, allowed);
                let runs = self.way(&best, last)?.contains(&first);
                runs.then_some(last)?
            }
        };
        let way = self.way(&best, goal)?;
        let changes = way
            .iter()
            .filter_map(|&leg| {
                let (_, work) = best[leg]?.before?;
                let LegFrom::Stitch(end) = self.legs[leg].from else { return None };
                Some((end.stitch, works[work?].clone()))
            })
            .collect();
        Some(Steered { changes, way })
    }

    /// The legs that lie along an edge from pin to pin, from the top.
    pub fn edge_legs(&self, side: Side) -> Vec<usize> {
        let part = |stitch: usize| self.stitches[stitch].edge.filter(|part| part.side == side);
        let footside =
            self.stitches.iter().any(|s| s.edge.is_some_and(|part| part.kind == EdgeKind::Footside));
        let wanted = if footside { EdgeKind::Footside } else { EdgeKind::Ground };
        (0..self.legs.len())
            .filter(|&leg| match (self.legs[leg].from, self.legs[leg].to) {
                (LegFrom::Stitch(from), LegTo::Stitch(to)) => {
                    from.side == side
                        && to.side == side
                        && [from, to]
                            .iter()
                            .all(|end| part(end.stitch).is_some_and(|part| part.kind == wanted))
                }
                _ => false,
            })
            .collect()
    }

    fn choices(&self, works: &[Stitch]) -> Works {
        let whole = |stitch: &Stitch| match stitch.end_order() {
            [0 | 1, 0 | 1, 2 | 3, 2 | 3] => Some(false),
            [2 | 3, 2 | 3, 0 | 1, 0 | 1] => Some(true),
            _ => None,
        };
        let of_stitch = |own: &Stitch| {
            let now = whole(own).map(|exchanged| (exchanged, None));
            let others =
                works.iter().enumerate().filter(|(_, other)| other.pin().is_some() == own.pin().is_some());
            let others = others.filter_map(|(k, other)| whole(other).map(|exchanged| (exchanged, Some(k))));
            now.into_iter().chain(others).collect()
        };
        self.stitches.iter().map(|s| of_stitch(&s.stitch)).collect()
    }

    /// Finds the best ways from the legs that have one, along allowed legs.
    fn walk(&self, choices: &Works, best: &mut [Option<Best>], allowed: impl Fn(usize) -> bool) {
        for (stitch, choices) in choices.iter().enumerate() {
            for side in Side::BOTH {
                let into = self.leg_to(End::new(stitch, side));
                let Some(so_far) = best[into] else { continue };
                for &(exchanged, work) in choices {
                    let out = self.leg_from(End::new(stitch, if exchanged { side.other() } else { side }));
                    let changes = so_far.changes + usize::from(work.is_some());
                    if allowed(out) && best[out].is_none_or(|known| changes < known.changes) {
                        best[out] = Some(Best { changes, before: Some((into, work)) });
                    }
                }
            }
        }
    }

    fn way(&self, best: &[Option<Best>], goal: usize) -> Option<Vec<usize>> {
        let mut way = vec![goal];
        let mut at = best[goal]?;
        while let Some((before, _)) = at.before {
            way.push(before);
            at = best[before]?;
        }
        way.reverse();
        Some(way)
    }
}
