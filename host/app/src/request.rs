//! What users ask for, read from the arguments as they are typed.

pub mod choices;
pub mod filters;
