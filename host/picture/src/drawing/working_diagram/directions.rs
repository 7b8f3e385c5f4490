//! The directions from a stitch to its neighbours, and the gaps between them
//! that have room for a label.

use lace::{Cell, End, Lacework, Point, Side, point};

use crate::drawing::curve::unit;

/// The directions from a stitch to its four neighbours, each of length 1,
/// clockwise from the left pair coming in: left in, right in, right out, left
/// out.
pub(super) struct Directions([Point; 4]);

/// A gap between two adjacent directions.
pub(super) struct Gap {
    /// The unit vector halfway between them.
    pub middle: Point,
    /// Its angle in radians.
    pub angle: f64,
}

/// A place for a label beside a stitch.
pub(super) struct Room {
    /// Its gap, for [`Directions::gap`].
    pub gap: usize,
    /// Its distance from the middle of the stitch, grid steps.
    pub offset: Point,
}

/// Least angle between two directions, so that their lines do not overlap.
const APART: f64 = 0.5;

impl Directions {
    /// The directions of each stitch, towards the other ends of its legs.
    pub fn of(ground: &Lacework, places: &[Point], shift: impl Fn(Cell) -> Point) -> Vec<Directions> {
        let mut all: Vec<Directions> = places.iter().map(|_| Directions([point(0.0, 0.0); 4])).collect();
        for (l, leg) in ground.legs().iter().enumerate() {
            let run = places[leg.to.stitch] + shift(leg.cell) - places[leg.from.stitch];
            let [out, into] = if ground.is_open(l) { [leg.from, leg.to].map(outwards) } else { [run, -run] };
            all[leg.from.stitch].0[Directions::number(leg.from.side, true)] = unit(out);
            all[leg.to.stitch].0[Directions::number(leg.to.side, false)] =
                unit(if ground.is_open(l) { point(into.x, -into.y) } else { into });
        }
        for directions in &mut all {
            directions.spread();
        }
        all
    }

    fn number(side: Side, out: bool) -> usize {
        match (side, out) {
            (Side::Left, false) => 0,
            (Side::Right, false) => 1,
            (Side::Right, true) => 2,
            (Side::Left, true) => 3,
        }
    }

    /// The direction towards the other end of the leg at a side.
    pub fn to(&self, side: Side, out: bool) -> Point {
        self.0[Directions::number(side, out)]
    }

    /// Turns nearly equal directions apart.
    fn spread(&mut self) {
        for k in 0..4 {
            let next = (k + 1) % 4;
            let (a, b) = (self.0[k], self.0[next]);
            let between = libm::atan2(a.cross(b), a.dot(b));
            if between.abs() < APART {
                let more = (APART - between) / 2.0;
                self.0[k] = rotated(a, -more);
                self.0[next] = rotated(b, more);
            }
        }
    }

    /// The gap after a direction, clockwise.
    pub fn gap(&self, after: usize) -> Gap {
        let (a, b) = (self.0[after], self.0[(after + 1) % 4]);
        let between = libm::atan2(a.cross(b), a.dot(b));
        let angle = if between > 0.0 { between } else { between + std::f64::consts::TAU };
        Gap { middle: rotated(a, angle / 2.0), angle }
    }

    /// A place for a label: in the preferred gap, or, when that is too narrow, in the
    /// widest gap that is not `taken`.
    pub fn room(&self, asked: usize, taken: Option<usize>) -> Room {
        let wide = |gap: usize| self.gap(gap).angle;
        let free = (0..4).filter(|&gap| Some(gap) != taken);
        let gap = if Some(asked) != taken && wide(asked) >= NARROW {
            asked
        } else {
            free.max_by(|&a, &b| wide(a).total_cmp(&wide(b))).unwrap_or(asked)
        };
        let Gap { middle, angle } = self.gap(gap);
        // Farther out in a narrow gap, where the lines are farther apart.
        let half = libm::sin((angle / 2.0).min(std::f64::consts::FRAC_PI_2));
        Room { gap, offset: middle * (0.13 / half).clamp(0.31, 0.42) }
    }
}

/// The way down and outwards from a side of a stitch.
fn outwards(end: End) -> Point {
    point(if end.side == Side::Left { -1.0 } else { 1.0 }, 1.0)
}

/// A narrower gap has no room for a label.
const NARROW: f64 = 0.9;

/// The gaps, for [`Directions::gap`] and [`Directions::room`].
pub(super) const ABOVE: usize = 0;
pub(super) const RIGHT: usize = 1;
pub(super) const BELOW: usize = 2;
pub(super) const LEFT: usize = 3;

/// Turns a direction clockwise by an angle in radians.
pub(super) fn rotated(a: Point, angle: f64) -> Point {
    let (sin, cos) = (libm::sin(angle), libm::cos(angle));
    point(a.x * cos - a.y * sin, a.x * sin + a.y * cos)
}
