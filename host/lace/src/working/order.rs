//! The order of working: the sequence of stitches, and the pairs for each, when a
//! unit of the ground, or a few of them, are worked with pairs that hang side by
//! side.
//!
//! The lacemaker takes the highest stitch whose pairs are there, and from it goes
//! down its diagonal to the left (common practice, no source). Within a unit the
//! definition says which stitch comes first. A weaver, once begun, is followed row
//! after row: when it needs a pair from the ground beside it, that much of the ground
//! is worked, and no more, before it goes on (common practice, no source).

use crate::ground::Ground;
use crate::lattice::cell::UprightCell;
use crate::repeat::{End, Side};
use crate::working::unit::Unit;
use crate::working::weavers::Weavers;

/// Fewest stitches that show how they follow each other.
const ENOUGH: usize = 6;

/// An order of working that is closed: no stitch waits for a pair that has not
/// arrived.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OrderOfWorking {
    /// Pairs that hang side by side at the start.
    pub pairs: usize,
    /// Units worked, in a square: so many down to the right, and each with so many
    /// down to the left.
    pub side: usize,
    /// The stitches, each in its turn: every stitch of the units once, then those
    /// that close the unit.
    pub steps: Vec<Step>,
    /// How many steps are stitches of the units. Those that follow them are the
    /// first of the units below, which the same pairs can work: a rose is closed by
    /// the crossings below it.
    pub own: usize,
    /// Where the same is worked next to the right.
    pub right: Onward,
    /// Where the same is worked in the next row.
    pub below: Onward,
}

/// One stitch in the order of working.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Step {
    /// Position of the stitch in the repeat.
    pub stitch: usize,
    /// Which copy of it.
    pub cell: UprightCell,
    /// The left of its two pairs, by place among the pairs as they lie on the
    /// pillow at that moment, from 0 at the left; the right one is the next.
    pub left_pair: usize,
    /// Extra twists of the left and of the right pair just before the stitch.
    pub twists: [u32; 2],
    /// What the work turns to with this stitch, if it does not simply go on.
    pub turns_to: Option<TurnsTo>,
}

/// What the work turns to where weavers work in a ground.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TurnsTo {
    /// From weaving to the ground beside it.
    Ground,
    /// From the ground to the first weaving.
    Weaving,
    /// From the ground back to weaving that was begun.
    BackToWeaving,
    /// To other weaving, to the left or to the right of the last.
    OtherWeaving(Side),
}

/// Where the same steps are worked again.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Onward {
    /// By how many cells.
    pub cell: UprightCell,
    /// By how many places to the right, with the pairs that lie there.
    pub places: usize,
}

impl Ground {
    /// The order of working of one unit or, where units are small, of as many as
    /// show the diagonals.
    ///
    /// Takes about as much time as the square of the stitches worked, and more where
    /// many weavers wait for each other.
    pub fn order_of_working(&self) -> OrderOfWorking {
        let region = Region::new(self);
        let own = region.sequence();
        let mut copies: Vec<Copy> = own.iter().map(|&number| region.copy(number)).collect();
        copies.extend(region.closing());
        let places: Vec<i64> = copies.iter().map(|&copy| region.place(copy)).collect();
        let first = places.iter().copied().min().unwrap_or(0);
        let last = places.iter().map(|place| place + 1).max().unwrap_or(0);
        let step = |((&(stitch, cell), &place), turns_to): ((&Copy, &i64), Option<TurnsTo>)| Step {
            stitch,
            cell,
            left_pair: (place - first) as usize,
            twists: Side::BOTH.map(|side| self.legs()[self.leg_to(End::new(stitch, side))].twists),
            turns_to,
        };
        let [right, below] = region.onward();
        OrderOfWorking {
            pairs: (last - first + 1) as usize,
            side: region.side,
            own: own.len(),
            steps: copies.iter().zip(&places).zip(region.turns(&copies, &places)).map(step).collect(),
            right,
            below,
        }
    }

