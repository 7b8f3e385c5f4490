//! Where the threads of a ground lie when it has been worked and drawn tight.

mod start;

use lace::{Grid, Ground, Point};

use start::start;

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
    let nodes = start(ground, grid, thread_mm);
    let across = grid.mm(ground.lattice().across);
    let down = grid.mm(ground.lattice().down);
    let braid = ground.braid();
    let lines = braid
        .segments
        .iter()
        .enumerate()
        .map(|(out, segment)| {
            let [i, j] = segment.cell.map(|c| c as f64);
            let to = braid.map.arrival(out) / 2;
            vec![nodes[out / 2], nodes[to] + across * i + down * j]
        })
        .collect();
    let pins = braid
        .pins
        .iter()
        .map(|pin| PinDisc {
            stitch: pin.stitch,
            at: grid.mm(ground.places()[pin.stitch]),
            radius: pin_radius(grid),
        })
        .collect();
    let report = LayoutReport { iterations: 0, residual: f64::INFINITY, converged: false, clearance: 0.0 };
    Layout { grid: *grid, thread_mm, across, down, nodes, lines, pins, report }
}

/// Radius of a pin in mm: lace pins are about 0.55 mm thick, finer ones are
/// taken for fine grids, about a seventh of the pin spacing (common practice,
/// no source).
fn pin_radius(grid: &Grid) -> f64 {
    (0.55f64).min(grid.pin_spacing_mm() / 7.0) / 2.0
}
