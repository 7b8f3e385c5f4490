//! Where threads lie, and how they are drawn.
//!
//! Grounds go in, bytes come out; nothing here reads or writes files. Every
//! exporter takes the same [`drawing::Drawing`].

pub mod colour;
pub mod contact;
mod coverage;
mod curve;
pub mod drawing;
pub mod font;
pub mod image;
pub mod layout;
pub mod raster;
pub mod stencil;
pub mod threads;
mod tile;