    /// One unit with the stitches that close it, and the steps to the next unit to the
    /// right and to the left.
    pub(crate) fn closed_unit(&self) -> ClosedUnit {
        let weavers = Weavers::new(self);
        let unit = Unit::new(self.wired(), weavers.legs());
        let (right, left) = (unit.right, unit.left);
        let region = Region { ground: self, unit, side: 1, on_diagonal: Vec::new(), weavers };
        let own = (0..self.stitches().len()).map(|number| region.copy(number));
        let copies = own.chain(region.closing()).collect();
        ClosedUnit { copies, right, left }
    }

    /// The stitches of a row of repeats, from 0, in an order in which they can be
    /// worked with the pairs of `repeats` repeats. An edge stitch takes the place of
    /// a stitch that needs a pair from outside.
    pub(crate) fn steps_to_the_edges(&self, repeats: usize, row: usize) -> Vec<EdgedStep> {
        let pairs = self.hanging().pairs().len() as i64;
        let last = repeats as i64 * pairs - 1;
        let (one_row, drift) = (self.hanging().row_steps(), self.hanging().drift());
        let mut steps = Vec::with_capacity(one_row.len() * repeats + 2);
        for step in one_row {
            let at = step.left_pair + row as i64 * drift;
            // The first copy with a pair inside the edge.
            let mut left = (at + 1).rem_euclid(pairs) - 1;
            while left <= last {
                let (edge, twists) = match left {
                    -1 => (Some(Side::Left), [0, step.twists[1]]),
                    left if left == last => (Some(Side::Right), [step.twists[0], 0]),
                    _ => (None, step.twists),
                };
                steps.push(EdgedStep { stitch: step.stitch, left_pair: left, edge, twists });
                left += pairs;
            }
        }
        steps
    }
}

/// The stitches of a unit with those that close it, and the steps to the next units.
pub(crate) struct ClosedUnit {
    pub copies: Vec<(usize, UprightCell)>,
    pub right: UprightCell,
    pub left: UprightCell,
}

/// A stitch between two footsides.
pub(crate) struct EdgedStep {
    /// The stitch of the ground that is worked, or would be.
    pub stitch: usize,
    /// The left of its two pairs, counted among those of the ground; -1 is the pair
    /// along the left footside.
    pub left_pair: i64,
    /// The footside at which it is worked.
    pub edge: Option<Side>,
    /// Extra twists of the left and of the right pair just before it.
    pub twists: [u32; 2],
}

impl EdgedStep {
    /// The first of its four threads as they lie. The pair along the left
    /// footside comes first.
    pub(crate) fn first_thread(&self) -> usize {
        2 * (self.left_pair + 1) as usize
    }
}

/// A copy of a stitch.
type Copy = (usize, UprightCell);

/// The units that are worked.
struct Region<'a> {
    ground: &'a Ground,
    unit: Unit,
    side: usize,
    /// For each stitch, whether it lies on a straight diagonal: one that a pair
    /// follows from the right to the left through stitch after stitch, until it
    /// comes to the same stitch in the next unit.
    on_diagonal: Vec<bool>,
    weavers: Weavers,
}

