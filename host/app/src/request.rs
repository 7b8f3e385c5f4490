//! Requests, read from the command-line arguments.

pub mod choices;
pub mod colours;
pub mod endings;
pub mod filters;
pub mod gallery;
pub mod gauge;
pub mod grid;
pub mod ids;
pub mod piece;
pub mod recipe;
pub mod sheet;
mod shown_grounds;
pub mod sources;
pub mod trace;
