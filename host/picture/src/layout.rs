//! Where the threads of a ground lie once it is worked and pulled tight.

mod balance;
mod chains;
mod contacts;
mod descent;
mod dissection;
mod firmness;
mod holes;
mod lengths;
mod mirror;
mod open_ends;
mod planar;
mod smooth;
mod start;
mod stiffness;
mod tension;
mod twins;
mod work;

use crate::limits::LAYOUT_WORK;
use lace::{Braid, Cell, Grid, Lacework, Lattice, Point, point};

use balance::balance;
use chains::{Chains, straight};
use contacts::Pin;
use descent::descend;
use firmness::{Spring, anchors, makes, springs};
use holes::{Hole, PinInHole, holes};
use mirror::Mirror;
use open_ends::lay_ends;
use planar::{is_planar, outline};
use smooth::smooth;
use start::start;
use stiffness::Stiffness;
use tension::{Anchor, Tension};
use work::Work;

pub(crate) use firmness::weavers;
pub use lengths::{ThreadPerLength, thread_per_length};
pub(crate) use open_ends::ends;

/// The threads have settled when no remaining force is larger than this share of
/// a thread's tension.
const ENOUGH: f64 = 0.0025;
/// Length of the straight pieces of thread, in thread diameters.
const PIECE: f64 = 0.95;
/// Length of a thread half round a pin, in radii of its way.
const HALF_ROUND: f64 = 2.6;
/// The same while the threads are only brought near their places, and how near: until
/// no remaining force is larger than this.
const COARSE: f64 = 1.6;
const ROUGH: f64 = 1.0;
/// The least residual of threads that do not lie flat.
const NOT_FLAT: f64 = 1.0;
/// Shares of their size to which the stitches of a piece are drawn together at the start,
/// one after another, if threads would lie across each other.
const DRAWN_TOGETHER: [f64; 3] = [0.6, 0.3, 0.1];
/// A thread gives where it presses on a pin, so much at most: it begins to press so
/// much earlier, in thread diameters.
const NAP: f64 = 0.14;

/// A pin among the threads.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PinDisc {
    /// Position of its stitch in the ground.
    pub stitch: usize,
    /// Centre in mm, in the cell of the stitch.
    pub at: Point,
    /// Radius in mm.
    pub radius: f64,
}

/// The places of the threads, crossings and pins of one repeat, in millimetres.
#[derive(Clone, Debug)]
pub struct Layout {
    /// The grid it was laid out on.
    pub grid: Grid,
    /// Thread diameter in mm.
    pub thread_mm: f64,
    /// The steps from one cell to the next, mm.
    pub lattice: Lattice,
    /// Place of each crossing of [`lace::Braid::nodes`], in its own cell.
    pub nodes: Vec<Point>,
    /// Centre line of each segment of [`lace::Braid::segments`]: points from
    /// the crossing it leaves to the one it arrives at (in that one's cell),
    /// both included.
    pub lines: Vec<Vec<Point>>,
    /// The pins.
    pub pins: Vec<PinDisc>,
    /// How the layout was computed.
    pub report: LayoutReport,
}

/// How a layout was computed and how good it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LayoutReport {
    /// Steps of the solver.
    pub iterations: usize,
    /// Largest remaining force, relative to the tension of one thread.
    pub residual: f64,
    /// Whether the residual fell below the solver's bound.
    pub converged: bool,
    /// Smallest distance between the centre lines of threads that do not cross there,
    /// in thread diameters; 0 when there was no work left to measure it.
    pub clearance: f64,
    /// The work done; its unit is that of [`LAYOUT_WORK`].
    pub work: u64,
    /// Whether the threads were left as they lay because all the work allowed was
    /// done.
    pub gave_up: bool,
}

/// Lays out the threads of a ground under tension.
///
/// `thread_mm` is the diameter of the thread. Where the work would exceed
/// [`LAYOUT_WORK`], the threads stay as they lie by then, and the report says so.
pub fn lay_out(ground: &Lacework, grid: &Grid, thread_mm: f64) -> Layout {
    lay_out_within(ground, grid, thread_mm, LAYOUT_WORK)
}

