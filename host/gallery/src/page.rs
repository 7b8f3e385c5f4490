//! The pages, each with the pictures that belong to it.

mod choices;
pub mod class;
pub mod explore;
pub mod faults;
pub mod glossary;
pub mod ground;
pub mod index;
pub mod names;
pub mod side_by_side;
mod table;
pub mod variety;
pub mod words;
