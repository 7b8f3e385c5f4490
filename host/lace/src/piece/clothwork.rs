//! Clothwork: a diamond or a slanting trail, worked to and fro from its topmost pin by one
//! pair, the worker. At every pin of the upper edges a pair comes in, at every pin of the
//! lower edges one is left out, and at the corner between them the pair that comes in goes
//! out again (common practice, no source).

use super::patch::{Beyond, Patch};
use crate::lattice::point::{Point, point};
use crate::repeat::{End, Side};
use crate::stitch::{Move, Stitch};

/// What is worked in clothwork.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cloth {
    /// Cloth stitch.
    Cloth,
    /// Half stitch: only one thread of the worker goes right across.
    Half,
}

impl Cloth {
    fn moves(self) -> Vec<Move> {
        match self {
            Cloth::Cloth => vec![Move::Cross, Move::Twist, Move::Cross],
            Cloth::Half => vec![Move::Cross, Move::Twist],
        }
    }

    /// The stitch with a passive pair.
    fn passing(self) -> Stitch {
        Stitch::new(self.moves(), None).unwrap_or_default()
    }

    /// The stitch with the pair at a pin: the worker is twisted before it goes round it.
    /// `None` at the first and the last pin, where nothing is twisted.
    fn at_pin(self, worker: Option<Side>) -> Stitch {
        let mut moves = self.moves();
        moves.extend(worker.map(|side| if side == Side::Left { Move::TwistLeft } else { Move::TwistRight }));
        let before = moves.len();
        moves.extend(self.moves());
        Stitch::new(moves, Some(before)).unwrap_or_default()
    }
}

/// Where the pair of a passive waits: after a stitch, or beyond the clothwork.
#[derive(Clone, Copy)]
enum Waits {
    After(End),
    Beyond(Point),
}

/// Clothwork while it is worked.
struct Work {
    cloth: Cloth,
    patch: Patch,
    /// The passives from left to right.
    passives: Vec<Waits>,
    worker: Waits,
    /// Passives behind the worker, at the side from which it comes.
    behind: usize,
}

/// Clothwork of a size from its topmost pin: so many pins after that down the right edge to
/// the corner, and down the left one. With equal numbers it is a diamond, else a trail.
pub(crate) fn clothwork(cloth: Cloth, top: Point, right: usize, left: usize) -> Patch {
    let patch = Patch { stitches: Vec::new(), legs: Vec::new(), leaving: Vec::new(), coming: Vec::new() };
    let up = |side: Side| top + point(if side == Side::Left { -1.0 } else { 1.0 }, -1.0);
    // Of the two pairs at the first pin the left one becomes a passive.
    let mut work =
        Work { cloth, patch, passives: Vec::new(), worker: Waits::Beyond(up(Side::Right)), behind: 1 };
    let first = work.stitch(top, cloth.at_pin(None), [Waits::Beyond(up(Side::Left)), work.worker]);
    work.passives.push(Waits::After(End::new(first, Side::Left)));
    work.worker = Waits::After(End::new(first, Side::Right));
    let mut from = top;
    for row in 1..right + left {
        for (side, corner) in [(Side::Right, right), (Side::Left, left)] {
            let outwards = if side == Side::Left { -1.0 } else { 1.0 };
            // Past its corner the edge slants back, to the far side of the other corner.
            let out = if row <= corner { row as f64 } else { 2.0 * corner as f64 - row as f64 };
            let pin = top + point(outwards * out, row as f64);
            let beyond = |down: f64| pin + point(outwards, down);
            if row <= corner {
                work.add_passive(side, Waits::Beyond(beyond(-1.0)));
            }
            work.pass(side, from, pin);
            work.turn(side, pin);
            if row >= corner {
                work.leave_out(side, beyond(1.0));
            }
            from = pin;
        }
    }
    let bottom = top + point(right as f64 - left as f64, (right + left) as f64);
    let passive = work.passives.pop().unwrap_or(Waits::Beyond(bottom));
    let last = work.stitch(bottom, cloth.at_pin(None), [work.worker, passive]);
    for side in Side::BOTH {
        let out = if side == Side::Left { -1.0 } else { 1.0 };
        work.patch.leaving.push(Beyond {
            end: End::new(last, side),
            far: bottom + point(out, 1.0),
            twists: 0,
        });
    }
    work.patch
}

