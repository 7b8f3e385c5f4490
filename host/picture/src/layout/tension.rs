//! What pulls and pushes: the energy of threads under equal tension, with its
//! gradient. Lengths are in thread diameters, forces in units of the tension
//! of one thread.

use lace::{Cell, Point, point};

use super::chains::{Chains, Edge, dot, length};
use super::holes::Hole;

/// Stiffness of touching threads, per thread diameter: yarn gives a little.
const TOUCH: f64 = 40.0;
/// Stiffness of threads lying against pins, which are brass.
const PIN: f64 = 40.0;
/// The share of the distance to be kept at which the wall begins.
const WALL: f64 = 0.25;
/// Bending stiffness, tension times squared diameter: thread is limp, it turns
/// over about its own width.
const BEND: f64 = 0.5;
/// How far from their crossing two threads have come apart to one diameter.
const APART: f64 = 1.5;
/// Least distance of two crossings on one thread.
const CROSSINGS: f64 = 1.1;
/// The same for the two crossings of a twist: half a turn of a cord.
const TWIST: f64 = 1.6;
/// The same for two neighbours between which a weaver passes, as in a tally:
/// the lacemaker keeps them apart while she weaves (common practice).
const WOVEN: f64 = 2.2;
/// Tension inside a stitch that is closed by twists.
const DRAWN: f64 = 2.5;
/// How crossings on legs keep away from each other, so that they spread evenly.
const SPREAD: f64 = 0.5;
/// How much farther than needed pairs are looked for.
pub(super) const MARGIN: f64 = 0.5;

/// A point that may touch an edge across a hole.
#[derive(Clone, Copy, Debug)]
struct Touch {
    point: usize,
    edge: usize,
    /// Added to the point to lie beside the edge.
    shift: Point,
    /// Distance to be kept.
    keep: f64,
    /// On which side it was.
    was: Hand,
    /// On which side it is where the energy was last asked for.
    is: Hand,
}

/// A pin that may touch an edge of its hole.
#[derive(Clone, Copy, Debug)]
struct PinContact {
    pin: usize,
    edge: usize,
    shift: Point,
    was: Hand,
    is: Hand,
}

/// A pin, in thread diameters.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pin {
    pub at: Point,
    /// Distance from its centre to the centre line of a thread that lies
    /// against it.
    pub keep: f64,
}

/// A stitch drawn to its place.
#[derive(Clone, Debug)]
pub(super) struct Anchor {
    pub nodes: Vec<usize>,
    pub at: Point,
    /// Force per thread diameter.
    pub stiffness: f64,
}

/// Distances of two crossings that one segment joins.
#[derive(Clone, Copy, Debug)]
struct Space {
    segment: usize,
    keep: f64,
    spread: f64,
    pull: f64,
}

/// The energy. Pairs that may touch are looked for by [`Tension::look`].
pub(super) struct Tension<'a> {
    holes: &'a [Hole],
    shift: &'a dyn Fn(Cell) -> Point,
    pub pins: Vec<Pin>,
    ties: &'a [Anchor],
    spaces: Vec<Space>,
    touches: Vec<Touch>,
    leans: Vec<PinContact>,
    // Stitch space: vector, length, direction and gradient of every edge.
    run: Vec<Point>,
    long: Vec<f64>,
    dir: Vec<Point>,
    pull: Vec<Point>,
}

