//! Where threads lie, and how they are drawn.
//!
//! Grounds go in, bytes come out; nothing here reads or writes files. Arrows
//! lead one way: `page` sets out what `drawing` draws of what `layout` found,
//! and every exporter takes the same [`drawing::Drawing`].

pub mod colour;
pub mod drawing;
pub mod export;
pub mod layout;
pub mod lengths;
pub mod page;
