//! `pairwise-facts/1`: everything computed about one ground.

use catalogue::Chosen;
use indexmap::IndexMap;
use lace::Ground;
use picture::layout::Layout;
use schemars::JsonSchema;
use serde::Serialize;

use crate::finding::Finding;
use crate::measures::Measures;
use crate::order::Order;
use crate::repeat::Repeat;

/// Name and number of the format.
pub const FORMAT: &str = "pairwise-facts/1";

/// Everything computed about one ground.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[schemars(title = FORMAT)]
pub struct Facts {
    /// Name and number of the format.
    #[schemars(extend("const" = FORMAT))]
    pub format: &'static str,
    /// Id of the ground.
    pub ground: String,
    /// Id of the variety.
    pub variety: String,
    /// Every choice with its value.
    pub settings: IndexMap<String, String>,
    /// The repeat itself.
    pub repeat: Repeat,
    /// Pairs that hang across one upright repeat.
    pub pairs_across: usize,
    /// The closed threads of the repeat.
    pub orbits: Vec<Orbit>,
    /// Always true: what does not hang together is refused.
    pub hangs_together: bool,
    /// Always true: what cannot be worked is refused.
    pub workable: bool,
    /// Holes between the pairs in one repeat.
    pub faces: usize,
    /// Where the threads go in the long run, leftmost first.
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
    pub layout: ThreadLayout,
    /// What the check warns of.
    pub warnings: Vec<Finding>,
    /// The order of working.
    pub order: Order,
}

/// One closed thread.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Orbit {
    /// Stitches visited until it is back in the same stitch and position.
    pub stitches: usize,
    /// Cells of the repeat as it is defined by which it has moved then: across, down.
    pub cells: [i64; 2],
}

/// One way in which some of the threads go.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Course {
    /// To the left, to the right, or back to their own columns.
    pub travel: Travel,
    /// Grid steps to the right (negative: to the left) for every grid step down.
    pub slope: f64,
    /// How many threads of one upright repeat go so.
    pub threads: usize,
}

/// Where threads go in the long run.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Travel {
    /// Across the area to the left.
    Left,
    /// Back to their own columns.
    Stays,
    /// Across the area to the right.
    Right,
}

/// How threads of one thickness found their places.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct ThreadLayout {
    /// Thickness of the thread, mm.
    pub thread_mm: f64,
    /// How many wraps of it lie between two footside pins.
    pub wraps_between_pins: f64,
    /// Whether every thread came to rest.
    pub settled: bool,
    /// Steps of the solver.
    pub iterations: usize,
    /// The largest force left over; 1 is the tension of one thread.
    pub residual_tensions: f64,
    /// Smallest distance between the middles of threads that do not cross, in thread widths.
    pub clearance_thread_widths: f64,
}

impl From<&lace::Course> for Course {
    fn from(course: &lace::Course) -> Course {
        Course { travel: course.travel.into(), slope: course.slope, threads: course.threads }
    }
}

impl From<lace::Travel> for Travel {
    fn from(travel: lace::Travel) -> Travel {
        match travel {
            lace::Travel::Left => Travel::Left,
            lace::Travel::Stays => Travel::Stays,
            lace::Travel::Right => Travel::Right,
        }
    }
}

impl From<&Layout> for ThreadLayout {
    fn from(layout: &Layout) -> ThreadLayout {
        ThreadLayout {
            thread_mm: layout.thread_mm,
            wraps_between_pins: layout.grid.pin_spacing_mm() / layout.thread_mm,
            settled: layout.report.converged,
            iterations: layout.report.iterations,
            residual_tensions: layout.report.residual,
            clearance_thread_widths: layout.report.clearance,
        }
    }
}

impl Facts {
    /// Gathers the facts of a ground that was chosen, as laid out for pictures.
    pub fn of(chosen: &Chosen, layout: &Layout) -> Facts {
        let settings = chosen.settings_as_typed();
        Facts::new(&chosen.about().id, &chosen.variety, settings, &chosen.ground, layout)
    }

    /// Gathers the facts of a ground as laid out for pictures: ids of ground
    /// and variety, and every choice with its value.
    pub fn new(
        ground_id: &str,
        variety_id: &str,
        settings: IndexMap<String, String>,
        ground: &Ground,
        layout: &Layout,
    ) -> Facts {
        let orbit = |o: &lace::Orbit| Orbit { stitches: o.entries.len(), cells: o.cells.into() };
        Facts {
            format: FORMAT,
            ground: ground_id.to_owned(),
            variety: variety_id.to_owned(),
            settings,
            repeat: ground.repeat().into(),
            pairs_across: ground.hanging().pairs().len(),
            orbits: ground.orbits().iter().map(orbit).collect(),
            hangs_together: true,
            workable: true,
            faces: ground.map().faces().len(),
            courses: ground.courses().iter().map(Course::from).collect(),
            travel: ground.travel_sentence(),
            mirror_symmetric: ground.is_mirror_symmetric(),
            keeps_pairs: ground.keeps_pairs(),
            measures: (&ground.measures(&layout.grid)).into(),
            layout: layout.into(),
            warnings: ground.warnings().iter().map(Finding::from).collect(),
            order: Order::new(ground),
        }
    }
}