/// Where a point stands to an edge.
struct Beside {
    /// How far along the edge the place nearest to the point is.
    along: f64,
    far: f64,
    /// From that place to the point, length 1.
    away: Point,
    /// Which side of the edge the point is on; `Beyond` its ends there is none.
    hand: Hand,
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum Hand {
    Left,
    Right,
    Beyond,
}

#[inline]
fn beside(from: Point, dir: Point, long: f64, p: Point) -> Beside {
    let off = p - from;
    let along = dot(off, dir);
    if along > 0.0 && along < long {
        let across = point(-dir.y, dir.x);
        let far = dot(off, across);
        if far > 0.0 {
            Beside { along, far, away: across, hand: Hand::Right }
        } else {
            Beside { along, far: -far, away: across * -1.0, hand: Hand::Left }
        }
    } else {
        let along = along.clamp(0.0, long);
        let off = off - dir * along;
        let far = length(off).max(1e-9);
        Beside { along, far, away: off * (1.0 / far), hand: Hand::Beyond }
    }
}

/// Whether a point has gone through an edge in one step.
fn passed(was: Hand, is: Hand) -> bool {
    was != is && was != Hand::Beyond && is != Hand::Beyond
}

/// Energy and force of two things nearer than they are to keep. A soft cushion;
/// only when they come to lie in each other a wall that nothing passes.
#[inline]
fn touch(far: f64, keep: f64, stiffness: f64) -> (f64, f64) {
    let lack = keep - far;
    let (mut energy, mut force) = (0.5 * stiffness * lack * lack, stiffness * lack);
    if far < WALL * keep {
        let near = libm::log(far / (WALL * keep));
        energy += near * near;
        force -= 2.0 * near / far;
    }
    (energy, force)
}

/// Presses on an edge at a share of its length: its two ends take their parts.
fn press(gradient: &mut [Point], edge: Edge, push: Point, share: f64) {
    gradient[edge.from] = gradient[edge.from] + push * (1.0 - share);
    gradient[edge.to] = gradient[edge.to] + push * share;
}

impl<'a> Tension<'a> {
    pub fn new(
        holes: &'a [Hole],
        shift: &'a dyn Fn(Cell) -> Point,
        pins: Vec<Pin>,
        ties: &'a [Anchor],
        drawn: &[f64],
        woven: &[bool],
    ) -> Tension<'a> {
        let mut spaces: Vec<Space> = drawn
            .iter()
            .enumerate()
            .map(|(segment, d)| Space {
                segment,
                keep: CROSSINGS,
                spread: SPREAD * (1.0 - d),
                pull: 1.0 + (DRAWN - 1.0) * d,
            })
            .collect();
        for hole in holes.iter().filter(|h| h.border.len() == 2) {
            for b in &hole.border {
                spaces[b.segment].keep = TWIST;
            }
        }
        for (space, _) in spaces.iter_mut().zip(woven).filter(|(_, woven)| **woven) {
            space.keep = WOVEN;
        }
        Tension {
            holes,
            shift,
            pins,
            ties,
            spaces,
            touches: Vec::new(),
            leans: Vec::new(),
            run: Vec::new(),
            long: Vec::new(),
            dir: Vec::new(),
            pull: Vec::new(),
        }
    }

    /// Looks for all pairs that may touch before anything has moved farther
    /// than half of [`MARGIN`].
    pub fn find_contacts(&mut self, chains: &Chains) {
        self.touches.clear();
        self.leans.clear();
        self.measure(chains, &chains.points);
        // Arc length from a segment's first crossing to each of its points.
        for hole in self.holes {
            let border: Vec<Side> = hole
                .border
                .iter()
                .map(|b| {
                    let edges = chains.first_edge[b.segment]..chains.first_edge[b.segment + 1];
                    let shift = (self.shift)(b.cell);
                    let mut low = chains.points[b.segment / 2] + shift;
                    let mut high = low;
                    let mut long = 0.0;
                    for e in edges.clone() {
                        let p = chains.points[chains.edges[e].to] + chains.edges[e].shift + shift;
                        low = point(low.x.min(p.x), low.y.min(p.y));
                        high = point(high.x.max(p.x), high.y.max(p.y));
                        long += self.long[e];
                    }
                    Side { edges, along: b.along, shift, low, high, long }
                })
                .collect();
            self.look_across(chains, &border);
            for &(pin, cell) in &hole.pins {
                let shift = (self.shift)(cell);
                let (at, keep) = (self.pins[pin].at + shift, self.pins[pin].keep + MARGIN);
                for b in border.iter().filter(|b| b.near(at, keep)) {
                    for edge in b.edges.clone() {
                        let from = chains.points[chains.edges[edge].from] + b.shift;
                        let stands = beside(from, self.dir[edge], self.long[edge], at);
                        if stands.far < keep {
                            let was = stands.hand;
                            self.leans.push(PinContact { pin, edge, shift: shift - b.shift, was, is: was });
                        }
                    }
                }
            }
        }
    }

