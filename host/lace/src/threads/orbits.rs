//! Threads: the closed line of each thread on the torus, and whether it
//! travels or stays.

use serde::Serialize;

use crate::colour::pattern::MOST_ROWS;
use crate::ground::Ground;
use crate::repeat::Repeat;
use crate::stitch::PairEffect;
use crate::threads::braid::thread_runs;

/// One closed thread of the repeat.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Orbit {
    /// Entries `(stitch, position 0 to 3)` in the order the thread meets them
    /// until it is back in the first.
    pub entries: Vec<(usize, usize)>,
    /// Lattice cells it has moved by then, in cells of the definition.
    pub cells: [i64; 2],
}

/// Where threads go in the long run.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Travel {
    /// Across the area to the left.
    Left,
    /// It comes back to its own column.
    Stays,
    /// Across the area to the right.
    Right,
}

impl Travel {
    /// `travels left`, `stays`, `travels right`.
    pub const fn words(self) -> &'static str {
        match self {
            Travel::Left => "travels left",
            Travel::Stays => "stays",
            Travel::Right => "travels right",
        }
    }
}

/// All closed threads of a correctly wired repeat.
pub(crate) fn orbits(repeat: &Repeat, leg_of_exit: &[usize]) -> Vec<Orbit> {
    let (_, _, _, thread_runs) = thread_runs(repeat, leg_of_exit);
    let mut seen = vec![[false; 4]; repeat.stitches.len()];
    let mut orbits = Vec::new();
    for s in 0..repeat.stitches.len() {
        for p in 0..4 {
            if seen[s][p] {
                continue;
            }
            let mut orbit = Orbit { entries: Vec::new(), cells: [0, 0] };
            let (mut stitch, mut position) = (s, p);
            while !seen[stitch][position] {
                seen[stitch][position] = true;
                orbit.entries.push((stitch, position));
                let stage = &thread_runs[stitch][position];
                let cell = repeat.legs[stage.leg].cell;
                orbit.cells = [orbit.cells[0] + i64::from(cell[0]), orbit.cells[1] + i64::from(cell[1])];
                (stitch, position) = stage.next;
            }
            orbits.push(orbit);
        }
    }
    orbits
}

/// One way in which some of the threads of a ground go.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Course {
    /// Left, right or staying.
    pub travel: Travel,
    /// Grid steps to the right (negative: left) for every grid step down.
    pub slope: f64,
    /// How many threads of one upright repeat go so.
    pub threads: usize,
}

impl Ground {
    /// Whether the threads of an orbit travel or stay.
    pub fn travel(&self, orbit: &Orbit) -> Travel {
        let moved = self.lattice().place(orbit.cells);
        if moved.x.abs() < 1e-6 * self.upright().width {
            Travel::Stays
        } else if moved.x > 0.0 {
            Travel::Right
        } else {
            Travel::Left
        }
    }

    /// The ways in which the threads of an upright repeat go, leftmost first.
    pub fn courses(&self) -> Vec<Course> {
        let mut courses: Vec<Course> = Vec::new();
        for orbit in self.orbits() {
            let moved = self.lattice().place(orbit.cells);
            // A closed thread that comes down by q rows of repeats is met q
            // times by a level line as wide as one repeat.
            let threads = self.upright().from_cell(orbit.cells)[1].unsigned_abs() as usize;
            let travel = self.travel(orbit);
            let slope = if travel == Travel::Stays { 0.0 } else { moved.x / moved.y };
            match courses.iter_mut().find(|c| (c.slope - slope).abs() < 1e-9) {
                Some(course) => course.threads += threads,
                None => courses.push(Course { travel, slope, threads }),
            }
        }
        courses.sort_by(|a, b| a.slope.total_cmp(&b.slope));
        courses
    }

    /// For each stitch and each position of its entry the number of the closed
    /// thread that comes in there.
    pub fn entry_orbits(&self) -> Vec<[usize; 4]> {
        let mut of = vec![[0; 4]; self.stitches().len()];
        for (k, orbit) in self.orbits().iter().enumerate() {
            for &(stitch, position) in &orbit.entries {
                of[stitch][position] = k;
            }
        }
        of
    }

