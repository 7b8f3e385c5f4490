//! In which directions a stitch has its neighbours, and where between them a
//! word has room.

use lace::{Cell, Ground, Point, Side, point};

use crate::drawing::curve::unit;

/// The directions from a stitch to its four neighbours, each of length 1,
/// clockwise from the left pair coming in: left in, right in, right out, left
/// out.
pub(super) struct Directions([Point; 4]);

/// A gap between two directions that follow each other.
pub(super) struct Gap {
    /// The direction half way between them, of length 1.
    pub middle: Point,
    /// Its angle in radians.
    pub angle: f64,
}

/// Where a word beside a stitch has room.
pub(super) struct Room {
    /// The gap it stands in, for [`Directions::gap`].
    pub gap: usize,
    /// How far into it, from the middle of the stitch, grid steps.
    pub offset: Point,
}

/// Least angle between two directions, so that their lines do not lie on each
/// other.
const APART: f64 = 0.5;

impl Directions {
    /// Those of each stitch, towards where its legs come from and go to.
    pub fn of(ground: &Ground, places: &[Point], shift: impl Fn(Cell) -> Point) -> Vec<Directions> {
        let mut all: Vec<Directions> = places.iter().map(|_| Directions([point(0.0, 0.0); 4])).collect();
        for leg in ground.legs() {
            let run = places[leg.to.stitch] + shift(leg.cell) - places[leg.from.stitch];
            all[leg.from.stitch].0[Directions::number(leg.from.side, true)] = unit(run);
            all[leg.to.stitch].0[Directions::number(leg.to.side, false)] = unit(-run);
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

    /// Towards where the pair at a side comes from or goes to.
    pub fn to(&self, side: Side, out: bool) -> Point {
        self.0[Directions::number(side, out)]
    }

    /// Turns directions that almost coincide away from each other.
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

    /// Where words have room: in the gap asked for, or in the widest that is not
    /// `taken` when that is too narrow.
    pub fn room(&self, asked: usize, taken: Option<usize>) -> Room {
        let wide = |gap: usize| self.gap(gap).angle;
        let free = (0..4).filter(|&gap| Some(gap) != taken);
        let gap = if Some(asked) != taken && wide(asked) >= NARROW {
            asked
        } else {
            free.max_by(|&a, &b| wide(a).total_cmp(&wide(b))).unwrap_or(asked)
        };
        let Gap { middle, angle } = self.gap(gap);
        // Farther out in a narrow gap, where the lines lie farther apart.
        let half = libm::sin((angle / 2.0).min(std::f64::consts::FRAC_PI_2));
        Room { gap, offset: middle * (0.13 / half).clamp(0.31, 0.42) }
    }
}

/// A narrower gap holds no word.
const NARROW: f64 = 0.9;

/// The gaps, for [`Directions::gap`] and [`Directions::room`].
pub(super) const ABOVE: usize = 0;
pub(super) const RIGHT: usize = 1;
pub(super) const BELOW: usize = 2;
pub(super) const LEFT: usize = 3;

/// A direction turned clockwise by an angle in radians.
fn rotated(a: Point, angle: f64) -> Point {
    let (sin, cos) = (libm::sin(angle), libm::cos(angle));
    point(a.x * cos - a.y * sin, a.x * sin + a.y * cos)
}
