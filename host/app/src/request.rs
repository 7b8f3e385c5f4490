//! What users ask for, read from the arguments as they are typed.

pub mod choices;
pub mod colours;
pub mod filters;
pub mod gauge;
pub mod grid;
pub mod sheet;
mod shown_grounds;
pub mod trace;