    /// For each slot of one repeat the number of the closed thread that hangs
    /// there.
    pub fn slot_orbits(&self) -> Vec<usize> {
        let of = self.entry_orbits();
        let pairs = self.hanging().pairs().iter();
        pairs
            .flat_map(|pair| {
                let leg = &self.legs()[pair.leg];
                let at = |thread: usize| 2 * leg.to.side.index() + (thread + leg.twists as usize) % 2;
                [0, 1].map(|thread| of[leg.to.stitch][at(thread)])
            })
            .collect()
    }

    /// Rows of repeats after which every thread is back in its slot, counted
    /// round a width of so many slots (whole repeats); at most [`MOST_ROWS`].
    pub fn rows_until_threads_return(&self, slots: usize) -> usize {
        let own = 2 * self.hanging().pairs().len() as i64;
        let row = self.hanging().row();
        let mut after = row.clone();
        let mut rows = 1;
        while rows < MOST_ROWS && (0..own).any(|s| (after.apply(s) - s).rem_euclid(slots as i64) != 0) {
            after = after.then(row);
            rows += 1;
        }
        rows
    }

    /// Whether every stitch keeps its pairs: no stitch sends the two threads
    /// of a pair different ways.
    pub fn keeps_pairs(&self) -> bool {
        self.stitches().iter().all(|s| s.stitch.pair_effect() != PairEffect::Split)
    }

    /// What a teacher would say of where the threads go.
    pub fn travel_sentence(&self) -> String {
        let courses = self.courses();
        let total: usize = courses.iter().map(|c| c.threads).sum();
        let keeps = self.keeps_pairs();
        let (one, many) = if keeps { ("pair", "pairs") } else { ("thread", "threads") };
        let count = |threads: usize| if keeps { threads.div_ceil(2) } else { threads };
        let going = |c: &Course| match c.travel {
            Travel::Stays => "in its own column".to_owned(),
            Travel::Left => format!("to the left, {}", pace(c.slope)),
            Travel::Right => format!("to the right, {}", pace(c.slope)),
        };
        if courses.len() == 1 && courses[0].travel == Travel::Stays {
            return format!("Every {one} stays in its own column: colours hang in stripes down the lace.");
        }
        if let [left, right] = &courses[..]
            && left.threads == right.threads
            && left.slope < 0.0
            && (left.slope + right.slope).abs() < 1e-9
        {
            return format!(
                "Every {one} travels: half of them to the left and half to the right, {}.",
                pace(right.slope)
            );
        }
        let parts: Vec<String> = courses
            .iter()
            .map(|c| {
                let n = count(c.threads);
                let verb = match (c.travel, n) {
                    (Travel::Stays, 1) => "stays",
                    (Travel::Stays, _) => "stay",
                    (_, 1) => "travels",
                    _ => "travel",
                };
                let own = if c.travel == Travel::Stays && n != 1 {
                    "in their own columns".to_owned()
                } else {
                    going(c)
                };
                format!("{n} {verb} {own}")
            })
            .collect();
        let all = if courses.iter().all(|c| c.travel != Travel::Stays) { "Every" } else { "Not every" };
        format!("{all} {one} travels. Of {} {many} in a repeat {}.", count(total), parts.join("; "))
    }
}

/// How fast something travels across, for a sentence: `slope` in grid steps
/// across for every step down, to either side.
pub(crate) fn pace(slope: f64) -> String {
    let slope = slope.abs();
    if (slope - 1.0).abs() < 1e-9 {
        "one dot across for every dot down".to_owned()
    } else if slope < 1.0 {
        format!("one dot across for every {} down", plain_number(1.0 / slope))
    } else {
        format!("{} dots across for every dot down", plain_number(slope))
    }
}

/// A number for a sentence: at most two decimals, none when whole.
pub(crate) fn plain_number(value: f64) -> String {
    let text = format!("{value:.2}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}
