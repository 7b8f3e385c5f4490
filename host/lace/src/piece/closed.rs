//! A piece as lacework that can be laid out and drawn: closed to a repeat as large as
//! itself, with room between it and its copies.

use super::{LegFrom, LegTo, Piece};
use crate::lattice::Lattice;
use crate::lattice::cell::Cell;
use crate::lattice::point::{Point, point};
use crate::repeat::{End, Leg, PlacedStitch, Repeat, Side};
use crate::threads::lacework::Lacework;

/// Grid steps between a piece and its copies.
const ROOM: f64 = 40.0;

impl Piece {
    /// The piece as lacework: its stitches in the order of working.
    ///
    /// The pairs that end lead on, from left to right, to where pairs are hung in the copy
    /// below; these legs are open.
    pub fn lacework(&self) -> Lacework {
        let low = self.places().fold(f64::INFINITY, |low, p| low.min(p.x));
        let high = self.places().fold(f64::NEG_INFINITY, |high, p| high.max(p.x));
        let deep = self.places().fold(0.0f64, |deep, p| deep.max(p.y));
        let lattice = Lattice {
            across: point((high - low + ROOM).ceil(), 0.0),
            down: point(0.0, (deep + ROOM).ceil()),
        };
        let stitch = |(k, s): (usize, &super::PieceStitch)| PlacedStitch {
            id: (k + 1).to_string(),
            at: Some(s.at),
            stitch: s.stitch.clone(),
        };
        let mut legs = Vec::with_capacity(self.legs.len());
        let (mut hung, mut ending): (Vec<End>, Vec<End>) = (Vec::new(), Vec::new());
        for leg in &self.legs {
            match (leg.from, leg.to) {
                (LegFrom::Stitch(from), LegTo::Stitch(to)) => {
                    legs.push(Leg { from, to, cell: Cell::ORIGIN, twists: leg.twists });
                }
                (LegFrom::Pair(_), LegTo::Stitch(to)) => hung.push(to),
                (LegFrom::Stitch(from), LegTo::Ends(_)) => ending.push(from),
                (LegFrom::Pair(_), LegTo::Ends(_)) => {}
            }
        }
        self.sort_from_the_left(&mut hung, true);
        self.sort_from_the_left(&mut ending, false);
        let open = ending.into_iter().zip(hung);
        legs.extend(open.map(|(from, to)| Leg { from, to, cell: Cell::new(0, 1), twists: 0 }));
        let stitches = self.stitches.iter().enumerate().map(stitch).collect();
        Lacework::closed(Repeat { lattice, stitches, legs })
            .expect("every stitch has two pairs in and two out, and as many pairs end as are hung")
    }

    fn places(&self) -> impl Iterator<Item = Point> + '_ {
        self.stitches.iter().map(|s| s.at)
    }

    /// Sorts ends at the outline from left to right; of those above each other, the outer
    /// ones lie farther out.
    fn sort_from_the_left(&self, ends: &mut [End], start: bool) {
        let middle = self.outline.middle();
        let key = |end: &End| {
            let at = self.stitches[end.stitch].at;
            let right = at.x > middle;
            (at.x, if right == start { at.y } else { -at.y }, end.side)
        };
        ends.sort_by(|a, b| {
            let ((x, p, s), (y, q, t)) = (key(a), key(b));
            x.total_cmp(&y).then(p.total_cmp(&q)).then(s.cmp(&t))
        });
    }

    /// The four threads that enter each stitch, from the left, numbered as in
    /// [`Piece::threads`].
    pub fn threads_by_entry(&self) -> Vec<[usize; 4]> {
        let on_legs = self.threads_on_legs();
        (0..self.stitches.len())
            .map(|s| {
                let [left, right] = Side::BOTH.map(|side| on_legs[self.leg_to(End::new(s, side))]);
                [left[0], left[1], right[0], right[1]]
            })
            .collect()
    }
}