impl<'a> Region<'a> {
    fn new(ground: &'a Ground) -> Region<'a> {
        let stitches = ground.stitches().len();
        let side = (1..).find(|side| side * side * stitches >= ENOUGH).unwrap_or(1);
        let weavers = Weavers::new(ground);
        let unit = Unit::new(ground.wired(), weavers.legs());
        let mut region = Region { ground, unit, side, on_diagonal: Vec::new(), weavers };
        region.on_diagonal = (0..stitches).map(|stitch| region.is_on_diagonal(stitch)).collect();
        region
    }

    /// The number of a copy: unit by unit along the diagonals, as defined within
    /// each; `None` outside the region.
    fn number(&self, (stitch, cell): Copy) -> Option<usize> {
        let [right, left] = self.unit.steps(cell - self.unit.cells[stitch]);
        let within = |n: i64| usize::try_from(n).ok().filter(|&n| n < self.side);
        Some((within(right)? * self.side + within(left)?) * self.unit.cells.len() + stitch)
    }

    fn copy(&self, number: usize) -> Copy {
        let stitches = self.unit.cells.len();
        let (unit, stitch) = (number / stitches, number % stitches);
        let [right, left] = [unit / self.side, unit % self.side].map(|n| n as i64);
        (stitch, self.unit.cells[stitch] + self.unit.right * right + self.unit.left * left)
    }

    /// Place of the left of the two pairs of a copy, counted from the first
    /// hanging pair of the ground.
    fn place(&self, (stitch, cell): Copy) -> i64 {
        let hanging = self.ground.hanging();
        let row = hanging.row_of(stitch, cell.row);
        hanging.left_pair(stitch) + row * hanging.drift() + cell.column * self.pairs()
    }

    /// Pairs of a repeat.
    fn pairs(&self) -> i64 {
        self.ground.hanging().pairs().len() as i64
    }

    /// The copy from which a pair comes to a side of another.
    fn before(&self, (stitch, cell): Copy, side: Side) -> Copy {
        let leg = &self.ground.legs()[self.ground.leg_to(End::new(stitch, side))];
        (leg.from.stitch, cell - self.ground.upright().to_upright(leg.cell))
    }

    /// The copy to which a pair goes from a side of another, and the side at which
    /// it arrives.
    fn after(&self, (stitch, cell): Copy, side: Side) -> (Copy, Side) {
        let leg = &self.ground.legs()[self.ground.leg_from(End::new(stitch, side))];
        ((leg.to.stitch, cell + self.ground.upright().to_upright(leg.cell)), leg.to.side)
    }

    fn is_on_diagonal(&self, stitch: usize) -> bool {
        let mut at = (stitch, UprightCell::ORIGIN);
        for _ in 0..self.unit.cells.len() {
            let (next, side) = self.after(at, Side::Left);
            if side == Side::Left {
                return false;
            }
            at = next;
            if at.0 == stitch {
                return at.1 == self.unit.left;
            }
        }
        false
    }

    /// All copies of the region in the order of working.
    fn sequence(&self) -> Vec<usize> {
        let all = self.side * self.side * self.unit.cells.len();
        let mut done = vec![false; all];
        let mut sequence: Vec<usize> = Vec::with_capacity(all);
        // Where weavers go on that had to stop, the last first, each with what it waits
        // for.
        let mut waiting: Vec<(usize, Vec<bool>)> = Vec::new();
        // Where weavers do not begin yet, for they would have to wait for others.
        let mut held = vec![false; all];
        while sequence.len() < all {
            let last = sequence.last().map(|&number| self.copy(number));
            let weaving: Vec<usize> = last.into_iter().flat_map(|last| self.weaving_on(last)).collect();
            for &number in weaving.iter().rev().filter(|&&number| !done[number]) {
                waiting.push((number, self.needed(&[number], &done)));
            }
            while waiting.last().is_some_and(|&(number, _)| done[number]) {
                waiting.pop();
            }
            let along = last.into_iter().flat_map(|last| self.down_the_diagonal(last).into_iter().flatten());
            // Ground leads on to ground: a weaver begins when its stitch is the first.
            let weaves = |copy: Copy| self.weavers.work(copy.0);
            let along = along.filter(|&copy| !weaves(copy) || last.is_some_and(weaves));
            let along = along.filter_map(|copy| self.number(copy));
            let wanted = |&number: &usize| waiting.last().is_none_or(|(_, needed)| needed[number]);
            let ready = |number: &usize| wanted(number) && self.is_ready(*number, &done);
            let candidates: Vec<usize> = along.chain(0..all).filter(ready).collect();
            let next = candidates.iter().copied().find(|&number| {
                held[number] |=
                    weaves(self.copy(number)) && !held[number] && !self.needs_no_other_weaver(number, &done);
                !held[number]
            });
            let next = next.or(candidates.first().copied());
            let next = next.expect("no stitch of a unit waits for a later unit, so one is ready");
            if weaves(self.copy(next)) {
                held.fill(false);
            }
            done[next] = true;
            sequence.push(next);
        }
        sequence
    }

    /// What the work turns to with each of some copies, given their places.
    fn turns(&self, copies: &[Copy], places: &[i64]) -> Vec<Option<TurnsTo>> {
        let mut worked: Vec<bool> = vec![false; self.side * self.side * self.unit.cells.len()];
        let mut last_woven: Option<i64> = None;
        let mut turns = Vec::with_capacity(copies.len());
        for (k, (&copy, &place)) in copies.iter().zip(places).enumerate() {
            let wove_before = k > 0 && self.weavers.work(copies[k - 1].0);
            let begun = Side::BOTH.into_iter().any(|side| {
                let comes = self.weavers.along(self.ground.leg_to(End::new(copy.0, side)));
                comes && self.number(self.before(copy, side)).is_some_and(|before| worked[before])
            });
            turns.push(match (self.weavers.work(copy.0), last_woven) {
                (false, _) => wove_before.then_some(TurnsTo::Ground),
                (true, _) if k == 0 => None,
                (true, _) if begun => (!wove_before).then_some(TurnsTo::BackToWeaving),
                (true, None) => Some(TurnsTo::Weaving),
                (true, Some(last)) if place < last => Some(TurnsTo::OtherWeaving(Side::Left)),
                (true, Some(_)) => Some(TurnsTo::OtherWeaving(Side::Right)),
            });
            if self.weavers.work(copy.0) {
                last_woven = Some(place);
            }
            if let Some(number) = self.number(copy) {
                worked[number] = true;
            }
        }
        turns
    }

    /// Where weavers go on from a copy, within the region.
    fn weaving_on(&self, copy: Copy) -> Vec<usize> {
        let goes = |&side: &Side| self.weavers.along(self.ground.leg_from(End::new(copy.0, side)));
        let on = Side::BOTH.into_iter().filter(goes);
        on.filter_map(|side| self.number(self.after(copy, side).0)).collect()
    }

    /// Whether everything a weaver needs on its way from here to its last stitch in the
    /// region can be worked without another weaver.
    fn needs_no_other_weaver(&self, number: usize, done: &[bool]) -> bool {
        let mut run = vec![number];
        let mut own = vec![false; done.len()];
        own[number] = true;
        let mut k = 0;
        while let Some(&number) = run.get(k) {
            for next in self.weaving_on(self.copy(number)) {
                if !std::mem::replace(&mut own[next], true) {
                    run.push(next);
                }
            }
            k += 1;
        }
        let needed = self.needed(&run, done);
        let other = |number: usize| needed[number] && !own[number];
        !(0..done.len()).any(|number| other(number) && self.weavers.work(self.copy(number).0))
    }

    /// Whether each copy must be worked until all of some are, these with them.
    fn needed(&self, by: &[usize], done: &[bool]) -> Vec<bool> {
        let mut needed = vec![false; done.len()];
        let mut found = by.to_vec();
        while let Some(number) = found.pop() {
            if !done[number] && !std::mem::replace(&mut needed[number], true) {
                let before = Side::BOTH.map(|side| self.before(self.copy(number), side));
                found.extend(before.into_iter().filter_map(|copy| self.number(copy)));
            }
        }
        needed
    }

    fn is_ready(&self, number: usize, done: &[bool]) -> bool {
        let copy = self.copy(number);
        let there = |side| self.number(self.before(copy, side)).is_none_or(|before| done[before]);
        !done[number] && Side::BOTH.into_iter().all(there)
    }

    /// Where the work goes on down to the left: along the pair, to the next stitch of
    /// a straight diagonal or of the same weaving; or past a gap, to the same stitch of
    /// the next unit.
    fn down_the_diagonal(&self, copy: Copy) -> [Option<Copy>; 2] {
        let stitches = self.ground.stitches();
        let (next, side) = self.after(copy, Side::Left);
        let goes_on = self.on_diagonal[copy.0] || stitches[copy.0].stitch == stitches[next.0].stitch;
        let along = (side == Side::Right && goes_on).then_some(next);
        [along, Some((copy.0, copy.1 + self.unit.left))]
    }

    /// The stitches that close a unit standing on a point: its first stitches, as they
    /// come again below it, if all of them are without a pin and need no other pairs.
    fn closing(&self) -> Vec<Copy> {
        let own = |copy: Copy| self.number(copy).is_some();
        let takes = |copy: Copy, from_own: bool| {
            Side::BOTH.into_iter().all(|side| own(self.before(copy, side)) == from_own)
        };
        let all = || (0..self.unit.cells.len()).map(|number| self.copy(number));
        let first: Vec<usize> = all().filter(|&copy| takes(copy, false)).map(|copy| copy.0).collect();
        let below = all().flat_map(|copy| Side::BOTH.map(|side| self.after(copy, side).0));
        let mut closing: Vec<Copy> = below.filter(|&copy| !own(copy) && takes(copy, true)).collect();
        closing.sort_by_key(|&copy| (self.place(copy), copy));
        closing.dedup();
        let mut closed: Vec<usize> = closing.iter().map(|copy| copy.0).collect();
        closed.sort_unstable();
        let pinned = |&stitch: &usize| self.ground.stitches()[stitch].stitch.pin().is_some();
        let on_a_point = self.unit.right.row > 0;
        let closes = self.side == 1 && on_a_point && closed == first && !first.iter().any(pinned);
        if closes { closing } else { Vec::new() }
    }

    /// The next place to the right, and the first in the next row.
    fn onward(&self) -> [Onward; 2] {
        let side = self.side as i64;
        let width = side * self.pairs();
        let down = self.unit.left * side;
        let places = down.row * self.ground.hanging().drift() + down.column * self.pairs();
        let right = UprightCell::new(side, 0);
        let below = Onward {
            cell: down - right * places.div_euclid(width),
            places: places.rem_euclid(width) as usize,
        };
        [Onward { cell: right, places: width as usize }, below]
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::repeat::Repeat;
    use crate::repeat::samples::{honeycomb, rose, torchon};

    /// The pairs of every step, counted from 1.
    fn pairs(repeat: Repeat) -> Vec<[usize; 2]> {
        let order = Ground::new(repeat).unwrap().order_of_working();
        order.steps.iter().map(|step| [step.left_pair + 1, step.left_pair + 2]).collect()
    }

    // Common practice, no source: each diagonal runs down to the left.
    #[test]
    fn torchon_is_worked_in_diagonals() {
        let diagonals = [[[3, 4], [2, 3], [1, 2]], [[4, 5], [3, 4], [2, 3]], [[5, 6], [4, 5], [3, 4]]];
        for twists in [0, 1] {
            assert_eq!(pairs(torchon("CT pin CT", twists)), diagonals.concat());
        }
    }

    // Common practice, no source: two crossings, four pins, and the two crossings that
    // close the rose.
    #[test]
    fn a_rose_is_worked_from_its_crossings() {
        let ground = Ground::new(rose("CTCT", "CT pin CT")).unwrap();
        assert_eq!(
            pairs(rose("CTCT", "CT pin CT")),
            [[1, 2], [3, 4], [2, 3], [1, 2], [3, 4], [2, 3], [1, 2], [3, 4]]
        );
        let order = ground.order_of_working();
        assert_eq!((order.pairs, order.own), (4, 6));
        let closing = &order.steps[order.own..];
        assert!(closing.iter().all(|step| ground.stitches()[step.stitch].stitch.pin().is_none()));
    }

    // Common practice, no source: a row with a stitch at every dot, then a row with
    // gaps, each along its diagonal.
    #[test]
    fn honeycomb_is_worked_in_slanting_rows() {
        assert_eq!(
            pairs(honeycomb("CTT pin CTT")),
            [
                [[4, 5], [3, 4], [2, 3], [1, 2]],
                [[5, 6], [3, 4], [6, 7], [5, 6]],
                [[4, 5], [3, 4], [7, 8], [5, 6]],
            ]
            .concat()
        );
    }

    #[test]
    fn the_work_goes_on_to_the_right_and_below() {
        for repeat in [torchon("CT pin CT", 1), rose("CTCT", "CT pin CT"), honeycomb("CTT pin CTT")] {
            let ground = Ground::new(repeat).unwrap();
            let order = ground.order_of_working();
            let hanging = ground.hanging();
            for onward in [order.right, order.below] {
                let moved =
                    onward.cell.row * hanging.drift() + onward.cell.column * hanging.pairs().len() as i64;
                assert_eq!(moved, onward.places as i64);
            }
            assert_eq!(order.right.places, order.side * hanging.pairs().len());
            assert_eq!(order.below.cell.row, order.side as i64);
            assert_eq!(order.below.places, order.right.places / 2, "between two of the row above");
        }
    }
}
