//! Colours: how they hang, which arrangements look different on a ground, and
//! the kinds of pattern they make.

pub mod arrangement;
pub mod arrangement_name;
pub mod arrangement_symmetry;
pub mod distinct_arrangements;
pub mod pattern;
pub mod period;
