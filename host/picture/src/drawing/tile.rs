//! One repeat of a ground cut into pieces of thread, one for each side of each
//! crossing, ready to be set out over an area.

use lace::{Braid, Cell, Lacework, Point, Side, point};

use crate::drawing::Path;
use crate::drawing::curve::{Curve, distance, turned, unit};
use crate::layout::{Layout, ends, weavers};

/// A piece of thread through one crossing, with the crossing in its own cell.
#[derive(Debug)]
pub(crate) struct Strand {
    /// The segment by which it leaves the crossing.
    pub out: usize,
    /// The curve from the previous crossing to the next one.
    whole: Curve,
    /// Position of the crossing, as a length along `whole`.
    middle: f64,
    /// Where the piece begins and ends on its left and its right edge, as lengths
    /// along `whole`.
    ends: [[f64; 2]; 2],
    /// Whether the thread is over or under at the previous crossing, and at the next
    /// one, as it is at this one.
    pub same_side: [bool; 2],
    /// Whether it is a pass of the weaver of a tally over a passive. It is beaten up to
    /// the passes above and below, so that it spreads and hides the passive.
    pub beaten: bool,
}

/// How much wider a beaten pass is in its middle than at its ends, and how long it is at
/// least if it spreads so far, in threads.
const BEATEN: f64 = 1.6;
const LONG: f64 = 2.8;

/// The edges of a thread, seen in the direction of travel: right first (left on
/// the page when the thread runs down), then left.
const SIDES: [f64; 2] = [1.0, -1.0];

impl Strand {
    /// The area of a band of the piece, `width` wide, for a thread `thread` wide. It
    /// is lengthened by `more` at each end, and offset by `shift(t)` where it runs
    /// in the direction `t`.
    pub(crate) fn band(
        &self,
        width: f64,
        thread: f64,
        more: [f64; 2],
        shift: impl Fn(Point) -> Point,
    ) -> Path {
        let share = width / thread;
        let [right, left] = [0, 1].map(|side| {
            // A narrow band ends on the straight line between the ends of the edges.
            let end = |k: usize| {
                let [a, b] = [self.ends[k][side], self.ends[k][1 - side]];
                (a + b) / 2.0 + share * (a - b) / 2.0
            };
            let from = (end(0) - more[0]).min(self.middle - 1e-6);
            let to = (end(1) + more[1]).max(self.middle + 1e-6);
            let off = SIDES[side] * width / 2.0;
            let part = self.whole.part(from, to);
            if self.beaten {
                // A short pass, at the point of a leaf, has no room to spread.
                let most = BEATEN * (part.length() / (LONG * thread)).min(1.0);
                let spread = |u: f64| 1.0 + most * (4.0 * u * (1.0 - u));
                part.beside_along(4, |t, u| turned(t) * (off * spread(u)) + shift(t))
            } else {
                part.beside(|t| turned(t) * off + shift(t))
            }
        });
        Curve::between(&right, &left)
    }
}

/// A point on the edge of a thread.
#[derive(Clone, Copy, Debug)]
struct EdgePoint {
    at: Point,
    /// Position as a length along the thread.
    along: f64,
    /// Distance from the middle of the thread it crosses.
    apart: f64,
}

/// Points along one edge of a thread.
type Edge = Vec<EdgePoint>;

/// The two edges of a thread near a crossing.
fn edges(of: &Strand, by: &Strand, thread: f64) -> [Edge; 2] {
    let near = 2.5 * thread;
    let other = by.whole.part(by.middle - near, by.middle + near).samples(thread / 6.0);
    let from = (of.middle - near).max(0.0);
    let line = of.whole.part(from, of.middle + near).samples(thread / 10.0);
    SIDES.map(|side| {
        let mut along = from;
        let mut last = line[0].0;
        line.iter()
            .map(|&(p, t)| {
                along += (p - last).length();
                last = p;
                let at = p + turned(t) * (side * thread / 2.0);
                EdgePoint { at, along, apart: distance(at, &other) }
            })
            .collect()
    })
}

/// The points of an edge after the crossing, or before it, outwards.
fn outward(edge: &Edge, middle: f64, after: bool) -> impl Iterator<Item = &EdgePoint> {
    let at = edge.partition_point(|p| p.along < middle);
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
            for &EdgePoint { along, apart, .. } in outward(edge, middle, after) {
                let distance = (along - middle).abs();
                if apart >= thread / 2.0 {
                    // The edge of the other thread is between two samples.
                    let share = (thread / 2.0 - last) / (apart - last).max(1e-12);
                    return reach + (distance - reach) * share.clamp(0.0, 1.0);
                }
                (reach, last) = (distance, apart);
            }
            reach
        })
    })
}

/// Simplifies a line: drops points that lie less than `off` from the line through
/// the remaining ones.
fn thinned(line: Vec<Point>, off: f64) -> Vec<Point> {
    let mut kept: Vec<Point> = Vec::new();
    let mut from = 0;
    for (k, &p) in line.iter().enumerate() {
        let Some(&last) = kept.last() else {
            kept.push(p);
            continue;
        };
        let across = turned(unit(p - last));
        if line[from + 1..k].iter().any(|&q| (q - last).dot(across).abs() > off) {
            kept.push(line[k - 1]);
            from = k - 1;
        }
    }
    if line.len() > 1 {
        kept.push(line[line.len() - 1]);
    }
    kept
}

/// Largest distance of a drawn thread from its layout, in thread widths.
const NEAR_ENOUGH: f64 = 0.008;

