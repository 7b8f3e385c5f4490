//! Routes: where each thread that enters a stitch goes next.

use crate::repeat::wiring::Wiring;
use crate::repeat::{End, Repeat, Side};

/// A thread as it enters a stitch, before the first move.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct ThreadEntry {
    /// Position of the stitch in the repeat.
    pub stitch: usize,
    /// Position of the thread among the four, 0 to 3 from the left.
    pub position: usize,
}

impl ThreadEntry {
    /// An entry from a stitch and a position.
    pub const fn new(stitch: usize, position: usize) -> ThreadEntry {
        ThreadEntry { stitch, position }
    }

    /// The pair to which the thread belongs as it enters.
    pub const fn pair(self) -> End {
        End::new(self.stitch, if self.position < 2 { Side::Left } else { Side::Right })
    }
}

/// The route of a thread from one stitch to the next.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Route {
    /// The leg it runs along.
    pub leg: usize,
    /// Position of the thread in its pair at the beginning of the leg, 0 or 1.
    pub lane: usize,
    /// Where it enters next.
    pub next: ThreadEntry,
}

/// The routes of all threads of a repeat, by stitch and position.
#[derive(Clone, Debug)]
pub(crate) struct Routes(Vec<[Route; 4]>);

impl Routes {
    pub fn new(repeat: &Repeat, wiring: &Wiring) -> Routes {
        let of_stitch = |s: usize| {
            let ends = repeat.stitches[s].stitch.start_to_end();
            ends.map(|end| {
                let leg = wiring.leg_from(End::new(s, Side::BOTH[end / 2]));
                let lane = end % 2;
                Route { leg, lane, next: end_of_leg(repeat, leg, lane) }
            })
        };
        Routes((0..repeat.stitches.len()).map(of_stitch).collect())
    }

    /// The route of the thread that enters at an entry.
    pub fn from(&self, entry: ThreadEntry) -> Route {
        self.0[entry.stitch][entry.position]
    }

    /// All entries, stitch by stitch.
    pub fn entries(&self) -> impl Iterator<Item = ThreadEntry> + use<> {
        (0..self.0.len()).flat_map(|s| (0..4).map(move |position| ThreadEntry::new(s, position)))
    }
}

/// The entry at the end of a leg of the thread in lane 0 or 1.
pub(crate) fn end_of_leg(repeat: &Repeat, leg: usize, lane: usize) -> ThreadEntry {
    let leg = &repeat.legs[leg];
    let lane = (lane + leg.twists as usize) % 2;
    ThreadEntry::new(leg.to.stitch, 2 * leg.to.side.index() + lane)
}
