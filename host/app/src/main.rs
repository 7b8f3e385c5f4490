//! The `pairwise` program.
fn main() {}