/// The same with another limit of work.
pub fn lay_out_within(ground: &Lacework, grid: &Grid, thread_mm: f64, most_work: u64) -> Layout {
    let braid = ground.braid();
    let lattice = lattice_mm(ground, grid);
    // The solver measures in thread diameters.
    let small = 1.0 / thread_mm;
    let shift = |cell: Cell| lattice.place(cell) * small;
    // What open segments enclose is no hole.
    let open: Vec<bool> = (0..braid.segments.len()).map(|s| ground.is_open_segment(s)).collect();
    let mut holes = holes(braid);
    holes.retain(|hole| hole.border.iter().all(|b| !open[b.segment]));
    let radius = pin_radius(grid);
    let pins: Vec<Pin> = braid
        .pins
        .iter()
        .map(|pin| Pin { at: grid.mm(ground.places()[pin.stitch]) * small, keep: radius * small + 0.5 + NAP })
        .collect();
    let worked = start(ground, grid, thread_mm, &makes(ground), 1.0);
    let springs = springs(ground, &holes, &worked, &shift);
    let problem = Problem {
        braid,
        holes: &holes,
        shift: &shift,
        anchors: &anchors(ground, &worked),
        pins: &pins,
        springs: &springs,
        open: &open,
        drawn_together: &|share| start(ground, grid, thread_mm, &makes(ground), share).nodes,
        mirror: Mirror::of(ground),
        unit: thread_mm / grid.step_x_mm(),
    };
    let Settled { chains, report } = problem.solve(&worked.nodes, Work::new(most_work));
    let mut lines = smooth(braid, &chains);
    // Where threads are crowded, rounding the corners of one may move it
    // through another: correctness comes before smoothness.
    if !problem.planar(&lines, &pins) {
        lines = (0..lines.len()).map(|s| chains.line(s)).collect();
    }
    let mut lines: Vec<Vec<Point>> =
        lines.iter().map(|line| line.iter().map(|&p| p * thread_mm).collect()).collect();
    lay_ends(ground, grid, &mut lines);
    Layout {
        grid: *grid,
        thread_mm,
        lattice,
        nodes: chains.points[..braid.nodes.len()].iter().map(|&p| p * thread_mm).collect(),
        lines,
        pins: braid
            .pins
            .iter()
            .zip(&pins)
            .map(|(pin, disc)| PinDisc { stitch: pin.stitch, at: disc.at * thread_mm, radius })
            .collect(),
        report,
    }
}

/// The lattice of a repeat on a grid, mm.
pub(crate) fn lattice_mm(ground: &Lacework, grid: &Grid) -> Lattice {
    let Lattice { across, down } = *ground.lattice();
    Lattice { across: grid.mm(across), down: grid.mm(down) }
}

/// Everything that stays the same however often the threads are laid out.
struct Problem<'a, F> {
    braid: &'a Braid,
    holes: &'a [Hole],
    shift: &'a F,
    anchors: &'a [Anchor],
    pins: &'a [Pin],
    springs: &'a [Spring],
    /// By segment: whether no thread lies in it.
    open: &'a [bool],
    /// The crossings with every stitch drawn together to a share of its size.
    drawn_together: &'a dyn Fn(f64) -> Vec<Point>,
    mirror: Option<Mirror>,
    /// The solver's unit of length, in grid steps across.
    unit: f64,
}

/// Threads that have settled.
struct Settled {
    chains: Chains,
    report: LayoutReport,
}

