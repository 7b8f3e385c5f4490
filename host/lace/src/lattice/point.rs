//! Places on the pillow and the steps between them.
//!
//! All of it is inlined: the layout of threads spends its time in these sums, in
//! another crate.

use std::ops::{Add, AddAssign, Mul, Neg, Sub, SubAssign};

/// A place on the pillow, or the step from one place to another: `x` to the
/// right, `y` down.
///
/// In definitions the unit is the grid step, half the spacing of the footside
/// pins, so that the dots of a torchon grid lie where `x + y` is even. Drawings
/// use millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// To the right.
    pub x: f64,
    /// Down.
    pub y: f64,
}

/// A [`Point`] from its two coordinates.
#[inline]
pub const fn point(x: f64, y: f64) -> Point {
    Point { x, y }
}

impl Point {
    /// The scalar product of two steps.
    #[inline]
    pub fn dot(self, other: Point) -> f64 {
        self.x * other.x + self.y * other.y
    }

    /// The signed area that two steps span, positive when `other` points to the
    /// right of `self`.
    #[inline]
    pub fn cross(self, other: Point) -> f64 {
        self.x * other.y - self.y * other.x
    }

    /// The length of the step.
    #[inline]
    pub fn length(self) -> f64 {
        self.dot(self).sqrt()
    }
}

impl From<[f64; 2]> for Point {
    #[inline]
    fn from([x, y]: [f64; 2]) -> Point {
        Point { x, y }
    }
}

impl From<Point> for [f64; 2] {
    #[inline]
    fn from(p: Point) -> [f64; 2] {
        [p.x, p.y]
    }
}

impl Add for Point {
    type Output = Point;
    #[inline]
    fn add(self, other: Point) -> Point {
        point(self.x + other.x, self.y + other.y)
    }
}

impl AddAssign for Point {
    #[inline]
    fn add_assign(&mut self, other: Point) {
        *self = *self + other;
    }
}

impl Sub for Point {
    type Output = Point;
    #[inline]
    fn sub(self, other: Point) -> Point {
        point(self.x - other.x, self.y - other.y)
    }
}

impl SubAssign for Point {
    #[inline]
    fn sub_assign(&mut self, other: Point) {
        *self = *self - other;
    }
}

impl Neg for Point {
    type Output = Point;
    #[inline]
    fn neg(self) -> Point {
        point(-self.x, -self.y)
    }
}

impl Mul<f64> for Point {
    type Output = Point;
    #[inline]
    fn mul(self, by: f64) -> Point {
        point(self.x * by, self.y * by)
    }
}
