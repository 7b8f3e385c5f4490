//! Shared by the tests of the whole house.

pub mod charts;
pub mod data;
pub mod house;
pub mod oracle;
pub mod schedule;