impl<F: Fn(Cell) -> Point> Problem<'_, F> {
    fn chains(&self, lines: &[Vec<Point>], step: f64) -> Chains {
        let mut chains =
            Chains::new(self.braid, lines, self.holes.len(), self.shift, step, &self.round_pins());
        if let Some(twins) = self.mirror.as_ref().and_then(|m| m.twins(&chains, self.shift, self.unit)) {
            chains.mirror(twins, self.holes);
        }
        chains.leave_out(self.open);
        chains
    }

    /// The segments beside pins, with the length of a thread that goes half round.
    fn round_pins(&self) -> Vec<(usize, f64)> {
        let beside = self.braid.pins.iter().zip(self.pins);
        beside
            .flat_map(|(place, pin)| {
                [place.left, place.right].map(|beside| (beside.segment, HALF_ROUND * pin.keep))
            })
            .collect()
    }

    fn planar(&self, lines: &[Vec<Point>], pins: &[Pin]) -> bool {
        let pins: Vec<Point> = pins.iter().map(|p| p.at).collect();
        is_planar(self.holes, lines, &pins, self.shift)
    }

    /// Lets the threads settle from crossings at `near`; if that fails, from balanced
    /// places.
    fn solve(&self, near: &[Point], mut work: Work) -> Settled {
        let lines = straight(self.braid, near, self.holes, self.shift);
        let mut settled = if self.planar(&lines, self.pins) {
            self.settle(&lines, self.pins, &mut work)
        } else {
            self.settle_round(near, &mut work)
        };
        for again in self.other_starts() {
            if settled.as_ref().is_some_and(|settled| settled.report.converged) || work.is_done() {
                break;
            }
            let again = self.settle_round(&again(), &mut work);
            let left = |s: &Option<Settled>| s.as_ref().map_or(f64::INFINITY, |s| s.report.residual);
            if left(&again) < left(&settled) {
                settled = again;
            }
        }
        if settled.is_none() && self.open.contains(&true) {
            settled = self.settle(&lines, self.pins, &mut work);
        }
        let mut settled = settled.unwrap_or_else(|| {
            let lines = straight(self.braid, near, self.holes, self.shift);
            let chains = Chains::new(self.braid, &lines, self.holes.len(), self.shift, f64::INFINITY, &[]);
            let residual = f64::INFINITY;
            let report = LayoutReport {
                iterations: 0,
                residual,
                converged: false,
                clearance: 0.0,
                work: 0,
                gave_up: false,
            };
            Settled { chains, report }
        });
        settled.report.work = work.spent();
        settled.report.gave_up = work.is_done() && !settled.report.converged;
        settled
    }

    /// Other places to begin from, one after another. In a piece, whose open segments hold
    /// no thread, balanced places mean nothing: there its stitches are drawn together.
    fn other_starts(&self) -> Vec<Box<dyn Fn() -> Vec<Point> + '_>> {
        if self.open.contains(&true) {
            DRAWN_TOGETHER.map(|share| Box::new(move || (self.drawn_together)(share)) as Box<_>).into()
        } else {
            vec![Box::new(|| self.balanced())]
        }
    }

    /// Balanced places of the crossings, which are determined up to a shift, moved
    /// onto the stitches.
    fn balanced(&self) -> Vec<Point> {
        let balanced = balance(self.braid, self.shift);
        let at = |anchor: &Anchor| mean(&mut anchor.nodes.iter().map(|&v| balanced[v]));
        let off = mean(&mut self.anchors.iter().map(|a| a.at)) - mean(&mut self.anchors.iter().map(at));
        let mut balanced: Vec<Point> = balanced.iter().map(|&p| p + off).collect();
        if let Some(mirror) = &self.mirror {
            mirror.centre(&mut balanced, self.shift, self.unit);
        }
        balanced
    }

    /// Every pin in the middle of its hole, with the segments along `lines`.
    fn pins_in_holes(&self, lines: &[Vec<Point>]) -> Vec<Pin> {
        let mut pins = self.pins.to_vec();
        for hole in self.holes {
            for &PinInHole { pin, cell } in &hole.pins {
                let outline = outline(hole, lines, self.shift);
                pins[pin].at = mean(&mut outline.iter().copied()) - (self.shift)(cell);
            }
        }
        pins
    }

    /// Lets the threads settle from straight lines between crossings at `nodes`, with
    /// the pins in the middle of their holes at first. `None` when the lines are not
    /// planar at the start or at the end.
    fn settle_round(&self, nodes: &[Point], work: &mut Work) -> Option<Settled> {
        let lines = straight(self.braid, nodes, self.holes, self.shift);
        let from = self.pins_in_holes(&lines);
        if !self.planar(&lines, &from) {
            return None;
        }
        self.settle(&lines, &from, work)
    }

    /// Lets the threads settle from planar lines, while the pins move from `from` to
    /// their places. `None` when the lines are not planar at the end.
    fn settle(&self, lines: &[Vec<Point>], from: &[Pin], work: &mut Work) -> Option<Settled> {
        let all = |chains: &Chains| (0..lines.len()).map(|s| chains.line(s)).collect::<Vec<_>>();
        let Problem { holes, shift, anchors, springs, .. } = *self;
        let mut tension = Tension::new(holes, shift, from.to_vec(), anchors, springs, *work);
        let mut chains = self.chains(lines, COARSE);
        let mut stiffness = Stiffness::new(&chains, springs, anchors)?;
        let iterations = self.walk(&mut tension, &mut chains, &mut stiffness, from);
        let rough = descend(&mut tension, &mut chains, &mut stiffness, ROUGH, 200);
        let mut chains = self.chains(&all(&chains), PIECE);
        let mut stiffness = Stiffness::new(&chains, springs, anchors)?;
        let fine = descend(&mut tension, &mut chains, &mut stiffness, ENOUGH, 1500);
        let iterations = iterations + rough.steps;
        *work = tension.work;
        // In a piece one hole that does not lie flat is better than threads that lie as
        // they began.
        let planar = self.planar(&all(&chains), self.pins);
        if !planar && !self.open.contains(&true) {
            return None;
        }
        if !work.is_done() {
            tension.find_contacts(&chains);
        }
        let clearance = if tension.work.is_done() { 0.0 } else { tension.clearance(&chains) };
        let report = LayoutReport {
            iterations: iterations + fine.steps,
            residual: if planar { fine.residual } else { fine.residual.max(NOT_FLAT) },
            converged: planar && fine.residual <= ENOUGH,
            clearance,
            work: work.spent(),
            gave_up: false,
        };
        Some(Settled { chains, report })
    }

    /// Moves the pins from `from` to their places; the threads make room for them at
    /// each step, as long as there is work left. Returns the number of solver steps.
    fn walk(
        &self,
        tension: &mut Tension,
        chains: &mut Chains,
        stiffness: &mut Stiffness,
        from: &[Pin],
    ) -> usize {
        let farthest = from.iter().zip(self.pins).map(|(p, q)| (q.at - p.at).length()).fold(0.0, f64::max);
        let strides = ((farthest / 0.25).ceil() as usize).min(400);
        if strides == 0 {
            return 0;
        }
        let mut iterations = 0;
        for stride in 0..=strides {
            for (pin, (p, q)) in tension.pins.iter_mut().zip(from.iter().zip(self.pins)) {
                pin.at = p.at + (q.at - p.at) * (stride as f64 / strides as f64);
            }
            iterations += descend(tension, chains, stiffness, 0.2, 10).steps;
        }
        iterations
    }
}

/// The middle of some points.
fn mean(points: &mut dyn Iterator<Item = Point>) -> Point {
    let (sum, count) = points.fold((point(0.0, 0.0), 0.0), |(s, n), p| (s + p, n + 1.0));
    sum * (1.0 / count)
}

/// Radius of a pin in mm: lace pins are about 0.55 mm thick; fine grids take
/// finer ones, about a seventh of the pin spacing (common practice, no source).
fn pin_radius(grid: &Grid) -> f64 {
    (0.55f64).min(grid.pin_spacing_mm() / 7.0) / 2.0
}
