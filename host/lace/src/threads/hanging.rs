//! Hanging pairs: how pairs hang at the top of an endlessly wide ground, and
//! from which of them each thread in the lace comes.
//!
//! A *front* is a line across the lace that separates worked from unworked
//! stitches. Front 0 lies just above the topmost stitch of the definition;
//! front r lies r rows of repeats lower. Along a front threads are numbered
//! from left to right by *slots*, which are whole numbers without end; pair k
//! holds slots 2k and 2k + 1.

use indexmap::IndexMap;

use crate::lattice::cell::UprightCell;
use crate::lattice::point::Point;
use crate::limits::MAX_ROWS;
use crate::repeat::wiring::Wired;
use crate::repeat::{End, Side};
use crate::threads::affine_permutation::AffinePermutation;
use crate::threads::hung_pairs::{HungPair, hung_pairs};
use crate::threads::routes::{ThreadEntry, end_of_leg};
use crate::threads::rows::{earliest_rows, row_order};

/// How the pairs of a ground hang, and how a row of repeats rearranges them.
#[derive(Clone, Debug)]
pub struct Hanging {
    pairs: Vec<HungPair>,
    /// Row of the first unworked copy of each stitch.
    first_row: Vec<i64>,
    /// The stitches of a row of repeats in an order in which they can be worked.
    row_steps: Vec<RowStep>,
    /// Place of the left of the two pairs of each stitch, as in `row_steps`.
    left_pair: Vec<i64>,
    drift: i64,
    /// Slot, at the front of its row, of the thread at each position 0 to 3 of
    /// the entry of each stitch in upright column 0.
    entry_slot: Vec<[i64; 4]>,
    /// The permutation from slots at front 0 to slots at front 1.
    row: AffinePermutation,
    row_inverse: AffinePermutation,
}

/// A stitch of a row of repeats, in upright column 0.
#[derive(Clone, Copy, Debug)]
pub(crate) struct RowStep {
    pub stitch: usize,
    /// Place of the left of its two pairs, counted from the first hanging pair;
    /// places continue without end to both sides.
    pub left_pair: i64,
    /// Extra twists of the left and of the right pair just before the stitch.
    pub twists: [u32; 2],
}

/// What a leg carries past the moving front.
#[derive(Clone, Copy)]
struct Carried {
    /// Place of the pair at that moment.
    place: i64,
    /// The slots at front 0 of its left and its right thread.
    slots: [i64; 2],
}

impl Carried {
    /// The same, `repeats` upright repeats farther right.
    fn moved(self, repeats: i64, pairs: i64) -> Carried {
        let by = repeats * pairs;
        Carried { place: self.place + by, slots: self.slots.map(|s| s + 2 * by) }
    }
}

impl Hanging {
    pub(crate) fn new(wired: Wired<'_>, places: &[Point]) -> Hanging {
        let first_row = earliest_rows(wired, &rows_by_height(wired, places));
        let pairs = hung_pairs(wired, places, &first_row);
        let own = pairs.len() as i64;
        // By the leg and the row of its departure, for departures in column 0.
        let mut carried: IndexMap<(usize, i64), Carried> = IndexMap::new();
        for (pair, place) in pairs.iter().zip(0..) {
            let hung = Carried { place, slots: [2 * place, 2 * place + 1] };
            carried.insert((pair.leg, pair.cell.row), hung.moved(-pair.cell.column, own));
        }
        let mut entry_slot = vec![[0; 4]; wired.repeat.stitches.len()];
        let mut left_pair = vec![0; entry_slot.len()];
        let mut row_steps = Vec::with_capacity(entry_slot.len());
        for stitch in row_order(wired, &first_row) {
            let entries = Side::BOTH.map(|side| wired.wiring.leg_to(End::new(stitch, side)));
            let coming = entries.map(|leg| {
                let step = wired.leg_cell(leg);
                carried[&(leg, first_row[stitch] - step.row)].moved(-step.column, own)
            });
            let [left, right] = coming;
            debug_assert_eq!(left.place + 1, right.place, "the pairs of a stitch lie side by side");
            let twists = entries.map(|leg| wired.leg(leg).twists);
            left_pair[stitch] = left.place;
            row_steps.push(RowStep { stitch, left_pair: left.place, twists });
            for (leg, carried) in entries.into_iter().zip(coming) {
                for (lane, slot) in carried.slots.into_iter().enumerate() {
                    entry_slot[stitch][end_of_leg(wired.repeat, leg, lane).position] = slot;
                }
            }
            let ends = wired.repeat.stitches[stitch].stitch.end_order().map(|from| entry_slot[stitch][from]);
            for side in Side::BOTH {
                let out = Carried {
                    place: left.place + side.index() as i64,
                    slots: [ends[2 * side.index()], ends[2 * side.index() + 1]],
                };
                carried.insert((wired.wiring.leg_from(End::new(stitch, side)), first_row[stitch]), out);
            }
        }
        let at_front_1 =
            |pair: &HungPair| carried[&(pair.leg, pair.cell.row + 1)].moved(pair.cell.column, own);
        let row_inverse = AffinePermutation::new(pairs.iter().flat_map(|p| at_front_1(p).slots).collect());
        // Pairs that only touch keep their places, so all drift equally.
        let drift = at_front_1(&pairs[0]).place;
        let row = row_inverse.inverse();
        Hanging { pairs, first_row, row_steps, left_pair, drift, entry_slot, row, row_inverse }
    }

