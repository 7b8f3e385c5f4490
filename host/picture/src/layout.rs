//! Where the threads of a ground lie when it has been worked and drawn tight.

mod chains;
mod descent;
mod holes;
mod knots;
mod planar;
mod start;
mod tension;

use lace::{Grid, Ground, Point};

use chains::{Chains, straight};
use descent::descend;
use holes::holes;
use knots::{drawn, hearts};
use planar::is_planar;
use start::start;
use tension::{Pin, Tension, Tie};

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
    let braid = ground.braid();
    let across = grid.mm(ground.lattice().across);
    let down = grid.mm(ground.lattice().down);
    // The solver measures in thread diameters.
    let small = 1.0 / thread_mm;
    let shift = |[i, j]: [i64; 2]| (across * i as f64 + down * j as f64) * small;
    let holes = holes(braid);
    let nodes: Vec<Point> = start(ground, grid, thread_mm).iter().map(|&p| p * small).collect();
    let radius = pin_radius(grid);
    let pins: Vec<Pin> = braid
        .pins
        .iter()
        .map(|pin| Pin { at: grid.mm(ground.places()[pin.stitch]) * small, keep: radius * small + 0.5 })
        .collect();
    let heart = hearts(ground);
    let ties: Vec<Tie> = (0..ground.stitches().len())
        .map(|s| {
            let first = braid.stitch_nodes[s];
            let work = &ground.stitches()[s].work;
            Tie {
                nodes: (first..first + work.crossings().count()).filter(|&v| heart[v]).collect(),
                at: grid.mm(ground.places()[s]) * small,
                stiffness: if work.pin().is_some() { 2.0 } else { 0.2 },
            }
        })
        .collect();
    let lines = straight(braid, &nodes, &holes, shift);
    let mut chains = Chains::new(braid, &lines, shift, 1.5);
    if !is_planar(&holes, &lines, &pins.iter().map(|p| p.at).collect::<Vec<_>>(), &shift) {}
    let mut tension = Tension::new(&holes, &shift, pins.clone(), &ties, &drawn(ground, &heart));
    let rough = descend(&mut tension, &mut chains, 0.2, 60);
    let lines: Vec<Vec<Point>> = (0..lines.len()).map(|s| chains.line(s)).collect();
    if !is_planar(&holes, &lines, &pins.iter().map(|p| p.at).collect::<Vec<_>>(), &shift) {}
    let mut chains = Chains::new(braid, &lines, shift, 0.9);
    let fine = descend(&mut tension, &mut chains, 0.01, 400);
    let lines: Vec<Vec<Point>> = (0..lines.len()).map(|s| chains.line(s)).collect();
    let report = LayoutReport {
        iterations: rough.steps + fine.steps,
        residual: fine.residual,
        converged: fine.residual <= 0.01
            && is_planar(&holes, &lines, &pins.iter().map(|p| p.at).collect::<Vec<_>>(), &shift),
        clearance: 0.0,
    };
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

/// Radius of a pin in mm: lace pins are about 0.55 mm thick, finer ones are
/// taken for fine grids, about a seventh of the pin spacing (common practice,
/// no source).
fn pin_radius(grid: &Grid) -> f64 {
    (0.55f64).min(grid.pin_spacing_mm() / 7.0) / 2.0
}
