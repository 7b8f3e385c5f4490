//! Helpers shared by tests of all crates.

pub mod charts;
pub mod data;
pub mod house;
pub mod oracle;
pub mod schedule;
pub mod traces;
