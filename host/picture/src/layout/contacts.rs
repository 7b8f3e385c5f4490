//! Possible contacts between threads, and between threads and pins: found hole
//! by hole, before anything has moved far. Lengths are in thread diameters.

use std::ops::Range;

use lace::{Cell, Point, point};

use super::chains::Chains;
use super::holes::{Border, Hole, PinInHole};
use crate::limits::CONTACTS;

/// The distance from their crossing at which two threads are one diameter apart.
const APART: f64 = 1.5;
/// Distance between the centre lines of threads that touch: yarn has a nap.
pub(super) const KEEP: f64 = 1.18;
/// Contacts are searched this much farther than needed.
pub(super) const MARGIN: f64 = 0.7;

/// Length and direction of an edge.
#[derive(Clone, Copy, Debug)]
pub(super) struct Measured {
    pub length: f64,
    pub direction: Point,
}

/// Measures all edges of chains with their points at `points`.
pub(super) fn measure(chains: &Chains, points: &[Point], edges: &mut Vec<Measured>) {
    edges.clear();
    edges.extend(chains.edges.iter().map(|e| {
        let run = points[e.to] + e.shift - points[e.from];
        let length = run.length().max(1e-9);
        Measured { length, direction: run * (1.0 / length) }
    }));
}

/// A pin.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pin {
    pub at: Point,
    /// Distance from its centre to the centre line of a thread that touches it.
    pub keep: f64,
}

/// A point that may touch an edge across a hole.
#[derive(Clone, Copy, Debug)]
pub(super) struct Touch {
    pub point: usize,
    pub edge: usize,
    /// Offset that brings the point beside the edge.
    pub shift: Point,
    /// Least distance.
    pub keep: f64,
    /// How often it counts.
    pub counts: f64,
    /// The side it was on.
    pub was: Hand,
    /// The side it is on at the last evaluation of the energy.
    pub is: Hand,
}

/// A pin that may touch an edge of its hole.
#[derive(Clone, Copy, Debug)]
pub(super) struct PinContact {
    pub pin: usize,
    pub edge: usize,
    /// Offset that brings the pin beside the edge.
    pub shift: Point,
    /// How often it counts.
    pub counts: f64,
    pub was: Hand,
    pub is: Hand,
}

/// The position of a point relative to an edge.
pub(super) struct Beside {
    /// Where on the edge the nearest place to the point is.
    pub along: f64,
    pub distance: f64,
    /// The unit vector from that place to the point.
    pub away: Point,
    pub hand: Hand,
}

/// The side of an edge a point is on; none beyond the ends of the edge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Hand {
    Left,
    Right,
    Beyond,
}

impl Hand {
    /// Whether a point that is now here has passed through the edge in one step.
    pub fn passed(self, was: Hand) -> bool {
        was != self && was != Hand::Beyond && self != Hand::Beyond
    }
}

/// The position of `p` relative to the edge of a given length that starts at `from`.
#[inline]
pub(super) fn beside(from: Point, Measured { length, direction }: Measured, p: Point) -> Beside {
    let off = p - from;
    let along = off.dot(direction);
    if along > 0.0 && along < length {
        let across = point(-direction.y, direction.x);
        let distance = off.dot(across);
        if distance > 0.0 {
            Beside { along, distance, away: across, hand: Hand::Right }
        } else {
            Beside { along, distance: -distance, away: -across, hand: Hand::Left }
        }
    } else {
        let along = along.clamp(0.0, length);
        let off = off - direction * along;
        let distance = off.length().max(1e-9);
        Beside { along, distance, away: off * (1.0 / distance), hand: Hand::Beyond }
    }
}

/// All possible contacts. Those of threads stand in [`ZONES`], the nearest first.
#[derive(Default)]
pub(super) struct Contacts {
    pub threads: Vec<Touch>,
    pub pins: Vec<PinContact>,
    /// The end of each zone among the threads.
    zones: [usize; ZONES],
    found: [Vec<Touch>; ZONES],
    /// Room for the sides of one hole, and for their order from top to bottom.
    border: Vec<BorderSide>,
    order: Vec<usize>,
}

