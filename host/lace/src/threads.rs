//! Single threads: where each runs, what it crosses, where it comes from, which
//! ways they go in the long run, and whether all of them hang together.

pub mod affine_permutation;
pub mod braid;
pub mod cohesion;
pub mod courses;
pub mod ground_symmetry;
pub mod hanging;
pub mod hung_pairs;
pub mod orbits;
pub mod routes;
mod rows;
