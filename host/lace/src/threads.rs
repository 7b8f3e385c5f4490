//! Single threads: where each one runs, what it crosses, where it comes from,
//! which way it goes in the long run, and whether they all hold together.

pub mod affine_permutation;
pub mod braid;
pub mod cohesion;
pub mod courses;
pub mod ground_symmetry;
pub mod hanging;
pub mod hung_pairs;
pub mod lacework;
pub mod orbits;
pub mod routes;
pub mod rows;