    /// Pairs across one hole.
    fn look_across(&mut self, chains: &Chains, border: &[Side]) {
        let m = border.len();
        let reach = 1.0 + MARGIN;
        let mut order: Vec<usize> = (0..m).collect();
        order.sort_by(|&i, &j| border[i].low.y.total_cmp(&border[j].low.y));
        for (k, &i) in order.iter().enumerate() {
            for &j in &order[k + 1..] {
                if border[j].low.y > border[i].high.y + reach {
                    break;
                }
                if border[j].low.x > border[i].high.x + reach || border[i].low.x > border[j].high.x + reach {
                    continue;
                }
                self.look_between(chains, border, i, j, m);
                self.look_between(chains, border, j, i, m);
            }
        }
    }

    /// Points of the side `i` against edges of the side `j`. The crossing at
    /// which `i` begins belongs to it, the one at which it ends does not.
    fn look_between(&mut self, chains: &Chains, border: &[Side], i: usize, j: usize, m: usize) {
        let (a, b) = (&border[i], &border[j]);
        let begins = (j + 1) % m == i;
        let ends = (i + 1) % m == j;
        let count = a.edges.len();
        let mut arc = 0.0;
        for k in 0..count {
            // Walk the side clockwise round the hole.
            let (p, at, step) = if a.along {
                let e = a.edges.start + k;
                (chains.edges[e].from, chains.points[chains.edges[e].from] + a.shift, self.long[e])
            } else {
                let e = a.edges.end - 1 - k;
                let edge = chains.edges[e];
                (edge.to, chains.points[edge.to] + edge.shift + a.shift, self.long[e])
            };
            let here = arc;
            arc += step;
            if begins && k == 0 || !b.near(at, 1.0 + MARGIN) {
                continue;
            }
            let mut keep = 1.0f64;
            if begins {
                keep = keep.min(here / APART);
            }
            if ends {
                keep = keep.min((a.long - here) / APART);
            }
            if k == 0 && (j + 2) % m == i {
                keep = keep.min(border[(j + 1) % m].long / APART);
            }
            for edge in b.edges.clone() {
                let from = chains.points[chains.edges[edge].from] + b.shift;
                let stands = beside(from, self.dir[edge], self.long[edge], at);
                if stands.far < keep + MARGIN {
                    let shift = at - chains.points[p] - b.shift;
                    let was = stands.hand;
                    self.touches.push(Touch { point: p, edge, shift, keep, was, is: was });
                }
            }
        }
    }

    fn measure(&mut self, chains: &Chains, points: &[Point]) {
        self.run.clear();
        self.long.clear();
        self.dir.clear();
        for e in &chains.edges {
            let run = points[e.to] + e.shift - points[e.from];
            let long = length(run).max(1e-9);
            self.run.push(run);
            self.long.push(long);
            self.dir.push(run * (1.0 / long));
        }
    }

