//! Regions of the pillow: the outline of a piece and the areas set into it.

use std::cmp::Ordering;
use std::collections::BTreeMap;

use crate::lattice::point::{Point, point};

/// Places nearer than this, in grid steps, are the same.
pub(crate) const SAME: f64 = 1e-6;

/// How a strip begins or ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tip {
    /// In a point, one pin wide, with a pin more at either side in every row.
    Pointed,
    /// In a row of pins.
    Straight,
}

/// The outline of a strip on its grid of pins.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Outline {
    /// How it begins.
    pub start: Tip,
    /// How it ends.
    pub finish: Tip,
    /// Pins side by side in a row that reaches both sides; at least 2.
    pub width: usize,
    /// Pins down each straight side below its first pin. A row of the grid lies between
    /// two of them.
    pub sides: usize,
}

impl Outline {
    /// Grid steps from the middle to either side.
    pub fn half(&self) -> f64 {
        (self.width - 1) as f64
    }

    /// The middle, in grid steps to the right of the first pin.
    pub fn middle(&self) -> f64 {
        match self.start {
            Tip::Pointed => 0.0,
            Tip::Straight => self.half(),
        }
    }

    /// The row of the first pin of the straight sides.
    pub fn widest(&self) -> f64 {
        match self.start {
            Tip::Pointed => self.half(),
            Tip::Straight => 0.0,
        }
    }

    /// The row of the last pin of the straight sides.
    pub fn sides_end(&self) -> f64 {
        self.widest() + 2.0 * self.sides as f64
    }

    /// The last row.
    pub fn last_row(&self) -> f64 {
        match self.finish {
            Tip::Pointed => self.sides_end() + self.half(),
            Tip::Straight => self.sides_end(),
        }
    }

    /// Whether a place lies within or on the outline.
    pub fn holds(&self, p: Point) -> bool {
        let out = (p.x - self.middle()).abs();
        let above = if self.start == Tip::Pointed { p.y - out } else { p.y };
        let last = self.last_row();
        let below = if self.finish == Tip::Pointed { last - p.y - out } else { last - p.y };
        out <= self.half() + SAME && above >= -SAME && below >= -SAME
    }
}

/// A convex region: the hull of some places, with its border.
#[derive(Clone, Debug)]
pub(crate) struct Hull {
    /// Its corners, clockwise on the pillow.
    corners: Vec<Point>,
}

impl Hull {
    /// The hull of some places (A. M. Andrew, "Another efficient algorithm for convex
    /// hulls in two dimensions", 1979).
    pub fn of(places: impl IntoIterator<Item = Point>) -> Hull {
        let mut places: Vec<Point> = places.into_iter().collect();
        places.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
        let half = |places: &mut dyn Iterator<Item = Point>| {
            let mut chain: Vec<Point> = Vec::new();
            for p in places {
                while let [.., a, b] = chain[..] {
                    if (b - a).cross(p - a) > SAME {
                        break;
                    }
                    chain.pop();
                }
                chain.push(p);
            }
            chain
        };
        let mut corners = half(&mut places.iter().copied());
        let back = half(&mut places.iter().rev().copied());
        if back.len() > 2 {
            corners.extend_from_slice(&back[1..back.len() - 1]);
        }
        Hull { corners }
    }

    fn sides(&self) -> impl Iterator<Item = (Point, Point)> + '_ {
        let next = self.corners.iter().cycle().skip(1);
        self.corners.iter().copied().zip(next.copied())
    }

    /// Whether a place lies within or on the border.
    pub fn holds(&self, p: Point) -> bool {
        if self.corners.len() < 3 {
            let [first, .., last] = self.corners[..] else { return (self.corners[0] - p).length() < SAME };
            return nearest(first, last, p).1 < SAME;
        }
        self.sides().all(|(a, b)| (b - a).cross(p - a) >= -SAME * (b - a).length())
    }

    /// How far along the border, clockwise, the place of the border lies that is nearest
    /// to another, in grid steps from the first corner; and the length of the border.
    pub fn along(&self, p: Point) -> (f64, f64) {
        let (mut best, mut far) = (f64::INFINITY, 0.0);
        let mut gone = 0.0;
        for (a, b) in self.sides() {
            let (share, off) = nearest(a, b, p);
            let length = (b - a).length();
            if off < best - SAME {
                (best, far) = (off, gone + share * length);
            }
            gone += length;
        }
        (far, gone)
    }
}

