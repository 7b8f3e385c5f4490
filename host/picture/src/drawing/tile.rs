//! One repeat of a ground cut into pieces of thread, one for each side of each
//! crossing, ready to be set out over an area.

use lace::{Cell, Ground, Point, point};

use crate::drawing::Path;
use crate::drawing::curve::{Curve, distance, dot, length, turned, unit};
use crate::layout::Layout;

/// A thread on its way through one crossing, with the crossing in its own cell.
pub(crate) struct Piece {
    /// The segment by which it leaves the crossing.
    pub out: usize,
    /// From the crossing before to the crossing after.
    whole: Curve,
    /// Length along `whole` at which the crossing is made.
    middle: f64,
    /// Lengths along `whole` where the piece begins and ends, on its left and
    /// its right edge.
    ends: [[f64; 2]; 2],
    /// Whether the thread lies on the same side of its neighbour at the
    /// crossing before, and at the one after.
    pub alike: [bool; 2],
}

/// The edges of a thread, seen by somebody who walks along it: to the right of
/// the walker (left on a page when walking down), then to the left.
const SIDES: [f64; 2] = [1.0, -1.0];

impl Piece {
    /// The area of the piece, or of a band of it `width` wide, where the whole
    /// thread is `thread` wide: with `more` at either end, moved by
    /// `shift(t)` where it runs in the direction `t`.
    pub(crate) fn band(
        &self,
        width: f64,
        thread: f64,
        more: [f64; 2],
        shift: impl Fn(Point) -> Point,
    ) -> Path {
        let share = width / thread;
        let [near, far] = [0, 1].map(|side| {
            // A narrow band ends on the line between the ends of the edges.
            let end = |k: usize| {
                let [a, b] = [self.ends[k][side], self.ends[k][1 - side]];
                (a + b) / 2.0 + share * (a - b) / 2.0
            };
            let from = (end(0) - more[0]).min(self.middle - 1e-6);
            let to = (end(1) + more[1]).max(self.middle + 1e-6);
            let off = SIDES[side] * width / 2.0;
            self.whole.part(from, to).beside(|t| turned(t) * off + shift(t))
        });
        Curve::between(&near, &far)
    }
}

/// Points along one edge of a thread: where, how far along the thread, and how
/// far from the middle of the thread it crosses.
type Edge = Vec<(Point, f64, f64)>;

/// The two edges of a thread near a crossing.
fn edges(of: &Piece, by: &Piece, thread: f64) -> [Edge; 2] {
    let near = 2.5 * thread;
    let other = by.whole.part(by.middle - near, by.middle + near).samples(thread / 6.0);
    let from = (of.middle - near).max(0.0);
    let line = of.whole.part(from, of.middle + near).samples(thread / 10.0);
    SIDES.map(|side| {
        let mut along = from;
        let mut last = line[0].0;
        line.iter()
            .map(|&(p, t)| {
                along += length(p - last);
                last = p;
                let edge = p + turned(t) * (side * thread / 2.0);
                (edge, along, distance(edge, &other))
            })
            .collect()
    })
}

/// The points of an edge from the crossing on, or from the crossing back.
fn run(edge: &Edge, middle: f64, after: bool) -> impl Iterator<Item = &(Point, f64, f64)> {
    let at = edge.partition_point(|&(_, along, _)| along < middle);
    let (back, on) = edge.split_at(at);
    let (back, on) = if after { (&[][..], on) } else { (back, &[][..]) };
    back.iter().rev().chain(on)
}

/// How far before and after a crossing each edge of one thread overlaps the
/// body of the other.
fn overlaps(edges: &[Edge; 2], middle: f64, thread: f64) -> [[f64; 2]; 2] {
    [false, true].map(|after| {
        edges.each_ref().map(|edge| {
            let mut reach = 0.0;
            let mut last = 0.0;
            for &(_, along, apart) in run(edge, middle, after) {
                let far = (along - middle).abs();
                if apart >= thread / 2.0 {
                    // The edge of the other thread lies between two samples.
                    let share = (thread / 2.0 - last) / (apart - last).max(1e-12);
                    return reach + (far - reach) * share.clamp(0.0, 1.0);
                }
                (reach, last) = (far, apart);
            }
            reach
        })
    })
}

/// A line without the points that lie less than `off` from the line without
/// them.
fn thinned(line: Vec<Point>, off: f64) -> Vec<Point> {
    let mut kept: Vec<Point> = Vec::new();
    let mut from = 0;
    for (k, &p) in line.iter().enumerate() {
        let Some(&last) = kept.last() else {
            kept.push(p);
            continue;
        };
        let way = turned(unit(p - last));
        if line[from + 1..k].iter().any(|&q| dot(q - last, way).abs() > off) {
            kept.push(line[k - 1]);
            from = k - 1;
        }
    }
    if line.len() > 1 {
        kept.push(line[line.len() - 1]);
    }
    kept
}

/// How far a drawn thread may lie from where it was laid, in thread widths.
const NEAR_ENOUGH: f64 = 0.008;