impl Work {
    /// Works a stitch with two pairs. Returns its number.
    fn stitch(&mut self, at: Point, stitch: Stitch, pairs: [Waits; 2]) -> usize {
        let number = self.patch.stitches.len();
        self.patch.stitches.push((at, stitch));
        for (side, pair) in Side::BOTH.into_iter().zip(pairs) {
            let end = End::new(number, side);
            match pair {
                Waits::After(from) => self.patch.legs.push((from, end, 0)),
                Waits::Beyond(far) => self.patch.coming.push(Beyond { end, far, twists: 0 }),
            }
        }
        number
    }

    fn add_passive(&mut self, side: Side, pair: Waits) {
        match side {
            Side::Left => self.passives.insert(0, pair),
            Side::Right => self.passives.push(pair),
        }
    }

    /// Takes the worker to a side, through all passives before it but the outermost.
    fn pass(&mut self, side: Side, from: Point, pin: Point) {
        let through = self.passives.len() - 1 - self.behind;
        for k in 0..through {
            let at = from + (pin - from) * ((k + 1) as f64 / (through + 1) as f64);
            let nearest = self.behind + k;
            let passive = if side == Side::Right { nearest } else { self.passives.len() - 1 - nearest };
            let (left, right) = match side {
                Side::Right => (self.worker, self.passives[passive]),
                Side::Left => (self.passives[passive], self.worker),
            };
            let number = self.stitch(at, self.cloth.passing(), [left, right]);
            // The two pairs exchange their sides.
            self.worker = Waits::After(End::new(number, side));
            self.passives[passive] = Waits::After(End::new(number, side.other()));
        }
    }

    /// Works the pin at a side with the outermost passive; the worker turns back.
    fn turn(&mut self, side: Side, pin: Point) {
        let outermost = if side == Side::Right { self.passives.len() - 1 } else { 0 };
        let (left, right) = match side {
            Side::Right => (self.worker, self.passives[outermost]),
            Side::Left => (self.passives[outermost], self.worker),
        };
        // After the first half the worker lies outside.
        let number = self.stitch(pin, self.cloth.at_pin(Some(side)), [left, right]);
        self.worker = Waits::After(End::new(number, side.other()));
        self.passives[outermost] = Waits::After(End::new(number, side));
        self.behind = 1;
    }

    /// Leaves out the outermost passive at a side.
    fn leave_out(&mut self, side: Side, far: Point) {
        let passive = match side {
            Side::Right => self.passives.pop(),
            Side::Left => (!self.passives.is_empty()).then(|| self.passives.remove(0)),
        };
        if let Some(Waits::After(end)) = passive {
            self.patch.leaving.push(Beyond { end, far, twists: 0 });
        }
        self.behind = 0;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    // Common practice, no source: a diamond of four pins a side has twelve pins, with
    // twenty-five cloth stitches between them.
    #[test]
    fn a_diamond_takes_in_as_many_pairs_as_it_leaves_out() {
        let patch = clothwork(Cloth::Cloth, point(0.0, 0.0), 3, 3);
        let pins = patch.stitches.iter().filter(|(_, stitch)| stitch.pin().is_some()).count();
        assert_eq!((pins, patch.stitches.len() - pins), (12, 25));
        assert_eq!((patch.coming.len(), patch.leaving.len()), (8, 8));
        assert_eq!(patch.legs.len() + patch.leaving.len(), 2 * patch.stitches.len());
        assert_eq!(patch.stitches.last().map(|(at, _)| *at), Some(point(0.0, 6.0)));
    }

    #[test]
    fn a_trail_slants() {
        for (right, left) in [(7, 2), (2, 7), (1, 1), (1, 4), (5, 5)] {
            let patch = clothwork(Cloth::Half, point(0.0, 0.0), right, left);
            let pins = patch.stitches.iter().filter(|(_, stitch)| stitch.pin().is_some()).count();
            assert_eq!(pins, 2 * (right + left), "{right}, {left}");
            assert_eq!(patch.coming.len(), patch.leaving.len());
            assert_eq!(patch.coming.len(), right + left + 2);
            let Some((bottom, _)) = patch.stitches.last() else { panic!("no stitches") };
            assert_eq!(*bottom, point(right as f64 - left as f64, (right + left) as f64));
        }
    }
}
