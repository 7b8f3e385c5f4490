//! Single threads: where each runs, what it crosses, where it comes from, and
//! whether all of them hang together.

pub mod braid;
pub mod cohesion;
pub mod hanging;
pub mod orbits;