/// One repeat, ready to be set out: the pieces under and over at each crossing.
#[derive(Debug)]
pub(crate) struct Tile {
    pub under: Vec<Strand>,
    pub over: Vec<Strand>,
    /// The edges of the lower thread at each crossing.
    under_edges: Vec<[Edge; 2]>,
}

/// How the segments of thread of a ground follow each other.
struct Courses<'a> {
    braid: &'a Braid,
    layout: &'a Layout,
    weavers: Vec<Option<Side>>,
}

impl Courses<'_> {
    fn shift(&self, cell: Cell) -> Point {
        self.layout.lattice.place(cell)
    }

    /// The previous segment of the thread that leaves by `out`. It comes in on the
    /// other side of the same crossing.
    fn before(&self, out: usize) -> usize {
        self.braid.map.departure(out ^ 1)
    }

    /// The next segment of the thread after `out`.
    fn after(&self, out: usize) -> usize {
        self.braid.map.arrival(out) ^ 1
    }

    /// Whether a segment passes over at the crossing it leaves.
    fn is_over(&self, out: usize) -> bool {
        // The thread that comes from the left leaves to the right.
        (out % 2 == 1) == self.braid.nodes[out / 2].left_over
    }

    /// A smooth curve for every segment.
    fn curves(&self) -> Vec<Curve> {
        (0..self.braid.segments.len())
            .map(|out| {
                let came = &self.layout.lines[self.before(out)];
                let came = came[came.len() - 2] - self.shift(self.braid.segments[self.before(out)].cell);
                let goes = self.layout.lines[self.after(out)][1] + self.shift(self.braid.segments[out].cell);
                let curve = Curve::through(&self.layout.lines[out], came, goes);
                curve.simplified(NEAR_ENOUGH * self.layout.thread_mm)
            })
            .collect()
    }

    /// The piece of thread that leaves a crossing by `out`, not yet cut.
    fn piece(&self, out: usize, curves: &[Curve], lengths: &[f64]) -> Strand {
        let before = self.before(out);
        let back = -self.shift(self.braid.segments[before].cell);
        Strand {
            out,
            whole: curves[before].moved(back).then(&curves[out]),
            middle: lengths[before],
            ends: [[0.0; 2]; 2],
            same_side: [before, self.after(out)].map(|next| self.is_over(next) == self.is_over(out)),
            beaten: self.is_over(out) && self.weavers[out / 2].is_some_and(|side| side.index() == out % 2),
        }
    }

    /// Where each edge of a segment is cut, as lengths along it: where its thread
    /// goes under the next one, or halfway when there is no room for that. `taken`
    /// is how much of each edge, at its start and at its end, overlaps another
    /// thread.
    fn cuts(&self, out: usize, length: f64, taken: [[f64; 2]; 2]) -> [f64; 2] {
        [0, 1].map(|side| {
            let [start, end] = taken.map(|edges| edges[side]);
            if start + end > length {
                return (start + length - end) / 2.0;
            }
            match (self.is_over(out), self.is_over(self.after(out))) {
                (true, false) => length - end,
                (false, true) => start,
                _ => length / 2.0,
            }
        })
    }
}

impl Tile {
    pub(crate) fn new(ground: &Lacework, layout: &Layout) -> Tile {
        let thread = layout.thread_mm;
        let courses = Courses { braid: ground.braid(), layout, weavers: weavers(ground) };
        let curves = courses.curves();
        let count = curves.len();
        let lengths: Vec<f64> = curves.iter().map(Curve::length).collect();
        let pieces = |over: bool| -> Vec<Strand> {
            let outs = (0..count).filter(|&out| courses.is_over(out) == over);
            outs.map(|out| courses.piece(out, &curves, &lengths)).collect()
        };
        let (mut under, mut over) = (pieces(false), pieces(true));
        let under_edges: Vec<[Edge; 2]> =
            under.iter().zip(&over).map(|(below, above)| edges(below, above, thread)).collect();
        let mut taken = vec![[[0.0; 2]; 2]; count];
        for (below_edges, (below, above)) in under_edges.iter().zip(under.iter().zip(&over)) {
            let hidden = overlaps(below_edges, below.middle, thread);
            let hiding = overlaps(&edges(above, below, thread), above.middle, thread);
            for (piece, [before, after]) in [(below, hidden), (above, hiding)] {
                taken[courses.before(piece.out)][1] = before;
                taken[piece.out][0] = after;
            }
        }
        let cuts: Vec<[f64; 2]> = (0..count).map(|out| courses.cuts(out, lengths[out], taken[out])).collect();
        // In an open segment one thread ends, and another is hung.
        let cut = |out: usize, hung: bool| match ground.is_open_segment(out).then(|| ends(layout, out)) {
            Some([_, head]) if hung => [lengths[out] - head; 2],
            Some([tail, _]) => [tail; 2],
            None => cuts[out],
        };
        for piece in under.iter_mut().chain(&mut over) {
            let before = courses.before(piece.out);
            piece.ends = [cut(before, true), cut(piece.out, false).map(|cut| piece.middle + cut)];
        }
        Tile { under, over, under_edges }
    }

    /// The visible parts of the lower thread at a crossing within `reach` of the
    /// edge of the upper one, as areas before and after the crossing.
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
                for &EdgePoint { at, along, apart } in
                    outward(&self.under_edges[node][side], piece.middle, after)
                {
                    let past = beyond(along);
                    if apart >= thread / 2.0 + reach || past > thread {
                        break;
                    }
                    if let Some((before, hidden)) = last.filter(|_| past >= 0.0 && side_points.is_empty()) {
                        side_points.push(before + (at - before) * (-hidden / (past - hidden).max(1e-12)));
                    }
                    if past >= 0.0 {
                        side_points.push(at);
                    }
                    last = Some((at, past));
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
