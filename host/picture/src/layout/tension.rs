//! Forces: the energy of threads under equal tension, with its gradient. Lengths
//! are in thread diameters, forces in units of the tension of one thread.

use lace::{Cell, Point, point};

use super::chains::{Chains, Edge};
use super::contacts::{Contacts, Hand, KEEP, MARGIN, Measured, Pin, beside, measure};
use super::firmness::Spring;
use super::holes::Hole;
use super::work::Work;

/// Contact stiffness of threads, per thread diameter: yarn gives a little.
const TOUCH: f64 = 40.0;
/// Contact stiffness of threads against pins, which are brass.
const PIN: f64 = 60.0;
/// Thread is soft until it is pressed together by so much, in diameters.
const SOFT: f64 = 0.25;
/// The share of the least distance at which the wall begins.
const WALL: f64 = 0.25;
/// Bending stiffness, in tension times squared diameter: thread is limp and bends
/// within about its own width.
const BEND: f64 = 0.5;
/// Above this pull the crossings of a thread slip along it: its pull then grows only
/// by a share of what it would.
const SLIDES: f64 = 1.4;
const SLIDING: f64 = 0.3;

/// The pull of a stitch to its place.
#[derive(Clone, Debug)]
pub(super) struct Anchor {
    pub nodes: Vec<usize>,
    pub at: Point,
    /// Force per thread diameter.
    pub stiffness: f64,
}

/// The energy of chains of threads. [`Tension::find_contacts`] finds what may
/// touch.
pub(super) struct Tension<'a> {
    holes: &'a [Hole],
    shift: &'a dyn Fn(Cell) -> Point,
    pub pins: Vec<Pin>,
    anchors: &'a [Anchor],
    springs: &'a [Spring],
    contacts: Contacts,
    edges: Vec<Measured>,
    /// How many contacts of threads were met at the last evaluation.
    near: usize,
    /// Where the points were when contacts were found.
    found_at: Vec<Point>,
    /// Gradient of every edge.
    pulls: Vec<Point>,
    /// What evaluating and searching have cost.
    pub work: Work,
}

/// Energy and force of threads pressed together by a length: soft at first, then stiff
/// (thread is compressed the harder the denser it is: C. M. van Wyk, "Note on the
/// compressibility of wool", 1946).
#[inline]
fn press(lack: f64, stiffness: f64) -> (f64, f64) {
    if lack < SOFT {
        let force = stiffness * lack * lack / (2.0 * SOFT);
        (force * lack / 3.0, force)
    } else {
        let beyond = lack - 0.5 * SOFT;
        (stiffness * (0.5 * beyond * beyond + SOFT * SOFT / 24.0), stiffness * beyond)
    }
}

/// Energy and force of two things closer than their least distance: a soft
/// cushion, and an impassable wall when they would overlap completely.
#[inline]
fn touch(distance: f64, keep: f64, stiffness: f64) -> (f64, f64) {
    let (mut energy, mut force) = press(keep - distance, stiffness);
    if distance < WALL * keep {
        let near = libm::log(distance / (WALL * keep));
        energy += near * near;
        force -= 2.0 * near / distance;
    }
    (energy, force)
}

/// What is stored in a stretch of thread of a length, and its pull.
#[inline]
fn stretch(spring: &Spring, length: f64) -> (f64, f64) {
    let pull = spring.stiffness * length;
    if pull <= SLIDES {
        return (length * (0.5 * pull + spring.tight), pull + spring.tight);
    }
    let (begins, beyond) = (SLIDES / spring.stiffness, pull - SLIDES);
    let slid = length - begins;
    let stored = 0.5 * SLIDES * begins + slid * (SLIDES + 0.5 * SLIDING * beyond);
    (stored + spring.tight * length, SLIDES + SLIDING * beyond + spring.tight)
}

/// Applies a force to an edge at a share of its length, split between its ends.
fn push_edge(gradient: &mut [Point], edge: Edge, push: Point, share: f64) {
    gradient[edge.from] += push * (1.0 - share);
    gradient[edge.to] += push * share;
}

/// Something beside an edge that it may touch.
struct Obstacle {
    at: Point,
    /// Its point, if it is a thread, which gives way; pins stand.
    gives_way: Option<usize>,
    /// Least distance.
    keep: f64,
    stiffness: f64,
}

/// The threads as they lie during one evaluation of the energy.
struct Lie<'a> {
    chains: &'a Chains,
    points: &'a [Point],
    edges: &'a [Measured],
}

