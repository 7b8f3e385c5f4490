//! Everything computed about a ground, as `facts` prints it (format
//! `pairwise-facts/1`) and as pages show it.

use indexmap::IndexMap;
use lace::{Course, Finding, Ground, Measures, Repeat, number};
use picture::layout::Layout;
use serde::Serialize;

/// The facts of one ground. Field names carry their units.
#[derive(Debug, Serialize)]
pub struct Facts<'a> {
    /// `pairwise-facts/1`.
    pub format: &'static str,
    /// Id of the ground.
    pub ground: &'a str,
    /// Id of the variety.
    pub variety: &'a str,
    /// Every choice with its value.
    pub settings: IndexMap<String, String>,
    /// The repeat itself.
    pub repeat: &'a Repeat,
    /// Pairs that hang across one upright repeat.
    pub pairs_across: usize,
    /// The closed threads of the repeat.
    pub orbits: Vec<OrbitFacts>,
    /// True for every ground: others are refused before.
    pub hangs_together: bool,
    /// True for every ground: others are refused before.
    pub workable: bool,
    /// Holes between the pairs in one repeat.
    pub faces: usize,
    /// Where the threads go in the long run.
    pub courses: Vec<Course>,
    /// The same in words.
    pub travel: String,
    /// Whether the ground is its own mirror image, over and under apart.
    pub mirror_symmetric: bool,
    /// Whether every stitch keeps the two threads of a pair together.
    pub keeps_pairs: bool,
    /// Pairs, pins and moves at the pin spacing.
    pub measures: Measures,
    /// How the threads were laid out for pictures.
    pub layout: LayoutFacts,
    /// What the check warns of.
    pub warnings: &'a [Finding],
}

/// One closed thread.
#[derive(Debug, Serialize)]
pub struct OrbitFacts {
    /// Stitches visited until it is back in the same stitch and position.
    pub stitches: usize,
    /// Lattice cells it has moved by then.
    pub cells: [i64; 2],
}

/// How threads of one thickness found their places.
#[derive(Debug, Serialize)]
pub struct LayoutFacts {
    /// Thickness of the thread.
    pub thread_mm: f64,
    /// How many wraps of it lie between two footside pins.
    pub wraps_between_pins: f64,
    /// Whether every thread came to rest.
    pub settled: bool,
    /// Steps of the solver.
    pub iterations: usize,
    /// The largest force left over, in tensions of one thread.
    pub residual_tensions: f64,
    /// Smallest distance between the middles of threads that do not cross.
    pub clearance_thread_widths: f64,
}

impl LayoutFacts {
    /// Reports on a layout.
    pub fn new(layout: &Layout) -> LayoutFacts {
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
    /// Gathers the facts of a ground as laid out for pictures.
    pub fn new(
        id: &'a str,
        variety: &'a str,
        settings: IndexMap<String, String>,
        ground: &'a Ground,
        layout: &Layout,
    ) -> Facts<'a> {
        Facts {
            format: "pairwise-facts/1",
            ground: id,
            variety,
            settings,
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

    /// The measures as a person reads them: name and value with unit.
    pub fn lines(&self) -> Vec<(&'static str, String)> {
        let m = &self.measures;
        let count = |n: usize, what: &str| match (n, what) {
            (1, what) => format!("1 {what}"),
            (n, "stitch") => format!("{n} stitches"),
            (n, what) => format!("{n} {what}s"),
        };
        vec![
            (
                "A repeat",
                format!(
                    "{}, {}, {}, {}",
                    count(m.pairs_per_repeat, "pair"),
                    count(m.pins_per_repeat, "pin"),
                    count(m.stitches_per_repeat, "stitch"),
                    count(m.moves_per_repeat, "move")
                ),
            ),
            (
                "Its size",
                format!("{} mm wide, {} mm high", number(m.repeat_width_mm), number(m.repeat_height_mm)),
            ),
            ("Pairs", format!("{} per cm of width", number(m.pairs_per_cm))),
            ("Pins", format!("{} per cm\u{b2}", number(m.pins_per_cm2))),
            ("Moves", format!("{} per cm\u{b2}", number(m.moves_per_cm2))),
            (
                "Left and right",
                if self.mirror_symmetric { "alike (its own mirror image)" } else { "different" }.to_owned(),
            ),
            (
                "Pairs stay together",
                if self.keeps_pairs {
                    "yes, in every stitch"
                } else {
                    "no, some stitches part their two threads"
                }
                .to_owned(),
            ),
        ]
    }
}
