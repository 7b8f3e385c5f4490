//! The facts of a ground as JSON (format `pairwise-facts/1`).

use catalogue::Chosen;
use indexmap::IndexMap;
use lace::{Course, Finding, Measures, Repeat};
use picture::layout::Layout;
use serde::Serialize;

use crate::failure::Failure;

/// The facts of a ground as laid out for pictures.
pub fn json(chosen: &Chosen, layout: &Layout) -> Result<String, Failure> {
    Ok(format!("{}\n", serde_json::to_string_pretty(&Facts::new(chosen, layout))?))
}

/// The facts of one ground. Field names carry their units.
#[derive(Debug, Serialize)]
struct Facts<'a> {
    /// `pairwise-facts/1`.
    format: &'static str,
    /// Id of the ground.
    ground: &'a str,
    /// Id of the variety.
    variety: &'a str,
    /// Every choice with its value.
    settings: IndexMap<String, String>,
    /// The repeat itself.
    repeat: &'a Repeat,
    /// Pairs that hang across one upright repeat.
    pairs_across: usize,
    /// The closed threads of the repeat.
    orbits: Vec<OrbitFacts>,
    /// True for every ground: others are refused before.
    hangs_together: bool,
    /// True for every ground: others are refused before.
    workable: bool,
    /// Holes between the pairs in one repeat.
    faces: usize,
    /// Where the threads go in the long run.
    courses: Vec<Course>,
    /// The same in words.
    travel: String,
    /// Whether the ground is its own mirror image, over and under apart.
    mirror_symmetric: bool,
    /// Whether every stitch keeps the two threads of a pair together.
    keeps_pairs: bool,
    /// Pairs, pins and moves at the pin spacing.
    measures: Measures,
    /// How the threads were laid out for pictures.
    layout: LayoutFacts,
    /// What the check warns of.
    warnings: &'a [Finding],
}

/// One closed thread.
#[derive(Debug, Serialize)]
struct OrbitFacts {
    /// Stitches visited until it is back in the same stitch and position.
    stitches: usize,
    /// Lattice cells it has moved by then.
    cells: [i64; 2],
}

/// How threads of one thickness found their places.
#[derive(Debug, Serialize)]
struct LayoutFacts {
    /// Thickness of the thread.
    thread_mm: f64,
    /// How many wraps of it lie between two footside pins.
    wraps_between_pins: f64,
    /// Whether every thread came to rest.
    settled: bool,
    /// Steps of the solver.
    iterations: usize,
    /// The largest force left over, in tensions of one thread.
    residual_tensions: f64,
    /// Smallest distance between the middles of threads that do not cross.
    clearance_thread_widths: f64,
}

impl LayoutFacts {
    /// Reports on a layout.
    fn new(layout: &Layout) -> LayoutFacts {
        LayoutFacts {
            thread_mm: layout.thread_mm,
            wraps_between_pins: layout.grid.pin_spacing_mm() / layout.thread_mm,
            settled: layout.report.converged,
            iterations: layout.report.iterations,
            residual_tensions: layout.report.residual,
            clearance_thread_widths: layout.report.clearance,
        }
    }
}

impl<'a> Facts<'a> {
    fn new(chosen: &'a Chosen, layout: &Layout) -> Facts<'a> {
        let ground = &chosen.ground;
        Facts {
            format: "pairwise-facts/1",
            ground: &chosen.about().id,
            variety: &chosen.variety,
            settings: chosen.settings_as_typed(),
            repeat: ground.repeat(),
            pairs_across: ground.hanging().pairs().len(),
            orbits: ground
                .orbits()
                .iter()
                .map(|o| OrbitFacts { stitches: o.entries.len(), cells: o.cells.into() })
                .collect(),
            hangs_together: true,
            workable: true,
            faces: ground.map().faces().len(),
            courses: ground.courses().to_vec(),
            travel: ground.travel_sentence(),
            mirror_symmetric: ground.is_mirror_symmetric(),
            keeps_pairs: ground.keeps_pairs(),
            measures: ground.measures(&layout.grid),
            layout: LayoutFacts::new(layout),
            warnings: ground.warnings(),
        }
    }
}