/// Contacts are sorted into so many zones by how far they are from touching.
const ZONES: usize = 12;

impl Contacts {
    /// Finds every contact that is possible before anything has moved farther than
    /// half of [`MARGIN`]. Returns how many pairs of places were compared; `None` when
    /// that would be more than `most`, or there are more than [`CONTACTS`] contacts,
    /// and the search was broken off.
    pub fn find(
        &mut self,
        holes: &[Hole],
        shift: &dyn Fn(Cell) -> Point,
        pins: &[Pin],
        chains: &Chains,
        edges: &[Measured],
        most: u64,
    ) -> Option<usize> {
        let mut compared = 0;
        self.found.iter_mut().for_each(Vec::clear);
        self.pins.clear();
        let mut border = std::mem::take(&mut self.border);
        for (hole, &counts) in holes.iter().zip(&chains.hole_counts) {
            if counts == Some(0.0) {
                continue;
            }
            border.clear();
            border.extend(hole.border.iter().map(|b| {
                let counts = counts.unwrap_or(chains.counts[b.segment]);
                BorderSide::new(b, shift(b.cell), counts, chains, edges)
            }));
            compared += self.find_across(chains, edges, &border, most)?;
            if compared as u64 > most {
                return None;
            }
            for &PinInHole { pin, cell } in &hole.pins {
                let shift = shift(cell);
                let (at, keep) = (pins[pin].at + shift, pins[pin].keep + MARGIN);
                for b in border.iter().filter(|b| b.counts > 0.0 && b.is_near(at, keep)) {
                    compared += b.edges.len();
                    for edge in b.edges.clone() {
                        let from = chains.points[chains.edges[edge].from] + b.shift;
                        let stands = beside(from, edges[edge], at);
                        if stands.distance < keep {
                            let was = stands.hand;
                            let shift = shift - b.shift;
                            self.pins.push(PinContact { pin, edge, shift, counts: b.counts, was, is: was });
                        }
                    }
                }
            }
        }
        self.border = border;
        self.threads.clear();
        for (zone, end) in self.found.iter().zip(&mut self.zones) {
            self.threads.extend_from_slice(zone);
            *end = self.threads.len();
        }
        Some(compared)
    }

    /// How many contacts of threads can be met, the nearest first, when no point has
    /// moved farther than `moved` since they were found.
    pub fn near(&self, moved: f64) -> usize {
        let zone = (2.0 * moved / MARGIN * ZONES as f64) as usize;
        self.zones[zone.min(ZONES - 1)]
    }

    /// Finds contacts of threads across one hole. Returns how many pairs of places were
    /// compared, or `None` as for all holes.
    fn find_across(
        &mut self,
        chains: &Chains,
        edges: &[Measured],
        border: &[BorderSide],
        most: u64,
    ) -> Option<usize> {
        let mut compared = border.len();
        let reach = KEEP + MARGIN;
        let mut order = std::mem::take(&mut self.order);
        order.clear();
        order.extend(0..border.len());
        order.sort_by(|&i, &j| border[i].low.y.total_cmp(&border[j].low.y));
        for (k, &i) in order.iter().enumerate() {
            if compared as u64 > most || self.found.iter().map(Vec::len).sum::<usize>() > CONTACTS {
                return None;
            }
            for &j in &order[k + 1..] {
                compared += 1;
                if border[j].low.y > border[i].high.y + reach {
                    break;
                }
                if border[j].low.x > border[i].high.x + reach || border[i].low.x > border[j].high.x + reach {
                    continue;
                }
                compared += 2 * border[i].edges.len() * border[j].edges.len();
                self.find_between(chains, edges, border, i, j);
                self.find_between(chains, edges, border, j, i);
            }
        }
        self.order = order;
        Some(compared)
    }

