//! Where the threads of a ground lie when it has been worked and drawn tight.

mod balance;
mod chains;
mod descent;
mod holes;
mod knots;
mod mirror;
mod planar;
mod smooth;
mod start;
mod tension;

use lace::{Braid, Cell, Grid, Ground, Lattice, Point, point};

use balance::balance;
use chains::{Chains, length, straight};
use descent::descend;
use holes::{Hole, holes};
use knots::{drawn, hearts, weavers};
use mirror::Mirror;
use planar::{is_planar, outline};
use smooth::smooth;
use start::start;
use tension::{Anchor, Pin, Tension};

/// The threads have settled when no force larger than this share of a
/// thread's tension is left.
const ENOUGH: f64 = 0.004;
/// How strongly a stitch is held where it was worked: by its pin, or without
/// one by nothing but the threads. Tensions per thread diameter.
const HELD: f64 = 5.0;
const LOOSE: f64 = 0.2;

/// A pin that stands among the threads.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PinDisc {
    /// Position of its stitch in the ground.
    pub stitch: usize,
    /// Centre in mm, in the cell of the stitch.
    pub at: Point,
    /// Radius in mm.
    pub radius: f64,
}

/// Where threads, crossings and pins of one repeat lie, in millimetres.
#[derive(Clone, Debug)]
pub struct Layout {
    /// The grid it was laid out on.
    pub grid: Grid,
    /// Thread diameter in mm.
    pub thread_mm: f64,
    /// Step from one cell to its neighbour across, mm.
    pub across: Point,
    /// Step from one cell to its neighbour down, mm.
    pub down: Point,
    /// Place of each crossing of [`lace::Braid::nodes`], in its own cell.
    pub nodes: Vec<Point>,
    /// Centre line of each segment of [`lace::Braid::segments`]: points from
    /// the crossing it leaves to the one it arrives at (in that one's cell),
    /// both included.
    pub lines: Vec<Vec<Point>>,
    /// The pins.
    pub pins: Vec<PinDisc>,
    /// How it was found.
    pub report: LayoutReport,
}

impl Layout {
    /// The lattice over which the cells are set out, in mm.
    pub fn lattice(&self) -> Lattice {
        Lattice { across: self.across, down: self.down }
    }
}

/// How a layout was found and how good it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LayoutReport {
    /// Steps of the solver.
    pub iterations: usize,
    /// Largest force left over, relative to the tension of one thread.
    pub residual: f64,
    /// Whether the residual fell below the solver's bound.
    pub converged: bool,
    /// Smallest distance between centre lines of threads where they do not
    /// cross, in thread diameters.
    pub clearance: f64,
}

/// Lays the threads of a ground out under tension.
///
/// `thread_mm` is the diameter of the thread.
pub fn lay_out(ground: &Ground, grid: &Grid, thread_mm: f64) -> Layout {
    let braid = ground.braid();
    let across = grid.mm(ground.lattice().across);
    let down = grid.mm(ground.lattice().down);
    // The solver measures in thread diameters.
    let small = 1.0 / thread_mm;
    let lattice = Lattice { across, down };
    let shift = |cell: Cell| lattice.place(cell) * small;
    let holes = holes(braid);
    let radius = pin_radius(grid);
    let pins: Vec<Pin> = braid
        .pins
        .iter()
        .map(|pin| Pin { at: grid.mm(ground.places()[pin.stitch]) * small, keep: radius * small + 0.5 })
        .collect();
    let near = start(ground, grid, thread_mm).iter().map(|&p| p * small).collect::<Vec<_>>();
    let heart = hearts(ground);
    let ties: Vec<Anchor> = (0..ground.stitches().len())
        .map(|s| {
            let first = braid.stitch_nodes[s];
            let work = &ground.stitches()[s].stitch;
            let nodes: Vec<usize> = (first..first + work.crossings().count()).filter(|&v| heart[v]).collect();
            let at = mean(&mut nodes.iter().map(|&v| near[v]));
            Anchor { nodes, at, stiffness: if work.pin().is_some() { HELD } else { LOOSE } }
        })
        .collect();
    let problem = Problem {
        braid,
        holes: &holes,
        shift: &shift,
        ties: &ties,
        drawn: &drawn(ground, &heart),
        woven: &weavers(ground),
        mirror: Mirror::of(ground),
        unit: thread_mm / grid.step_x_mm(),
    };
    let mut settled = problem.settle(&near, &pins, &pins);
    if !settled.as_ref().is_some_and(|(_, report)| report.converged) {
        let balanced = balance(braid, shift);
        // Balanced places are found up to a shift.
        let at = |t: &Anchor| mean(&mut t.nodes.iter().map(|&v| balanced[v]));
        let off = mean(&mut ties.iter().map(|t| t.at)) - mean(&mut ties.iter().map(at));
        let mut balanced: Vec<Point> = balanced.iter().map(|&p| p + off).collect();
        if let Some(mirror) = &problem.mirror {
            mirror.centre(&mut balanced, shift, problem.unit);
        }
        let lines = straight(braid, &balanced, &holes, shift);
        let mut from = pins.clone();
        for hole in &holes {
            for &(pin, cell) in &hole.pins {
                let outline = outline(hole, &lines, &shift);
                from[pin].at = mean(&mut outline.iter().copied()) - shift(cell);
            }
        }
        let again = problem.settle(&balanced, &from, &pins);
        let left = |s: &Option<(Chains, LayoutReport)>| s.as_ref().map_or(f64::INFINITY, |s| s.1.residual);
        if left(&again) < left(&settled) {
            settled = again;
        }
    }
    let (chains, report) = settled.unwrap_or_else(|| {
        let chains = Chains::new(braid, &straight(braid, &near, &holes, shift), shift, f64::INFINITY);
        (chains, LayoutReport { iterations: 0, residual: f64::INFINITY, converged: false, clearance: 0.0 })
    });
    let mut lines = smooth(braid, &chains);
    // Where threads are crowded, rounding the corners of one may lead it
    // through another: order comes before smoothness.
    if !problem.planar(&lines, &pins) {
        lines = (0..lines.len()).map(|s| chains.line(s)).collect();
    }
    Layout {
        grid: *grid,
        thread_mm,
        across,
        down,
        nodes: chains.points[..braid.nodes.len()].iter().map(|&p| p * thread_mm).collect(),
        lines: lines.iter().map(|line| line.iter().map(|&p| p * thread_mm).collect()).collect(),
        pins: braid
            .pins
            .iter()
            .zip(&pins)
            .map(|(pin, disc)| PinDisc { stitch: pin.stitch, at: disc.at * thread_mm, radius })
            .collect(),
        report,
    }
}