    /// The pairs that hang across one upright repeat, left to right.
    pub fn pairs(&self) -> &[HungPair] {
        &self.pairs
    }

    /// Where the thread in each slot at one front is at the next.
    pub fn row(&self) -> &AffinePermutation {
        &self.row
    }

    /// Where the thread in each slot at one front was at the previous front.
    pub fn row_inverse(&self) -> &AffinePermutation {
        &self.row_inverse
    }

    /// The slot at front 0 of the thread that enters, at `entry`, the copy of a
    /// stitch in an upright cell.
    pub fn origin(&self, entry: ThreadEntry, cell: UprightCell) -> i64 {
        let own = 2 * self.pairs.len() as i64;
        let mut slot = self.entry_slot[entry.stitch][entry.position] + cell.column * own;
        let row = self.row_of(entry.stitch, cell.row);
        for _ in 0..row {
            slot = self.row_inverse.apply(slot);
        }
        for _ in row..0 {
            slot = self.row.apply(slot);
        }
        slot
    }

    /// Row of repeats, counted from front 0, to which the copy of a stitch in
    /// an upright row belongs.
    pub fn row_of(&self, stitch: usize, upright_row: i64) -> i64 {
        upright_row - self.first_row[stitch]
    }

    /// Rows of repeats after which every thread is back in its slot modulo `slots`,
    /// the slots of a width of whole repeats; at most [`MAX_ROWS`].
    pub fn rows_until_threads_return(&self, slots: usize) -> usize {
        let mut after = self.row.clone();
        let mut rows = 1;
        while rows < MAX_ROWS && !after.is_identity_round(slots) {
            after = after.then(&self.row);
            rows += 1;
        }
        rows
    }

    /// The stitches of one row of repeats in an order in which they can be
    /// worked, if each is worked in all repeats before the next.
    pub(crate) fn row_steps(&self) -> &[RowStep] {
        &self.row_steps
    }

    /// Place of the left of the two pairs of the first unworked copy of a stitch in
    /// upright column 0, counted from the first hanging pair.
    pub(crate) fn left_pair(&self, stitch: usize) -> i64 {
        self.left_pair[stitch]
    }

    /// By how many places the pairs of a stitch lie farther right than those of
    /// the same stitch a row of repeats higher.
    pub(crate) fn drift(&self) -> i64 {
        self.drift
    }
}

/// The first row of each stitch by height alone. Any choice would work; this one
/// makes the pairs hang above the topmost stitch of the definition.
fn rows_by_height(wired: Wired<'_>, places: &[Point]) -> Vec<i64> {
    let top = places.iter().map(|p| p.y).fold(f64::INFINITY, f64::min);
    let height = wired.upright.row_height();
    places.iter().map(|p| ((top - p.y) / height - 1e-9).ceil() as i64).collect()
}
