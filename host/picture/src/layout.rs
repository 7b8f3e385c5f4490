//! Where the threads of a ground lie when it has been worked and drawn tight.

use lace::{Ground, Grid, Point};

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
    let _ = (ground, grid, thread_mm);
    unreachable!("written next")
}
