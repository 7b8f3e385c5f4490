//! The lace model and its mathematics.
//!
//! A [`Repeat`] is what a contributor defines; [`check()`] lists everything that
//! is wrong with it. A [`Ground`] is a repeat without errors, and the only thing
//! that can be traced, measured or drawn.
//!
//! Whole numbers decide where pairs and threads lead: a [`Cell`] of the
//! definition, an [`UprightCell`] of the [`UprightLattice`], a [`Direction`].
//! Places are real numbers, used only for drawings and lengths, so the same
//! repeat gives the same answer on every machine. Size limits are in [`limits`].
//!
//! This crate has no files, no WebAssembly and no drawing.
//!
//! # Examples
//!
//! Torchon ground has one stitch, on every dot of a diagonal grid. Its pairs run
//! along the two diagonals:
//!
//! ```
//! use lace::{End, Ground, Lattice, Leg, PlacedStitch, Repeat, Side, Travel, point};
//!
//! let pin = PlacedStitch {
//!     id: "pin".to_owned(),
//!     at: Some(point(0.0, 0.0)),
//!     stitch: "CT pin CT".parse()?,
//! };
//! let leg = |from, to, cell: [i64; 2]| Leg {
//!     from: End::new(0, from),
//!     to: End::new(0, to),
//!     cell: cell.into(),
//!     twists: 0,
//! };
//! let repeat = Repeat {
//!     // In grid steps, x to the right and y down.
//!     lattice: Lattice { across: point(1.0, 1.0), down: point(-1.0, 1.0) },
//!     stitches: vec![pin],
//!     // Down to the left, and down to the right.
//!     legs: vec![leg(Side::Left, Side::Right, [0, 1]), leg(Side::Right, Side::Left, [1, 0])],
//! };
//! let ground = Ground::new(repeat).expect("nothing is wrong with torchon ground");
//!
//! // Half of the threads go left, half go right.
//! let courses: Vec<(Travel, usize)> = ground.courses().iter().map(|c| (c.travel, c.threads)).collect();
//! assert_eq!(courses, [(Travel::Left, 2), (Travel::Right, 2)]);
//! assert_eq!(
//!     ground.travel_sentence(),
//!     "Every pair travels: half of them down to the left and half down to the right, \
//!      along the diagonals."
//! );
//!
//! // With cloth stitch and twist before and after the pin, all pairs turn back.
//! let mut repeat = ground.repeat().clone();
//! repeat.stitches[0].stitch = "CTCT pin CTCT".parse()?;
//! let ground = Ground::new(repeat).expect("nothing is wrong with this one either");
//! assert_eq!(ground.courses()[0].travel, Travel::Stays);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod check;
mod colour;
mod ground;
mod lattice;
pub mod limits;
mod measures;
mod piece;
mod repeat;
mod stitch;
mod threads;
mod words;
mod working;

pub use check::check;
pub use check::findings::{Code, Finding, Place, Severity};
pub use colour::arrangement::{Arrangement, ArrangementError, colour_letter};
pub use colour::arrangement_name::{ArrangementName, ArrangementNameError};
pub use colour::arrangement_symmetry::ArrangementSymmetry;
pub use colour::distinct_arrangements::DistinctArrangements;
pub use colour::pattern::Pattern;
pub use colour::period::{ColourPeriod, PeriodDown};
pub use ground::Ground;
pub use lattice::Lattice;
pub use lattice::cell::{Cell, UprightCell};
pub use lattice::point::{Point, point};
pub use lattice::upright::{Direction, UprightLattice};
pub use measures::counts::Counts;
pub use measures::pricking_grid::{Grid, GridError, Measures};
pub use measures::yarn::{Count, Thread, ThreadError, bare_diameter_mm};
pub use piece::{
    Change, Cloth, Edge, EdgeKind, EdgePart, Ending, Filling, Footside, LegFrom, LegTo, MAX_PIECE_ROWS,
    Outline, PIECE_WIDTH, PairName, Piece, PieceCode, PieceFinding, PieceLeg, PiecePair, PieceStitch,
    PieceThread, PieceWish, Plan, PlanArea, PlanGround, Shape, Steered, Tip,
};
pub use repeat::balanced::balanced_places;
pub use repeat::map::{LaceMap, Walk};
pub use repeat::plain_word::is_plain_word;
#[cfg(any(test, feature = "samples"))]
pub use repeat::samples;
pub use repeat::{End, Leg, PlacedStitch, Repeat, Side};
pub use stitch::{Crossing, Move, PairEffect, Stitch, StitchError};
pub use threads::affine_permutation::AffinePermutation;
pub use threads::braid::{Braid, BraidNode, BraidSegment, CrossingSource, PinPlace, SegmentCopy};
pub use threads::cohesion::{Over, fabric_layers};
pub use threads::courses::{Course, ThreadCourse, Travel};
pub use threads::ground_symmetry::SlotMap;
pub use threads::hanging::Hanging;
pub use threads::hung_pairs::HungPair;
pub use threads::lacework::Lacework;
pub use threads::orbits::Orbit;
pub use threads::routes::ThreadEntry;
pub use words::number::{count, number, number_to};
pub use words::quote::quote;
pub use words::stitch::{STITCH_PHRASES, WordsError};
pub use working::order::{Onward, OrderOfWorking, Step, TurnsTo};
pub use working::steer::StitchChange;
pub use working::trace::footsides::{EdgeChange, EdgeStitches};
pub use working::trace::{EdgeVisit, Trace, TraceError};
