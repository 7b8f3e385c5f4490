//! The plan of a piece: its outline, its ground, the areas set into it, its edges, and
//! the stitches changed one by one. Nothing here has been checked yet (see
//! [`Piece`](crate::Piece)).

use crate::ground::Ground;
use crate::lattice::point::Point;
use crate::piece::clothwork::Cloth;
use crate::piece::region::Outline;
use crate::repeat::Side;
use crate::stitch::Stitch;

/// A plan.
#[derive(Clone, Debug)]
pub struct Plan<'a> {
    /// The outline.
    pub outline: Outline,
    /// The ground of the piece.
    pub ground: PlanGround<'a>,
    /// The areas set into it.
    pub areas: Vec<PlanArea<'a>>,
    /// What is worked at the edge pins.
    pub edge: Edge,
    /// The stitch at the first pin of a pointed start; `None`: as at the other edge pins.
    pub first: Option<Stitch>,
    /// Changed stitches; a later change wins.
    pub changes: Vec<Change>,
    /// Most pairs the piece may have.
    pub most_pairs: Option<usize>,
}

/// A ground of a plan.
#[derive(Clone, Copy, Debug)]
pub struct PlanGround<'a> {
    /// The ground.
    pub ground: &'a Ground,
    /// The stitch, by its position in the repeat, that lies on the first pin: of the
    /// piece, or of the area.
    pub anchor: usize,
}

/// An area set into the ground of a piece.
#[derive(Clone, Debug)]
pub struct PlanArea<'a> {
    /// Its name.
    pub name: String,
    /// Where the anchor of its first unit, or its topmost pin, lies, in grid steps from the
    /// first pin.
    pub at: Point,
    /// What fills it.
    pub filling: Filling<'a>,
}

/// What fills an area.
#[derive(Clone, Copy, Debug)]
pub enum Filling<'a> {
    /// Whole units of a ground.
    Units {
        /// The ground.
        ground: PlanGround<'a>,
        /// How many units, and in which shape.
        shape: Shape,
    },
    /// A diamond or a slanting trail of clothwork.
    Clothwork {
        /// What is worked in it.
        cloth: Cloth,
        /// Pins from the topmost one down the right edge to the corner.
        right: usize,
        /// Pins from the topmost one down the left edge to the corner.
        left: usize,
    },
}

/// The shape of an area, in whole units of its ground.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shape {
    /// So many units down to the right from the first, and so many down to the left.
    /// Where units lie side by side, the first number counts across and the second down.
    Diamond {
        /// Units down to the right.
        right: usize,
        /// Units down to the left.
        left: usize,
    },
    /// So many rows of units, each as long as the outline allows.
    Band {
        /// Rows of units.
        rows: usize,
    },
}

/// What is worked at the edges.
#[derive(Clone, Debug, Default)]
pub struct Edge {
    /// The stitch at every edge pin of the ground; `None`: that of the ground.
    pub stitch: Option<Stitch>,
    /// A footside down the straight sides; `None`: the outer pair runs down to the next
    /// edge pin.
    pub footside: Option<Footside>,
}

/// A footside: the pair that comes out of the ground passes through the passive pairs,
/// works the edge stitch with the edge pair, and one of the two goes back.
#[derive(Clone, Debug)]
pub struct Footside {
    /// Passive pairs.
    pub passives: usize,
    /// The stitch with each passive pair.
    pub passing: Stitch,
    /// The stitch with the edge pair.
    pub edge: Stitch,
}

/// Stitches that are changed: those that fulfil every condition given.
#[derive(Clone, Debug, Default)]
pub struct Change {
    /// The stitch at this place.
    pub at: Option<Point>,
    /// Stitches from this row on.
    pub from: Option<f64>,
    /// Stitches as far as this row.
    pub to: Option<f64>,
    /// Stitches of this area; the inner `None` is the ground of the piece.
    pub area: Option<Option<usize>>,
    /// Stitches at the edge pins of these sides.
    pub edges: Vec<Side>,
    /// Stitches worked like this so far.
    pub worked: Option<Stitch>,
    /// The new stitch.
    pub stitch: Stitch,
}
