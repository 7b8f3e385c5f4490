//! Where threads lie, and how they are drawn.

pub mod layout;
