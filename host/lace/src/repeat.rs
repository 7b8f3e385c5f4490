//! A repeat: the stitches and legs of a ground that, set out in two directions,
//! fill any area. This is what a contributor defines; nothing here has been
//! checked yet (see `check` and [`crate::Ground`]).

pub mod balanced;
pub mod map;
pub mod plain_word;
#[cfg(any(test, feature = "samples"))]
pub mod samples;
pub mod wiring;

use crate::lattice::Lattice;
use crate::lattice::cell::Cell;
use crate::lattice::point::Point;
use crate::stitch::Stitch;

/// Left or right, as seen by the lacemaker.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
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
    /// Plain word that names the stitch within its repeat.
    pub id: String,
    /// Where it is worked, in grid steps; with `None` the host computes balanced
    /// places.
    pub at: Option<Point>,
    /// The stitch worked there.
    pub stitch: Stitch,
}

/// A side of a stitch where a pair leaves or enters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct End {
    /// Position of the stitch in [`Repeat::stitches`].
    pub stitch: usize,
    /// Which of the two pairs.
    pub side: Side,
}

impl End {
    /// Makes an end from the position of a stitch and a side.
    pub const fn new(stitch: usize, side: Side) -> End {
        End { stitch, side }
    }

    /// `2 * stitch + side`: an index for tables.
    pub const fn dart(self) -> usize {
        2 * self.stitch + self.side.index()
    }

    /// The inverse of [`End::dart`].
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
    /// The cell of the arrival, relative to that of the departure.
    pub cell: Cell,
    /// Extra twists of the pair on the way, each right over left.
    pub twists: u32,
}

/// The definition of a ground: unchecked, possibly wrong.
#[derive(Clone, Debug, PartialEq)]
pub struct Repeat {
    /// How the repeat is set out over the area.
    pub lattice: Lattice,
    /// The stitches of one repeat.
    pub stitches: Vec<PlacedStitch>,
    /// The legs that leave the stitches of one repeat.
    pub legs: Vec<Leg>,
}
