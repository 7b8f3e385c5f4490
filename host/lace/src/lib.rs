//! The lace model and its mathematics.
//!
//! A [`Repeat`] is what a contributor defines; [`check`] says all that is wrong
//! with it; a [`Ground`] is a repeat without errors, and the only thing that can
//! be traced, measured or drawn. No I/O, no WebAssembly, no drawing here.

pub mod check;
pub mod colour;
mod ground;
pub mod measures;
pub mod repeat;
pub mod stitch;
pub mod threads;
pub mod words;
pub mod working;

pub use check::findings::{self, Code, Finding, Place, Severity};
pub use check::{MAX_CELL, MAX_PAIRS, MAX_PLACE, MAX_STITCHES, MAX_TWISTS, check, is_plain_word};
pub use colour::arrangement::{self, Arrangement, ArrangementError};
pub use colour::arrangement_name::{ArrangementName, ArrangementNameError};
pub use colour::arrangement_symmetry::{ArrangementSymmetry, DistinctArrangements};
pub use colour::ground_symmetry::SlotMap;
pub use colour::pattern::{self, ColourPeriod, Pattern, SlotCourse};
pub use ground::Ground;
pub use measures::pricking_grid::{Grid, GridError, Measures};
pub use measures::yarn::{Count, Thread, ThreadError};
pub use repeat::balanced::balanced_places;
pub use repeat::map::{self, LaceMap};
#[cfg(any(test, feature = "samples"))]
pub use repeat::samples;
pub use repeat::upright::UprightLattice;
pub use repeat::{End, Lattice, Leg, PlacedStitch, Point, Repeat, Side, point};
pub use stitch::{Crossing, Move, PairEffect, Stitch, StitchError};
pub use threads::braid::{self, Braid};
pub use threads::cohesion::fabric_layers;
pub use threads::hanging::{self, AffinePermutation, Hanging};
pub use threads::orbits::{Course, Orbit, Travel};
pub use words::quote::quote;
pub use words::stitch::{PHRASES, WordsError};
pub use working::order::Step;
pub use working::steer;
pub use working::trace::{EdgeStitches, EdgeVisit, Trace, TraceError};
