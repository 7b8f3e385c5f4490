//! The lace model and its mathematics.
//!
//! A [`Repeat`] is what a contributor defines; [`check`] says all that is wrong
//! with it; a [`Ground`] is a repeat without errors, and the only thing that can
//! be traced, measured or drawn. No I/O, no WebAssembly, no drawing here.

pub mod arrangement;
mod balanced;
pub mod braid;
mod check;
pub mod findings;
mod frame;
mod ground;
pub mod hanging;
mod hold;
pub mod map;
mod measures;
pub mod moves;
mod order;
mod order_name;
pub mod pattern;
mod quote;
pub mod repeat;
mod sameness;
#[cfg(any(test, feature = "samples"))]
pub mod samples;
pub mod steer;
mod symmetry;
mod threads;
mod trace;
mod trace_words;
mod wire;
mod words;
mod yarn;

pub use arrangement::{Arrangement, ArrangementError};
pub use balanced::balanced_places;
pub use braid::Braid;
pub use check::{MAX_CELL, MAX_PAIRS, MAX_PLACE, MAX_STITCHES, MAX_TWISTS, check, is_plain_word};
pub use findings::{Code, Finding, Place, Severity};
pub use frame::Frame;
pub use ground::Ground;
pub use hanging::{AffinePermutation, Hanging};
pub use hold::fabric_layers;
pub use map::LaceMap;
pub use measures::{Grid, GridError, Measures};
pub use moves::{Crossing, Move, PairEffect, Work, WorkError};
pub use order::Step;
pub use order_name::{OrderName, OrderNameError};
pub use pattern::{ColourPeriod, Pattern, SlotCourse};
pub use quote::quote;
pub use repeat::{End, Lattice, Leg, Point, Repeat, Side, Stitch, point};
pub use sameness::{Arrangements, Sameness};
pub use symmetry::SlotMap;
pub use threads::{Course, Orbit, Travel};
pub use trace::{EdgeStitches, EdgeVisit, Trace, TraceError};
pub use words::{PHRASES, WordsError};
pub use yarn::{Count, Thread, ThreadError};