impl Lie<'_> {
    /// Presses an edge and an obstacle apart, unless it has passed from the side it
    /// was on to the other. Returns the side it is on.
    #[inline]
    fn press_apart(
        &self,
        edge: usize,
        obstacle: &Obstacle,
        was: Hand,
        gradient: &mut [Point],
        energy: &mut f64,
    ) -> Hand {
        let (ends, measured) = (self.chains.edges[edge], self.edges[edge]);
        let stands = beside(self.points[ends.from], measured, obstacle.at);
        if !stands.hand.passed(was) && stands.distance < obstacle.keep {
            let (share, force) = touch(stands.distance, obstacle.keep, obstacle.stiffness);
            *energy += share;
            let push = stands.away * force;
            if let Some(point) = obstacle.gives_way {
                gradient[point] -= push;
            }
            push_edge(gradient, ends, push, stands.along / measured.length);
        }
        stands.hand
    }
}

/// Marks that a thread has passed through something: the energy is infinite.
struct Passed;

impl<'a> Tension<'a> {
    /// `springs` are those of the segments; `work` is what was done before.
    pub fn new(
        holes: &'a [Hole],
        shift: &'a dyn Fn(Cell) -> Point,
        pins: Vec<Pin>,
        anchors: &'a [Anchor],
        springs: &'a [Spring],
        work: Work,
    ) -> Tension<'a> {
        Tension {
            holes,
            shift,
            pins,
            anchors,
            springs,
            contacts: Contacts::default(),
            edges: Vec::new(),
            near: 0,
            found_at: Vec::new(),
            pulls: Vec::new(),
            work,
        }
    }

    /// Finds every contact that is possible before anything has moved farther than
    /// half of [`MARGIN`].
    pub fn find_contacts(&mut self, chains: &Chains) {
        measure(chains, &chains.points, &mut self.edges);
        self.found_at.clear();
        self.found_at.extend_from_slice(&chains.points);
        let compared =
            self.contacts.find(self.holes, self.shift, &self.pins, chains, &self.edges, self.work.left());
        match compared {
            Some(compared) => self.work.count(compared),
            None => self.work.give_up(),
        }
    }

    /// The farthest that a point has moved since the contacts were found.
    pub fn moved(&self, points: &[Point]) -> f64 {
        let squared = |(&p, &q): (&Point, &Point)| (p - q).dot(p - q);
        points.iter().zip(&self.found_at).map(squared).fold(0.0, f64::max).sqrt()
    }

    /// The energy at `points`; writes its gradient to `gradient`. Infinite when a
    /// thread has passed through another or a pin since the last [`Tension::reach`].
    pub fn energy(&mut self, chains: &Chains, points: &[Point], gradient: &mut [Point]) -> f64 {
        measure(chains, points, &mut self.edges);
        let near = self.contacts.near(self.moved(points));
        self.near = near;
        let touching = near + self.contacts.pins.len();
        self.work.count(points.len() + chains.edges.len() + touching);
        gradient.fill(point(0.0, 0.0));
        let mut energy = 0.0;
        self.pull(chains, gradient, &mut energy);
        let pressed = self
            .press_threads(chains, points, near, gradient, &mut energy)
            .and_then(|()| self.press_pins(chains, points, gradient, &mut energy));
        if let Err(Passed) = pressed {
            return f64::INFINITY;
        }
        self.keep_apart(chains, points, gradient, &mut energy);
        self.hold(points, gradient, &mut energy);
        if let Some(twins) = &chains.twins {
            twins.even_forces(gradient);
        }
        energy
    }

    /// Tension and bending of the threads.
    fn pull(&mut self, chains: &Chains, gradient: &mut [Point], energy: &mut f64) {
        let edges = &self.edges;
        let pulls = &mut self.pulls;
        pulls.clear();
        pulls.resize(chains.edges.len(), point(0.0, 0.0));
        // The root mean square times the number of edges equals the length when
        // all edges are equally long and exceeds it otherwise, so it also keeps
        // them even.
        let segments = chains.first_edge.windows(2).zip(self.springs).zip(&chains.counts);
        for ((pair, spring), &counts) in segments.filter(|(_, counts)| **counts > 0.0) {
            let count = (pair[1] - pair[0]) as f64;
            let squares: f64 = edges[pair[0]..pair[1]].iter().map(|e| e.length * e.length).sum();
            let length = (count * squares).sqrt();
            let (stored, pull) = stretch(spring, length);
            *energy += counts * stored;
            let pull = counts * pull;
            for (own, edge) in pulls[pair[0]..pair[1]].iter_mut().zip(&edges[pair[0]..pair[1]]) {
                *own = edge.direction * (pull * count / length * edge.length);
            }
        }
        for &(e, f, counts) in &chains.counted_bends {
            let (Measured { direction: t, length: before }, Measured { direction: u, length: after }) =
                (edges[e], edges[f]);
            let cos = t.dot(u);
            let wide = 0.5 * (before + after);
            let bend = counts * BEND;
            let share = bend * (1.0 - cos) / wide;
            *energy += share;
            let turn = bend / wide;
            let less = 0.5 * share / wide;
            pulls[e] = pulls[e] - (u - t * cos) * (turn / before) - t * less;
            pulls[f] = pulls[f] - (t - u * cos) * (turn / after) - u * less;
        }
        for (edge, &pull) in chains.edges.iter().zip(pulls.iter()) {
            gradient[edge.to] += pull;
            gradient[edge.from] -= pull;
        }
    }

    /// Contact forces between threads.
    fn press_threads(
        &mut self,
        chains: &Chains,
        points: &[Point],
        near: usize,
        gradient: &mut [Point],
        energy: &mut f64,
    ) -> Result<(), Passed> {
        let lie = Lie { chains, points, edges: &self.edges };
        for c in &mut self.contacts.threads[..near] {
            let at = points[c.point] + c.shift;
            let thread = Obstacle { at, gives_way: Some(c.point), keep: c.keep, stiffness: c.counts * TOUCH };
            c.is = lie.press_apart(c.edge, &thread, c.was, gradient, energy);
            if c.is.passed(c.was) {
                return Err(Passed);
            }
        }
        Ok(())
    }

    /// Contact forces against pins, which do not move.
    fn press_pins(
        &mut self,
        chains: &Chains,
        points: &[Point],
        gradient: &mut [Point],
        energy: &mut f64,
    ) -> Result<(), Passed> {
        let lie = Lie { chains, points, edges: &self.edges };
        for c in &mut self.contacts.pins {
            let Pin { at, keep } = self.pins[c.pin];
            let pin = Obstacle { at: at + c.shift, gives_way: None, keep, stiffness: c.counts * PIN };
            c.is = lie.press_apart(c.edge, &pin, c.was, gradient, energy);
            if c.is.passed(c.was) {
                return Err(Passed);
            }
        }
        Ok(())
    }

    /// Spacing of the crossings on one thread.
    fn keep_apart(&self, chains: &Chains, points: &[Point], gradient: &mut [Point], energy: &mut f64) {
        for (segment, (spring, &counts)) in self.springs.iter().zip(&chains.counts).enumerate() {
            if counts == 0.0 {
                continue;
            }
            let first = chains.edges[chains.first_edge[segment]];
            let last = chains.edges[chains.first_edge[segment + 1] - 1];
            let run = points[last.to] + last.shift - points[first.from];
            let squared = run.dot(run);
            if squared < spring.keep * spring.keep {
                let length = squared.sqrt().max(1e-9);
                let lack = spring.keep - length;
                let (stored, force) = press(lack, counts * TOUCH);
                *energy += stored;
                let push = run * (force / length);
                gradient[last.to] -= push;
                gradient[first.from] += push;
            }
        }
    }

    /// Forces that hold stitches at their places.
    fn hold(&self, points: &[Point], gradient: &mut [Point], energy: &mut f64) {
        for anchor in self.anchors {
            let share = 1.0 / anchor.nodes.len() as f64;
            let sum = anchor.nodes.iter().fold(point(0.0, 0.0), |sum, &v| sum + points[v]);
            let off = sum * share - anchor.at;
            *energy += 0.5 * anchor.stiffness * off.dot(off);
            for &v in &anchor.nodes {
                gradient[v] += off * (anchor.stiffness * share);
            }
        }
    }

    /// Accepts the places at which the energy was last evaluated.
    pub fn reach(&mut self) {
        self.contacts.reach(self.near);
    }

    /// Smallest distance between threads that do not cross there, as far as contacts
    /// were searched; right after [`Tension::find_contacts`].
    pub fn clearance(&self, chains: &Chains) -> f64 {
        let points = &chains.points;
        self.contacts
            .threads
            .iter()
            .filter(|c| c.keep >= KEEP)
            .map(|c| {
                let from = points[chains.edges[c.edge].from];
                beside(from, self.edges[c.edge], points[c.point] + c.shift).distance
            })
            .fold(1.0 + MARGIN, f64::min)
    }
}