/// What stays the same however often the threads are laid.
struct Problem<'a, F> {
    braid: &'a Braid,
    holes: &'a [Hole],
    shift: &'a F,
    ties: &'a [Anchor],
    drawn: &'a [f64],
    woven: &'a [bool],
    mirror: Option<Mirror>,
    unit: f64,
}

impl<F: Fn(Cell) -> Point> Problem<'_, F> {
    fn chains(&self, lines: &[Vec<Point>], step: f64) -> Chains {
        let mut chains = Chains::new(self.braid, lines, self.shift, step);
        chains.twins = self.mirror.as_ref().and_then(|m| m.twins(&chains, self.shift, self.unit));
        if let Some(twins) = &chains.twins {
            twins.even_places(&mut chains.points);
        }
        chains
    }

    fn planar(&self, lines: &[Vec<Point>], pins: &[Pin]) -> bool {
        let pins: Vec<Point> = pins.iter().map(|p| p.at).collect();
        is_planar(self.holes, lines, &pins, self.shift)
    }

    /// Lets the threads settle from straight lines between crossings at
    /// `nodes`, while the pins walk from `from` to `pins`. `None` when the
    /// lines are wrong at the beginning or at the end.
    fn settle(&self, nodes: &[Point], from: &[Pin], pins: &[Pin]) -> Option<(Chains, LayoutReport)> {
        let lines = straight(self.braid, nodes, self.holes, self.shift);
        if !self.planar(&lines, from) {
            return None;
        }
        let all = |chains: &Chains| (0..lines.len()).map(|s| chains.line(s)).collect::<Vec<_>>();
        let mut tension =
            Tension::new(self.holes, self.shift, from.to_vec(), self.ties, self.drawn, self.woven);
        let mut chains = self.chains(&lines, 1.5);
        let far = from.iter().zip(pins).map(|(p, q)| length(q.at - p.at)).fold(0.0, f64::max);
        let walk = ((far / 0.25).ceil() as usize).min(400);
        let mut iterations = 0;
        // The threads make room for the pins before these go anywhere.
        for step in 0..=walk {
            if walk == 0 {
                break;
            }
            for (pin, (p, q)) in tension.pins.iter_mut().zip(from.iter().zip(pins)) {
                pin.at = p.at + (q.at - p.at) * (step as f64 / walk as f64);
            }
            iterations += descend(&mut tension, &mut chains, 0.2, 10).steps;
        }
        iterations += descend(&mut tension, &mut chains, 0.03, 200).steps;
        let mut chains = self.chains(&all(&chains), 0.9);
        let fine = descend(&mut tension, &mut chains, ENOUGH, 1500);
        if !self.planar(&all(&chains), pins) {
            return None;
        }
        tension.find_contacts(&chains);
        let report = LayoutReport {
            iterations: iterations + fine.steps,
            residual: fine.residual,
            converged: fine.residual <= ENOUGH,
            clearance: tension.clearance(&chains),
        };
        Some((chains, report))
    }
}

/// The middle of some points.
fn mean(points: &mut dyn Iterator<Item = Point>) -> Point {
    let (sum, count) = points.fold((point(0.0, 0.0), 0.0), |(s, n), p| (s + p, n + 1.0));
    sum * (1.0 / count)
}

/// Radius of a pin in mm: lace pins are about 0.55 mm thick, finer ones are
/// taken for fine grids, about a seventh of the pin spacing (common practice,
/// no source).
fn pin_radius(grid: &Grid) -> f64 {
    (0.55f64).min(grid.pin_spacing_mm() / 7.0) / 2.0
}
