//! The pages of the class gallery.

pub mod sources;
pub mod typeface;
