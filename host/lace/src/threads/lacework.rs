//! Stitches joined by pairs, with the crossings of their threads: all that is needed to
//! lay threads out and to draw them, whether an endless ground or a piece.

use indexmap::IndexMap;

use crate::lattice::Lattice;
use crate::lattice::cell::Cell;
use crate::lattice::point::Point;
use crate::lattice::upright::UprightLattice;
use crate::repeat::wiring::{Uses, Wiring};
use crate::repeat::{End, Leg, PlacedStitch, Repeat};
use crate::stitch::Stitch;
use crate::threads::braid::{Braid, BraidSegment};
use crate::threads::routes::Routes;

/// Stitches, legs and crossings.
///
/// A piece is closed to a repeat as large as itself: the pairs that end at its finish go
/// on, from left to right, as those hung at its start in the copy below. These legs are
/// open: no thread lies there.
#[derive(Clone, Debug)]
pub struct Lacework {
    repeat: Repeat,
    places: Vec<Point>,
    wiring: Wiring,
    upright: UprightLattice,
    braid: Braid,
    /// By leg.
    open: Vec<bool>,
    /// By segment of the braid, the open leg along which it would lie.
    open_legs: Vec<Option<usize>>,
}

impl Lacework {
    /// The lacework of a ground.
    pub(crate) fn endless(
        repeat: Repeat,
        places: Vec<Point>,
        wiring: Wiring,
        upright: UprightLattice,
        braid: Braid,
    ) -> Lacework {
        let open = vec![false; repeat.legs.len()];
        let open_legs = vec![None; braid.segments.len()];
        Lacework { repeat, places, wiring, upright, braid, open, open_legs }
    }

    /// The lacework of a repeat whose stitches all have places, and whose legs with a cell
    /// of their own are open. `None` unless every end is used by one leg.
    pub(crate) fn closed(repeat: Repeat) -> Option<Lacework> {
        let places = repeat.stitches.iter().map(|s| s.at).collect::<Option<Vec<Point>>>()?;
        let wiring = Wiring::new(&repeat, &Uses::of(&repeat))?;
        let upright = UprightLattice::new(&repeat.lattice)?;
        let routes = Routes::new(&repeat, &wiring);
        let braid = Braid::new(&repeat, &routes);
        let open: Vec<bool> = repeat.legs.iter().map(|leg| leg.cell != Cell::ORIGIN).collect();
        let open_leg = |segment: &BraidSegment| {
            let mut entry = segment.entry;
            (segment.cell != Cell::ORIGIN).then(|| {
                loop {
                    let route = routes.from(entry);
                    if open[route.leg] {
                        return route.leg;
                    }
                    entry = route.next;
                }
            })
        };
        let open_legs = braid.segments.iter().map(open_leg).collect();
        Some(Lacework { repeat, places, wiring, upright, braid, open, open_legs })
    }

    /// The repeat as defined, or the piece as one.
    pub fn repeat(&self) -> &Repeat {
        &self.repeat
    }

    /// The lattice of the repeat.
    pub fn lattice(&self) -> &Lattice {
        &self.repeat.lattice
    }

    /// The lattice seen upright.
    pub fn upright(&self) -> &UprightLattice {
        &self.upright
    }

    /// The stitches of one repeat.
    pub fn stitches(&self) -> &[PlacedStitch] {
        &self.repeat.stitches
    }

    /// The different stitches of one repeat, in order of first appearance, each with
    /// the positions in [`Ground::stitches`] where it is worked.
    pub fn distinct_stitches(&self) -> IndexMap<&Stitch, Vec<usize>> {
        let mut distinct: IndexMap<&Stitch, Vec<usize>> = IndexMap::new();
        for (k, placed) in self.stitches().iter().enumerate() {
            distinct.entry(&placed.stitch).or_default().push(k);
        }
        distinct
    }

    /// Where each stitch lies, in grid steps: as defined, or balanced.
    pub fn places(&self) -> &[Point] {
        &self.places
    }

    /// The legs that leave the stitches of one repeat.
    pub fn legs(&self) -> &[Leg] {
        &self.repeat.legs
    }

    /// Whether no thread lies along a leg: the pair that leaves by it has ended, and the
    /// one that arrives is hung.
    pub fn is_open(&self, leg: usize) -> bool {
        self.open[leg]
    }

    /// The open leg along which a segment of the braid would lie; `None` if a thread lies
    /// there.
    pub fn open_leg(&self, segment: usize) -> Option<usize> {
        self.open_legs[segment]
    }

    /// Whether no thread lies along a segment of the braid.
    pub fn is_open_segment(&self, segment: usize) -> bool {
        self.open_legs[segment].is_some()
    }

    /// Position in [`Lacework::legs`] of the leg that leaves by an exit.
    pub fn leg_from(&self, exit: End) -> usize {
        self.wiring.leg_from(exit)
    }

    /// Position in [`Lacework::legs`] of the leg that arrives at an entry.
    pub fn leg_to(&self, entry: End) -> usize {
        self.wiring.leg_to(entry)
    }

    /// The wiring of the pairs.
    pub(crate) fn wiring(&self) -> &Wiring {
        &self.wiring
    }

    /// The crossings of single threads.
    pub fn braid(&self) -> &Braid {
        &self.braid
    }
}
