//! Shared by the tests of the whole house.

pub mod data;
pub mod schedule;