    /// Checks points of side `i` against edges of side `j`. The crossing at which `i`
    /// begins belongs to it, the one at which it ends does not.
    fn find_between(&mut self, chains: &Chains, edges: &[Measured], border: &[BorderSide], i: usize, j: usize) {
        let m = border.len();
        let (a, b) = (&border[i], &border[j]);
        if b.counts == 0.0 {
            return;
        }
        let begins = (j + 1) % m == i;
        let ends = (i + 1) % m == j;
        let near = KEEP / APART;
        let count = a.edges.len();
        let mut arc = 0.0;
        for k in 0..count {
            // Go along the side clockwise round the hole.
            let (p, at, step) = if a.along {
                let e = a.edges.start + k;
                (chains.edges[e].from, chains.points[chains.edges[e].from] + a.shift, edges[e].length)
            } else {
                let e = a.edges.end - 1 - k;
                let edge = chains.edges[e];
                (edge.to, chains.points[edge.to] + edge.shift + a.shift, edges[e].length)
            };
            let here = arc;
            arc += step;
            if begins && k == 0 || !b.is_near(at, KEEP + MARGIN) {
                continue;
            }
            let mut keep = KEEP;
            if begins {
                keep = keep.min(here * near);
            }
            if ends {
                keep = keep.min((a.length - here) * near);
            }
            if k == 0 && (j + 2) % m == i {
                keep = keep.min(border[(j + 1) % m].length * near);
            }
            let reach = keep + MARGIN;
            for edge in b.edges.clone() {
                let from = chains.points[chains.edges[edge].from] + b.shift;
                let measured = edges[edge];
                let (off, length) = (at - from, measured.length);
                let along = off.dot(measured.direction);
                let across = off.cross(measured.direction);
                if across.abs() >= reach || along <= -reach || along >= length + reach {
                    continue;
                }
                let stands = beside(from, measured, at);
                if stands.distance < reach {
                    let shift = at - chains.points[p] - b.shift;
                    let was = stands.hand;
                    let zone = ((stands.distance - keep) / MARGIN * ZONES as f64).max(0.0) as usize;
                    self.found[zone.min(ZONES - 1)].push(Touch {
                        point: p,
                        edge,
                        shift,
                        keep,
                        counts: b.counts,
                        was,
                        is: was,
                    });
                }
            }
        }
    }

    /// Accepts the places at which the energy was last evaluated, with the `near` nearest
    /// contacts of threads.
    pub fn reach(&mut self, near: usize) {
        for c in &mut self.threads[..near] {
            c.was = c.is;
        }
        for c in &mut self.pins {
            c.was = c.is;
        }
    }
}

/// One side of a hole during the search for contacts.
struct BorderSide {
    edges: Range<usize>,
    along: bool,
    shift: Point,
    /// Corners of its bounding box.
    low: Point,
    high: Point,
    length: f64,
    /// How often its segment counts.
    counts: f64,
}

impl BorderSide {
    fn new(border: &Border, shift: Point, counts: f64, chains: &Chains, edges: &[Measured]) -> BorderSide {
        let own = chains.first_edge[border.segment]..chains.first_edge[border.segment + 1];
        let mut low = chains.points[border.segment / 2] + shift;
        let mut high = low;
        let mut length = 0.0;
        for e in own.clone() {
            let p = chains.points[chains.edges[e].to] + chains.edges[e].shift + shift;
            low = point(low.x.min(p.x), low.y.min(p.y));
            high = point(high.x.max(p.x), high.y.max(p.y));
            length += edges[e].length;
        }
        BorderSide {
            edges: own,
            along: border.along,
            shift,
            low,
            high,
            length,
            counts,
        }
    }

    fn is_near(&self, p: Point, reach: f64) -> bool {
        p.x > self.low.x - reach
            && p.x < self.high.x + reach
            && p.y > self.low.y - reach
            && p.y < self.high.y + reach
    }
}
