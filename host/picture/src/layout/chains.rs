//! Threads as chains: every segment between two crossings is cut into a few
//! straight edges. Lengths are in thread diameters.

use std::cmp::Ordering;

use lace::{Braid, Cell, Point, point};

use super::holes::Hole;
use super::twins::Twins;

/// Most edges of one segment: a long straight leg needs no more.
const MOST_EDGES: usize = 14;

/// A straight piece of thread from one point to the next.
#[derive(Clone, Copy, Debug)]
pub(super) struct Edge {
    pub from: usize,
    pub to: usize,
    /// The offset added to the place of `to`, which may lie in another cell.
    pub shift: Point,
}

/// All points and edges. The crossings come first, then the inner points of every
/// segment, in the cell of the crossing it leaves.
#[derive(Clone, Debug)]
pub(super) struct Chains {
    pub points: Vec<Point>,
    pub edges: Vec<Edge>,
    /// The first edge of every segment, plus a final entry for the end.
    pub first_edge: Vec<usize>,
    /// Pairs of consecutive edges of a thread.
    pub bends: Vec<(usize, usize)>,
    /// The mirror symmetry to be kept.
    pub twins: Option<Twins>,
    /// How often each segment counts: with a mirror, one of two that it maps onto each
    /// other counts for both.
    pub counts: Vec<f64>,
    /// How often what touches across each hole counts; `None`: as often as the segment
    /// that is touched.
    pub hole_counts: Vec<Option<f64>>,
    /// The bends that count, and how often.
    pub counted_bends: Vec<(usize, usize, f64)>,
}

/// Twice the area of a triangle, positive when its corners run clockwise on
/// the pillow.
pub(super) fn turn(a: Point, b: Point, c: Point) -> f64 {
    (b - a).cross(c - a)
}

impl Chains {
    /// Cuts segments, given as lines from crossing to crossing (the last point
    /// in the cell of the arrival), into edges about `step` long.
    ///
    /// There are so many `holes`. A line of a segment in `longer` will be at least so long.
    pub fn new(
        braid: &Braid,
        lines: &[Vec<Point>],
        holes: usize,
        shift: impl Fn(Cell) -> Point,
        step: f64,
        longer: &[(usize, f64)],
    ) -> Chains {
        let mut least = vec![0.0f64; lines.len()];
        for &(segment, length) in longer {
            least[segment] = least[segment].max(length);
        }
        let mut points: Vec<Point> = (0..braid.nodes.len()).map(|v| lines[2 * v][0]).collect();
        let mut edges = Vec::new();
        let mut first_edge = Vec::with_capacity(lines.len() + 1);
        for (s, line) in lines.iter().enumerate() {
            first_edge.push(edges.len());
            let total: f64 = line.windows(2).map(|p| (p[1] - p[0]).length()).sum();
            // A little more, so that equal lengths are cut alike in spite of rounding.
            let count =
                ((total.max(least[s]) / step + 1e-6).round() as usize).clamp(line.len() - 1, MOST_EDGES);
            let mut from = s / 2;
            for k in 1..count {
                points.push(along(line, total * k as f64 / count as f64));
                let to = points.len() - 1;
                edges.push(Edge { from, to, shift: point(0.0, 0.0) });
                from = to;
            }
            edges.push(Edge { from, to: braid.map.arrival(s) / 2, shift: shift(braid.segments[s].cell) });
        }
        first_edge.push(edges.len());
        let mut bends = Vec::with_capacity(edges.len());
        for s in 0..lines.len() {
            bends.extend((first_edge[s]..first_edge[s + 1] - 1).map(|e| (e, e + 1)));
            // The thread continues by the exit on the other side.
            bends.push((first_edge[s + 1] - 1, first_edge[braid.map.arrival(s) ^ 1]));
        }
        let counts = vec![1.0; lines.len()];
        let hole_counts = vec![None; holes];
        let counted_bends = bends.iter().map(|&(e, f)| (e, f, 1.0)).collect();
        Chains { points, edges, first_edge, bends, twins: None, counts, hole_counts, counted_bends }
    }

