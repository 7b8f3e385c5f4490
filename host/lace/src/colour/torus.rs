//! All copies of the stitches of a repeat within one colour period.

use crate::ground::Ground;
use crate::lattice::cell::UprightCell;
use crate::limits::MAX_STITCH_COPIES;
use crate::repeat::Leg;
use crate::threads::routes::ThreadEntry;

/// All copies of the stitches of a repeat until the colours of a number of slots
/// repeat, across and down.
pub(crate) struct ColourTorus<'a> {
    ground: &'a Ground,
    slots: usize,
    repeats: usize,
    rows: usize,
    /// By stitch, row and position: the slot of the thread in column 0.
    origins: Vec<[i64; 4]>,
}

/// A copy of a stitch.
#[derive(Clone, Copy)]
pub(crate) struct StitchCopy {
    /// Position of the stitch in the repeat.
    pub stitch: usize,
    /// Where the copy lies.
    pub cell: UprightCell,
}

impl<'a> ColourTorus<'a> {
    pub fn new(ground: &'a Ground, slots: usize) -> ColourTorus<'a> {
        let own = 2 * ground.hanging().pairs().len();
        let hanging = ground.hanging();
        let repeats = slots / own;
        let most = MAX_STITCH_COPIES / (repeats * ground.stitches().len());
        let rows = hanging.rows_until_threads_return(slots).min(most.max(1));
        let mut origins = Vec::with_capacity(ground.stitches().len() * rows);
        for stitch in 0..ground.stitches().len() {
            let mut slots =
                [0, 1, 2, 3].map(|k| hanging.origin(ThreadEntry::new(stitch, k), UprightCell::ORIGIN));
            for _ in 0..rows {
                origins.push(slots);
                slots = slots.map(|slot| hanging.row_inverse().apply(slot));
            }
        }
        ColourTorus { ground, slots, repeats, rows, origins }
    }

    /// Every copy of every stitch.
    pub fn copies(&self) -> impl Iterator<Item = StitchCopy> + use<> {
        let (repeats, rows) = (self.repeats as i64, self.rows as i64);
        let stitches = self.ground.stitches().len();
        let cells = (0..repeats).flat_map(move |p| (0..rows).map(move |q| UprightCell::new(p, q)));
        cells.flat_map(move |cell| (0..stitches).map(move |stitch| StitchCopy { stitch, cell }))
    }

    /// The slot at the top from which the thread at a position of a copy comes.
    pub fn slot(&self, copy: StitchCopy, position: usize) -> usize {
        let own = 2 * self.ground.hanging().pairs().len() as i64;
        let slot = self.origins[copy.stitch * self.rows + copy.cell.row as usize][position];
        (slot + copy.cell.column * own).rem_euclid(self.slots as i64) as usize
    }

    /// The number of the copy to which a leg from a cell leads.
    pub fn number_after(&self, leg: &Leg, cell: UprightCell) -> usize {
        let there = cell + self.ground.upright().to_upright(leg.cell);
        let column = there.column.rem_euclid(self.repeats as i64) as usize;
        let row = there.row.rem_euclid(self.rows as i64) as usize;
        (column * self.rows + row) * self.ground.stitches().len() + leg.to.stitch
    }
}
