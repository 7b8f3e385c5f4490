//! Which pairs hang at front 0, from left to right.

use crate::lattice::cell::UprightCell;
use crate::lattice::point::Point;
use crate::repeat::map::Walk;
use crate::repeat::wiring::Wired;

/// A pair that hangs at front 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct HungPair {
    /// The leg on which it hangs.
    pub leg: usize,
    /// Cell of the stitch it comes from.
    pub cell: UprightCell,
}

/// The legs that cross front 0 within one upright repeat, left to right.
///
/// Places only decide which of them is the first; the wiring gives the order of
/// the others.
pub(crate) fn hung_pairs(wired: Wired<'_>, places: &[Point], first_row: &[i64]) -> Vec<HungPair> {
    let front = Front { wired, places, first_row };
    let crossing = front.crossing_pairs();
    let first = *crossing
        .iter()
        .min_by(|a, b| front.middle(a).total_cmp(&front.middle(b)))
        .expect("legs run down, so some cross any front");
    let mut ordered = vec![first];
    while ordered.len() < crossing.len() {
        ordered.push(front.next_to_the_right(ordered[ordered.len() - 1]));
    }
    ordered
}

struct Front<'a> {
    wired: Wired<'a>,
    places: &'a [Point],
    first_row: &'a [i64],
}

impl Front<'_> {
    /// Every leg that crosses the front once, moved by whole repeats into the
    /// first.
    fn crossing_pairs(&self) -> Vec<HungPair> {
        let mut hung = Vec::new();
        for (leg, l) in self.wired.repeat.legs.iter().enumerate() {
            let rows = self.wired.leg_cell(leg).row;
            for row in self.first_row[l.to.stitch] - rows..self.first_row[l.from.stitch] {
                let mut pair = HungPair { leg, cell: UprightCell::new(0, row) };
                let repeats = self.middle(&pair) / self.wired.upright.width();
                pair.cell.column = -((repeats + 1e-9).floor() as i64);
                hung.push(pair);
            }
        }
        hung
    }

    fn crosses(&self, leg: usize, departure: UprightCell) -> bool {
        let l = self.wired.leg(leg);
        departure.row < self.first_row[l.from.stitch]
            && departure.row + self.wired.leg_cell(leg).row >= self.first_row[l.to.stitch]
    }

    /// The middle of a leg, in grid steps across.
    fn middle(&self, pair: &HungPair) -> f64 {
        let Wired { upright, .. } = self.wired;
        let l = self.wired.leg(pair.leg);
        let from = self.places[l.from.stitch] + upright.place(pair.cell);
        let to = self.places[l.to.stitch] + upright.place(pair.cell + self.wired.leg_cell(pair.leg));
        (from.x + to.x) / 2.0
    }

    /// The next leg that crosses the front, found by walking round the hole to the
    /// right of a pair.
    fn next_to_the_right(&self, pair: HungPair) -> HungPair {
        let Wired { wiring, .. } = self.wired;
        // Walking up a leg, the hole to the right of it is on the right hand.
        let mut walk = Walk { edge: self.wired.leg(pair.leg).from.dart(), along: false };
        let mut at = pair.cell;
        loop {
            walk = wiring.map().next_on_face(walk);
            let leg = wiring.leg_of_edge(walk.edge);
            let step = self.wired.leg_cell(leg);
            let departure = if walk.along { at } else { at - step };
            at = if walk.along { at + step } else { departure };
            let next = HungPair { leg, cell: departure };
            if self.crosses(leg, departure) && next != pair {
                return next;
            }
        }
    }
}
