//! The wiring of a repeat: which leg leaves by each exit and which arrives at
//! each entry.

use crate::lattice::cell::UprightCell;
use crate::lattice::upright::UprightLattice;
use crate::repeat::map::LaceMap;
use crate::repeat::{End, Leg, Repeat};

/// The legs at the ends of all stitches. Every entry and exit has exactly one.
#[derive(Clone, Debug)]
pub struct Wiring {
    map: LaceMap,
    leg_of_exit: Vec<usize>,
    leg_of_entry: Vec<usize>,
}

/// The legs, by position in the repeat, that use each end.
pub(crate) struct Uses {
    /// By the number of the exit.
    pub leaving: Vec<Vec<usize>>,
    /// By the number of the entry.
    pub arriving: Vec<Vec<usize>>,
}

impl Uses {
    /// Tables for a repeat whose legs name stitches that exist.
    pub(crate) fn of(repeat: &Repeat) -> Uses {
        let darts = 2 * repeat.stitches.len();
        let mut uses = Uses { leaving: vec![Vec::new(); darts], arriving: vec![Vec::new(); darts] };
        for (l, leg) in repeat.legs.iter().enumerate() {
            uses.leaving[leg.from.dart()].push(l);
            uses.arriving[leg.to.dart()].push(l);
        }
        uses
    }
}

impl Wiring {
    /// The wiring, unless an end is used by no leg or by several.
    pub(crate) fn new(repeat: &Repeat, uses: &Uses) -> Option<Wiring> {
        let only = |legs: &Vec<usize>| match legs[..] {
            [leg] => Some(leg),
            _ => None,
        };
        let leg_of_exit = uses.leaving.iter().map(only).collect::<Option<Vec<_>>>()?;
        let leg_of_entry = uses.arriving.iter().map(only).collect::<Option<Vec<_>>>()?;
        let map = LaceMap::new(leg_of_exit.iter().map(|&l| repeat.legs[l].to.dart()).collect())?;
        Some(Wiring { map, leg_of_exit, leg_of_entry })
    }

    /// The bare map of the pairs. Its edges are named by exits: edge
    /// [`End::dart`] is the leg that leaves there.
    pub fn map(&self) -> &LaceMap {
        &self.map
    }

    /// Position in [`Repeat::legs`] of the leg that leaves by an exit.
    pub fn leg_from(&self, exit: End) -> usize {
        self.leg_of_exit[exit.dart()]
    }

    /// Position in [`Repeat::legs`] of the leg that arrives at an entry.
    pub fn leg_to(&self, entry: End) -> usize {
        self.leg_of_entry[entry.dart()]
    }

    /// Position in [`Repeat::legs`] of the leg that is an edge of the map.
    pub fn leg_of_edge(&self, edge: usize) -> usize {
        self.leg_of_exit[edge]
    }
}

/// A repeat with its wiring and its upright lattice: all that is needed to find
/// where pairs and threads lead.
#[derive(Clone, Copy)]
pub(crate) struct Wired<'a> {
    pub repeat: &'a Repeat,
    pub wiring: &'a Wiring,
    pub upright: &'a UprightLattice,
}

impl<'a> Wired<'a> {
    /// A leg by its position.
    pub fn leg(self, leg: usize) -> &'a Leg {
        &self.repeat.legs[leg]
    }

    /// The cell of a leg's arrival, relative to that of its departure.
    pub fn leg_cell(self, leg: usize) -> UprightCell {
        self.upright.to_upright(self.repeat.legs[leg].cell)
    }
}