/// The place on a line nearest to another: its share of the line, and how far off.
fn nearest(a: Point, b: Point, p: Point) -> (f64, f64) {
    let run = b - a;
    let share = ((p - a).dot(run) / run.dot(run).max(SAME * SAME)).clamp(0.0, 1.0);
    (share, (a + run * share - p).length())
}

/// What is set into the ground: the whole units of an area, without gaps between them.
#[derive(Clone, Debug)]
pub(crate) struct Set {
    pub whole: Hull,
    /// By row, the parts that reach into it.
    rows: BTreeMap<i64, Vec<Hull>>,
}

impl Set {
    /// The region of some parts that overlap or touch.
    pub fn new(parts: Vec<Hull>) -> Set {
        let whole = Hull::of(parts.iter().flat_map(|part| part.corners.iter().copied()));
        let mut rows: BTreeMap<i64, Vec<Hull>> = BTreeMap::new();
        for part in parts {
            let heights = || part.corners.iter().map(|p| p.y);
            let least = heights().fold(f64::INFINITY, f64::min) - SAME;
            let most = heights().fold(f64::NEG_INFINITY, f64::max) + SAME;
            for row in least.floor() as i64..=most.floor() as i64 {
                rows.entry(row).or_default().push(part.clone());
            }
        }
        Set { whole, rows }
    }

    pub fn holds(&self, p: Point) -> bool {
        self.rows.get(&(p.y.floor() as i64)).is_some_and(|parts| parts.iter().any(|part| part.holds(p)))
    }

    /// How far round the border a place lies, in grid steps clockwise from the bottom:
    /// pairs that come in, from left to right.
    pub fn coming_in(&self, p: Point) -> f64 {
        let (from, whole) = self.whole.along(self.end(|a, b| a.y.total_cmp(&b.y).then(b.x.total_cmp(&a.x))));
        (self.whole.along(p).0 - from).rem_euclid(whole.max(SAME))
    }

    /// The same anticlockwise from the top: pairs that go out, from left to right.
    pub fn going_out(&self, p: Point) -> f64 {
        let (from, whole) = self.whole.along(self.end(|a, b| b.y.total_cmp(&a.y).then(a.x.total_cmp(&b.x))));
        (from - self.whole.along(p).0).rem_euclid(whole.max(SAME))
    }

    fn end(&self, order: impl Fn(&Point, &Point) -> Ordering) -> Point {
        self.whole.corners.iter().copied().max_by(order).unwrap_or(point(0.0, 0.0))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_pointed_strip_holds_its_pins() {
        let outline = Outline { start: Tip::Pointed, finish: Tip::Pointed, width: 3, sides: 2 };
        assert_eq!((outline.widest(), outline.sides_end(), outline.last_row()), (2.0, 6.0, 8.0));
        let inside = [(0.0, 0.0), (-1.0, 1.0), (2.0, 2.0), (-2.0, 6.0), (1.0, 7.0), (0.0, 8.0)];
        assert!(inside.iter().all(|&(x, y)| outline.holds(point(x, y))));
        let outside = [(1.0, 0.0), (-3.0, 3.0), (2.0, 7.0), (1.0, 8.0), (0.0, 9.0)];
        assert!(!outside.iter().any(|&(x, y)| outline.holds(point(x, y))));
    }

    #[test]
    fn a_hull_knows_what_lies_in_it_and_how_far_round() {
        let hull =
            Hull::of([(0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0), (1.0, 1.0)].map(|(x, y)| point(x, y)));
        assert!(hull.holds(point(1.0, 0.0)) && hull.holds(point(0.5, 1.5)) && !hull.holds(point(2.1, 1.0)));
        let set = Set::new(vec![hull]);
        // Up the left side, over the top, and down the right side.
        let round = [(-0.5, 1.5), (-0.5, 0.5), (1.0, -1.0), (2.5, 0.5), (2.5, 1.5)].map(|(x, y)| point(x, y));
        assert!(round.map(|p| set.coming_in(p)).is_sorted());
        // Down the left side, along the bottom, and up the right side.
        let round = [(-0.5, 0.5), (-0.5, 1.5), (0.5, 2.5), (1.5, 2.5), (2.5, 1.5), (2.5, 0.5)]
            .map(|(x, y)| point(x, y));
        assert!(round.map(|p| set.going_out(p)).is_sorted());
    }
}