    /// The energy at `points`; its gradient goes to `gradient`. Infinite when a
    /// thread has gone through another or through a pin since the last [`Tension::reach`].
    pub fn energy(&mut self, chains: &Chains, points: &[Point], gradient: &mut [Point]) -> f64 {
        self.measure(chains, points);
        let mut energy = 0.0;
        self.pull.clear();
        self.pull.resize(chains.edges.len(), point(0.0, 0.0));
        gradient.fill(point(0.0, 0.0));
        // The root of the mean square times the number of edges is the length
        // when all are equally long and more when they are not, so it keeps
        // them even as well.
        for (pair, space) in chains.first_edge.windows(2).zip(&self.spaces) {
            let count = (pair[1] - pair[0]) as f64;
            let squares: f64 = self.long[pair[0]..pair[1]].iter().map(|l| l * l).sum();
            let long = (count * squares).sqrt();
            energy += space.pull * long;
            for e in pair[0]..pair[1] {
                self.pull[e] = self.run[e] * (space.pull * count / long);
            }
        }
        for &(e, f) in &chains.bends {
            let (t, u) = (self.dir[e], self.dir[f]);
            let cos = dot(t, u);
            let wide = 0.5 * (self.long[e] + self.long[f]);
            let share = BEND * (1.0 - cos) / wide;
            energy += share;
            let turn = BEND / wide;
            let less = 0.5 * share / wide;
            self.pull[e] = self.pull[e] - (u - t * cos) * (turn / self.long[e]) - t * less;
            self.pull[f] = self.pull[f] - (t - u * cos) * (turn / self.long[f]) - u * less;
        }
        for (edge, &pull) in chains.edges.iter().zip(&self.pull) {
            gradient[edge.to] = gradient[edge.to] + pull;
            gradient[edge.from] = gradient[edge.from] - pull;
        }
        for c in &mut self.touches {
            let edge = chains.edges[c.edge];
            let p = points[c.point] + c.shift;
            let stands = beside(points[edge.from], self.dir[c.edge], self.long[c.edge], p);
            c.is = stands.hand;
            if passed(c.was, c.is) {
                return f64::INFINITY;
            }
            if stands.far < c.keep {
                let (share, force) = touch(stands.far, c.keep, TOUCH);
                energy += share;
                let push = stands.away * force;
                gradient[c.point] = gradient[c.point] - push;
                press(gradient, edge, push, stands.along / self.long[c.edge]);
            }
        }
        for c in &mut self.leans {
            let edge = chains.edges[c.edge];
            let pin = self.pins[c.pin];
            let stands = beside(points[edge.from], self.dir[c.edge], self.long[c.edge], pin.at + c.shift);
            c.is = stands.hand;
            if passed(c.was, c.is) {
                return f64::INFINITY;
            }
            if stands.far < pin.keep {
                let (share, force) = touch(stands.far, pin.keep, PIN);
                energy += share;
                press(gradient, edge, stands.away * force, stands.along / self.long[c.edge]);
            }
        }
        for space in &self.spaces {
            let first = chains.edges[chains.first_edge[space.segment]];
            let last = chains.edges[chains.first_edge[space.segment + 1] - 1];
            let run = points[last.to] + last.shift - points[first.from];
            let long = length(run).max(1e-9);
            let lack = (space.keep - long).max(0.0);
            energy -= space.spread * libm::log(long);
            let force = TOUCH * lack + space.spread / long;
            if force > 0.0 {
                energy += 0.5 * TOUCH * lack * lack;
                let push = run * (force / long);
                gradient[last.to] = gradient[last.to] - push;
                gradient[first.from] = gradient[first.from] + push;
            }
        }
        for tie in self.ties {
            let share = 1.0 / tie.nodes.len() as f64;
            let sum = tie.nodes.iter().fold(point(0.0, 0.0), |sum, &v| sum + points[v]);
            let off = sum * share - tie.at;
            energy += 0.5 * tie.stiffness * dot(off, off);
            for &v in &tie.nodes {
                gradient[v] = gradient[v] + off * (tie.stiffness * share);
            }
        }
        if let Some(twins) = &chains.twins {
            twins.even_forces(gradient);
        }
        energy
    }

    /// Takes the places at which the energy was last asked for as reached.
    pub fn reach(&mut self) {
        for c in &mut self.touches {
            c.was = c.is;
        }
        for c in &mut self.leans {
            c.was = c.is;
        }
    }

    /// Smallest distance of threads where they do not cross, as far as pairs
    /// were looked for.
    pub fn clearance(&self, chains: &Chains) -> f64 {
        let points = &chains.points;
        self.touches
            .iter()
            .filter(|c| c.keep >= 1.0)
            .map(|c| {
                let edge = chains.edges[c.edge];
                let run = points[edge.to] + edge.shift - points[edge.from];
                let long = length(run).max(1e-9);
                beside(points[edge.from], run * (1.0 / long), long, points[c.point] + c.shift).far
            })
            .fold(1.0 + MARGIN, f64::min)
    }
}

/// One side of a hole while pairs are looked for.
struct Side {
    edges: std::ops::Range<usize>,
    along: bool,
    shift: Point,
    low: Point,
    high: Point,
    long: f64,
}

impl Side {
    fn near(&self, p: Point, reach: f64) -> bool {
        p.x > self.low.x - reach
            && p.x < self.high.x + reach
            && p.y > self.low.y - reach
            && p.y < self.high.y + reach
    }
}
