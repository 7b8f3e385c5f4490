//! What a ground takes: pairs, pins and moves at a pricking, and thread.

pub mod counts;
pub mod pricking_grid;
pub mod yarn;