    /// Keeps the chains symmetrical: makes their places so, and counts only one of two
    /// segments that the mirror maps onto each other.
    pub fn mirror(&mut self, twins: Twins, holes: &[Hole]) {
        twins.even_places(&mut self.points);
        // The hole on either side of each segment; none where it has been left out.
        let mut home = vec![[None; 2]; self.counts.len()];
        for (h, hole) in holes.iter().enumerate() {
            for b in &hole.border {
                home[b.segment][usize::from(b.along)] = Some(h);
            }
        }
        self.hole_counts.clear();
        self.hole_counts.extend(holes.iter().enumerate().map(|(h, hole)| {
            let first = hole.border[0];
            match home[twins.segments[first.segment]][usize::from(!first.along)].map(|twin| h.cmp(&twin)) {
                Some(Ordering::Less) => Some(2.0),
                Some(Ordering::Greater) => Some(0.0),
                Some(Ordering::Equal) | None => None,
            }
        }));
        for (s, &twin) in twins.segments.iter().enumerate() {
            self.counts[s] = match s.cmp(&twin) {
                Ordering::Less => 2.0,
                Ordering::Equal => 1.0,
                Ordering::Greater => 0.0,
            };
        }
        self.counted_bends.clear();
        for (s, pair) in self.first_edge.windows(2).enumerate() {
            // Every edge begins one bend.
            let own = self.bends[pair[0]..pair[1]].iter().map(|&(e, f)| (e, f, self.counts[s]));
            self.counted_bends.extend(own.filter(|bend| bend.2 > 0.0));
        }
        self.twins = Some(twins);
    }

    /// Leaves out the segments in which no thread lies.
    pub fn leave_out(&mut self, open: &[bool]) {
        if !open.contains(&true) {
            return;
        }
        let mut segment_of = vec![0; self.edges.len()];
        for (s, pair) in self.first_edge.windows(2).enumerate() {
            segment_of[pair[0]..pair[1]].fill(s);
            if open[s] {
                self.counts[s] = 0.0;
            }
        }
        self.counted_bends.retain(|&(e, f, _)| !open[segment_of[e]] && !open[segment_of[f]]);
    }

    /// The line of a segment, both crossings included.
    pub fn line(&self, segment: usize) -> Vec<Point> {
        let edges = &self.edges[self.first_edge[segment]..self.first_edge[segment + 1]];
        let first = self.points[edges[0].from];
        std::iter::once(first).chain(edges.iter().map(|e| self.points[e.to] + e.shift)).collect()
    }
}

/// The point at a distance along a line.
fn along(line: &[Point], mut distance: f64) -> Point {
    for pair in line.windows(2) {
        let step = pair[1] - pair[0];
        let length = step.length();
        if distance <= length && length > 0.0 {
            return pair[0] + step * (distance / length);
        }
        distance -= length;
    }
    line[line.len() - 1]
}

/// Straight lines between crossings. The two threads of a twist, which would
/// coincide, are bowed a little apart.
pub(super) fn straight(
    braid: &Braid,
    nodes: &[Point],
    holes: &[Hole],
    shift: impl Fn(Cell) -> Point,
) -> Vec<Vec<Point>> {
    let mut lines: Vec<Vec<Point>> = (0..braid.segments.len())
        .map(|s| vec![nodes[s / 2], nodes[braid.map.arrival(s) / 2] + shift(braid.segments[s].cell)])
        .collect();
    for hole in holes.iter().filter(|h| h.border.len() == 2) {
        for b in &hole.border {
            let line = &mut lines[b.segment];
            let run = line[1] - line[0];
            let out = if b.along { point(run.y, -run.x) } else { point(-run.y, run.x) };
            let length = run.length();
            let bow = if length > 0.0 { out * (0.3f64.min(0.2 * length) / length) } else { out };
            line.insert(1, (line[0] + line[1]) * 0.5 + bow);
        }
    }
    lines
}
