//! What a ground needs on a pricking: pairs, pins, moves and thread.

pub mod counts;
pub mod pricking_grid;
pub mod yarn;
