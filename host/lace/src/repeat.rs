//! A repeat: the stitches and legs of a ground that, set side by side in two
//! directions, fill any area. This is what a contributor defines; nothing here
//! has been checked yet (see `check` and [`crate::Ground`]).

pub mod balanced;
pub mod map;
#[cfg(any(test, feature = "samples"))]
pub mod samples;
pub mod upright;
mod wire;

use serde::{Deserialize, Serialize};

use crate::stitch::Stitch;

/// A place on the pillow in grid steps: `x` to the right, `y` down.
///
/// One grid step is half the spacing of the footside pins, so that the dots of
/// a torchon grid lie where `x + y` is even.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(from = "[f64; 2]", into = "[f64; 2]")]
pub struct Point {
    /// Grid steps to the right.
    pub x: f64,
    /// Grid steps down.
    pub y: f64,
}

/// A [`Point`] from its two coordinates.
pub const fn point(x: f64, y: f64) -> Point {
    Point { x, y }
}

impl From<[f64; 2]> for Point {
    fn from([x, y]: [f64; 2]) -> Point {
        Point { x, y }
    }
}

impl From<Point> for [f64; 2] {
    fn from(p: Point) -> [f64; 2] {
        [p.x, p.y]
    }
}

impl std::ops::Add for Point {
    type Output = Point;
    fn add(self, other: Point) -> Point {
        point(self.x + other.x, self.y + other.y)
    }
}

impl std::ops::Sub for Point {
    type Output = Point;
    fn sub(self, other: Point) -> Point {
        point(self.x - other.x, self.y - other.y)
    }
}

impl std::ops::Mul<f64> for Point {
    type Output = Point;
    fn mul(self, by: f64) -> Point {
        point(self.x * by, self.y * by)
    }
}

/// The two steps by which the repeat is set out over the area, in grid steps.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Lattice {
    /// From one repeat to its neighbour across.
    pub across: Point,
    /// From one repeat to its neighbour down.
    pub down: Point,
}

impl Lattice {
    /// Where the cell `[i, j]` lies relative to the cell `[0, 0]`, in grid steps.
    pub fn place(&self, [i, j]: [i64; 2]) -> Point {
        self.across * i as f64 + self.down * j as f64
    }

    /// Area of one repeat in square grid steps, negative when `across` and
    /// `down` are in the wrong order (left-handed).
    pub fn area(&self) -> f64 {
        self.across.x * self.down.y - self.across.y * self.down.x
    }
}

/// Left or right, as seen by the lacemaker.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Side {
    /// The left pair.
    Left,
    /// The right pair.
    Right,
}

impl Side {
    /// Both sides, left first.
    pub const BOTH: [Side; 2] = [Side::Left, Side::Right];

    /// 0 for left, 1 for right.
    pub const fn index(self) -> usize {
        self as usize
    }

    /// The other side.
    pub const fn other(self) -> Side {
        match self {
            Side::Left => Side::Right,
            Side::Right => Side::Left,
        }
    }

    /// `left` or `right`.
    pub const fn word(self) -> &'static str {
        match self {
            Side::Left => "left",
            Side::Right => "right",
        }
    }
}

/// One stitch of the repeat.
#[derive(Clone, Debug, PartialEq)]
pub struct PlacedStitch {
    /// Plain word that names the stitch inside its repeat.
    pub id: String,
    /// Where it is worked, in grid steps; `None` lets the host balance places.
    pub at: Option<Point>,
    /// What is worked there.
    pub stitch: Stitch,
}

/// A place where a pair leaves or enters a stitch.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct End {
    /// Position of the stitch in [`Repeat::stitches`].
    pub stitch: usize,
    /// Which of its two pairs.
    pub side: Side,
}

impl End {
    /// An end from a stitch's position and a side.
    pub const fn new(stitch: usize, side: Side) -> End {
        End { stitch, side }
    }

    /// `2 * stitch + side`: a number for tables.
    pub const fn dart(self) -> usize {
        2 * self.stitch + self.side.index()
    }

    /// The end with the number [`End::dart`].
    pub const fn from_dart(dart: usize) -> End {
        End { stitch: dart / 2, side: if dart.is_multiple_of(2) { Side::Left } else { Side::Right } }
    }
}

/// One pair on its way from a stitch to the next.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Leg {
    /// The exit it leaves by.
    pub from: End,
    /// The entry it arrives at.
    pub to: End,
    /// How many cells across and down the arrival lies from the departure.
    pub cell: [i32; 2],
    /// Extra twists of the pair on the way, each right over left.
    pub twists: u32,
}

/// The definition of a ground: not checked, possibly wrong.
#[derive(Clone, Debug, PartialEq)]
pub struct Repeat {
    /// How the repeat is set out over the area.
    pub lattice: Lattice,
    /// The stitches of one repeat.
    pub stitches: Vec<PlacedStitch>,
    /// The legs that leave the stitches of one repeat.
    pub legs: Vec<Leg>,
}
