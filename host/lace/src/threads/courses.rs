//! Courses: where threads go in the long run, across the area or down their own
//! column.

use std::cmp::Ordering;

use crate::lattice::cell::Cell;
use crate::lattice::point::Point;
use crate::lattice::upright::{Direction, UprightLattice};
use crate::repeat::Repeat;
use crate::threads::orbits::Orbit;
use crate::threads::routes::Routes;

/// Where threads go in the long run.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Travel {
    /// Across the area to the left.
    Left,
    /// It comes back to its own column.
    Stays,
    /// Across the area to the right.
    Right,
}

impl Travel {
    /// Where something goes that moves on in a direction.
    pub(crate) fn of(upright: &UprightLattice, direction: Direction) -> Travel {
        match upright.side_of(direction) {
            Ordering::Less => Travel::Left,
            Ordering::Equal => Travel::Stays,
            Ordering::Greater => Travel::Right,
        }
    }
}

/// One way in which some of the threads of a ground go.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Course {
    /// Left, right or staying.
    pub travel: Travel,
    /// In whole numbers: threads of one course have the same direction.
    pub direction: Direction,
    /// Grid steps to the right (negative: left) for every grid step down.
    pub slope: f64,
    /// How many threads of one upright repeat go so.
    pub threads: usize,
}

/// Where one thread goes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ThreadCourse {
    /// Left, right or staying.
    pub travel: Travel,
    /// In whole numbers.
    pub direction: Direction,
    /// Grid steps to the right for every step down.
    pub slope: f64,
    /// How far it goes to and fro on the way, in grid steps across.
    pub sway: f64,
}

impl ThreadCourse {
    pub(crate) fn new(
        orbit: &Orbit,
        repeat: &Repeat,
        places: &[Point],
        routes: &Routes,
        upright: &UprightLattice,
    ) -> ThreadCourse {
        let direction = Direction::of(upright.to_upright(orbit.cells));
        let slope = upright.slope(direction);
        let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
        let mut cell = Cell::ORIGIN;
        for &entry in &orbit.entries {
            let at = places[entry.stitch] + repeat.lattice.place(cell);
            let off = at.x - slope * at.y;
            low = low.min(off);
            high = high.max(off);
            cell += repeat.legs[routes.from(entry).leg].cell;
        }
        ThreadCourse { travel: Travel::of(upright, direction), direction, slope, sway: high - low }
    }
}

/// The ways in which the threads of an upright repeat go, leftmost first.
pub(crate) fn courses(orbits: &[Orbit], of_orbits: &[ThreadCourse], upright: &UprightLattice) -> Vec<Course> {
    let mut courses: Vec<Course> = Vec::new();
    for (orbit, &ThreadCourse { travel, direction, slope, .. }) in orbits.iter().zip(of_orbits) {
        // A closed thread that comes down by q rows of repeats is met q times
        // by a level line as wide as one repeat.
        let threads = upright.to_upright(orbit.cells).row as usize;
        match courses.iter_mut().find(|c| c.direction == direction) {
            Some(course) => course.threads += threads,
            None => courses.push(Course { travel, direction, slope, threads }),
        }
    }
    // By the columns for a row, as fractions: the shift from row to row is the
    // same for all.
    courses.sort_by(|a, b| {
        let (a, b) = (a.direction, b.direction);
        (a.columns * b.rows).cmp(&(b.columns * a.rows))
    });
    courses
}