/// One repeat, ready to be set out: what lies under and over at each crossing.
pub(crate) struct Tile {
    pub under: Vec<Piece>,
    pub over: Vec<Piece>,
    /// The edges of the thread below, at each crossing.
    under_edges: Vec<[Edge; 2]>,
}

impl Tile {
    pub(crate) fn new(ground: &Ground, layout: &Layout) -> Tile {
        let (braid, thread) = (ground.braid(), layout.thread_mm);
        let shift = |cell: Cell| layout.lattice().place(cell);
        // The in dart through which a thread came that leaves by an out dart is
        // on the other side of the same crossing, and the other way round.
        let came = |out: usize| braid.map.departure(out ^ 1);
        let goes = |out: usize| braid.map.arrival(out) ^ 1;
        let curves: Vec<Curve> = (0..braid.segments.len())
            .map(|out| {
                let before = &layout.lines[came(out)];
                let before = before[before.len() - 2] - shift(braid.segments[came(out)].cell);
                let after = layout.lines[goes(out)][1] + shift(braid.segments[out].cell);
                Curve::through(&layout.lines[out], before, after).simplified(NEAR_ENOUGH * thread)
            })
            .collect();
        let lengths: Vec<f64> = curves.iter().map(Curve::length).collect();
        // The thread that comes from the left leaves to the right.
        let is_over = |out: usize| (out % 2 == 1) == braid.nodes[out / 2].left_over;
        let piece = |out: usize| {
            let before = curves[came(out)].moved(-shift(braid.segments[came(out)].cell));
            Piece {
                out,
                whole: before.then(&curves[out]),
                middle: lengths[came(out)],
                ends: [[0.0; 2]; 2],
                alike: [came(out), goes(out)].map(|next| is_over(next) == is_over(out)),
            }
        };
        let outs = |over: bool| -> Vec<Piece> {
            (0..braid.segments.len()).filter(|&out| is_over(out) == over).map(piece).collect()
        };
        let (mut under, mut over) = (outs(false), outs(true));
        let under_edges: Vec<[Edge; 2]> =
            under.iter().zip(&over).map(|(below, above)| edges(below, above, thread)).collect();
        // How much of each edge of each segment, at its start and at its end,
        // lies over or under another thread.
        let mut taken = vec![[[0.0; 2]; 2]; braid.segments.len()];
        for (node, (below, above)) in under.iter().zip(&over).enumerate() {
            let hidden = overlaps(&under_edges[node], below.middle, thread);
            let hiding = overlaps(&edges(above, below, thread), above.middle, thread);
            for (piece, [before, after]) in [(below, hidden), (above, hiding)] {
                taken[came(piece.out)][1] = before;
                taken[piece.out][0] = after;
            }
        }
        // Each edge is cut just where its thread goes under the next; where
        // there is no room for that, half way.
        let cuts: Vec<[f64; 2]> = (0..braid.segments.len())
            .map(|out| {
                [0, 1].map(|side| {
                    let (long, start, end) = (lengths[out], taken[out][0][side], taken[out][1][side]);
                    if start + end > long {
                        return (start + long - end) / 2.0;
                    }
                    match (is_over(out), is_over(goes(out))) {
                        (true, false) => long - end,
                        (false, true) => start,
                        _ => long / 2.0,
                    }
                })
            })
            .collect();
        for piece in under.iter_mut().chain(&mut over) {
            piece.ends = [cuts[came(piece.out)], cuts[piece.out].map(|cut| piece.middle + cut)];
        }
        Tile { under, over, under_edges }
    }

    /// What of the thread below a crossing shows within `reach` of the edge of
    /// the thread above, as areas before and after the crossing.
    pub(crate) fn shade(&self, node: usize, thread: f64, reach: f64) -> Path {
        let piece = &self.under[node];
        let mut areas = Path::new();
        for after in [false, true] {
            let end = usize::from(after);
            let sides = [0, 1].map(|side| -> Vec<Point> {
                let beyond = |along: f64| {
                    let cut = piece.ends[end][side];
                    if after { along - cut } else { cut - along }
                };
                let mut side_points = Vec::new();
                let mut last: Option<(Point, f64)> = None;
                for &(p, along, apart) in run(&self.under_edges[node][side], piece.middle, after) {
                    let far = beyond(along);
                    if apart >= thread / 2.0 + reach || far > thread {
                        break;
                    }
                    if let Some((before, hidden)) = last.filter(|_| far >= 0.0 && side_points.is_empty()) {
                        side_points.push(before + (p - before) * (-hidden / (far - hidden).max(1e-12)));
                    }
                    if far >= 0.0 {
                        side_points.push(p);
                    }
                    last = Some((p, far));
                }
                thinned(side_points, NEAR_ENOUGH * thread)
            });
            if sides.iter().all(|side| side.len() > 1) {
                let [left, right] = sides;
                areas.add(&Path::polygon(left.into_iter().chain(right.into_iter().rev())), point(0.0, 0.0));
            }
        }
        areas
    }
}
