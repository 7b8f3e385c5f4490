//! Orbits: the closed line of each thread on the torus.

use crate::lattice::cell::Cell;
use crate::repeat::Repeat;
use crate::threads::routes::{Routes, ThreadEntry};

/// One closed thread of the repeat.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Orbit {
    /// The entries in the order in which the thread meets them, until it is back at
    /// the first.
    pub entries: Vec<ThreadEntry>,
    /// How many cells it has moved by then.
    pub cells: Cell,
}

/// All closed threads of a repeat.
pub(crate) fn orbits(repeat: &Repeat, routes: &Routes) -> Vec<Orbit> {
    let mut seen = vec![[false; 4]; repeat.stitches.len()];
    let mut orbits = Vec::new();
    for first in routes.entries() {
        let mut orbit = Orbit { entries: Vec::new(), cells: Cell::ORIGIN };
        let mut entry = first;
        while !std::mem::replace(&mut seen[entry.stitch][entry.position], true) {
            orbit.entries.push(entry);
            let route = routes.from(entry);
            orbit.cells += repeat.legs[route.leg].cell;
            entry = route.next;
        }
        if !orbit.entries.is_empty() {
            orbits.push(orbit);
        }
    }
    orbits
}

/// For each stitch and each position of its entry, the number of the orbit that
/// enters there.
pub(crate) fn entry_orbits(stitches: usize, orbits: &[Orbit]) -> Vec<[usize; 4]> {
    let mut of = vec![[0; 4]; stitches];
    for (number, orbit) in orbits.iter().enumerate() {
        for entry in &orbit.entries {
            of[entry.stitch][entry.position] = number;
        }
    }
    of
}
