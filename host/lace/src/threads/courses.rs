//! Courses: where threads go in the long run, across the lace or down their own
//! column.

use std::cmp::Ordering;

use crate::lattice::upright::{Direction, UprightLattice};
use crate::threads::orbits::Orbit;

/// Where threads go in the long run.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Travel {
    /// Across the lace to the left.
    Left,
    /// Back to its own column.
    Stays,
    /// Across the lace to the right.
    Right,
}

impl Travel {
    /// The travel of a thread or pair that moves in a direction.
    pub(crate) fn of(upright: &UprightLattice, direction: Direction) -> Travel {
        match upright.side_of(direction) {
            Ordering::Less => Travel::Left,
            Ordering::Equal => Travel::Stays,
            Ordering::Greater => Travel::Right,
        }
    }
}

/// A course that some of the threads of a ground follow.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Course {
    /// Left, right or staying.
    pub travel: Travel,
    /// The direction in whole numbers, the same for all threads of a course.
    pub direction: Direction,
    /// Grid steps to the right (negative: left) for every grid step down.
    pub slope: f64,
    /// How many threads of one upright repeat follow it.
    pub threads: usize,
}

/// Where one thread goes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ThreadCourse {
    /// Left, right or staying.
    pub travel: Travel,
    /// The direction in whole numbers.
    pub direction: Direction,
    /// Grid steps to the right (negative: left) for every grid step down.
    pub slope: f64,
}

impl ThreadCourse {
    pub(crate) fn new(orbit: &Orbit, upright: &UprightLattice) -> ThreadCourse {
        let direction = Direction::of(upright.to_upright(orbit.cells));
        ThreadCourse { travel: Travel::of(upright, direction), direction, slope: upright.slope(direction) }
    }
}

/// The courses of the threads of an upright repeat, leftmost first.
pub(crate) fn courses(orbits: &[Orbit], of_orbits: &[ThreadCourse], upright: &UprightLattice) -> Vec<Course> {
    let mut courses: Vec<Course> = Vec::new();
    for (orbit, &ThreadCourse { travel, direction, slope, .. }) in orbits.iter().zip(of_orbits) {
        // A level line as wide as one repeat meets a closed thread that leads
        // q rows of repeats down q times.
        let threads = upright.to_upright(orbit.cells).row as usize;
        match courses.iter_mut().find(|c| c.direction == direction) {
            Some(course) => course.threads += threads,
            None => courses.push(Course { travel, direction, slope, threads }),
        }
    }
    // Sorted by columns per row, as fractions: the shift from row to row is the
    // same for all.
    courses.sort_by(|a, b| {
        let (a, b) = (a.direction, b.direction);
        (a.columns * b.rows).cmp(&(b.columns * a.rows))
    });
    courses
}
