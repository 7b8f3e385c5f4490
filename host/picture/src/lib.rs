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
pub mod handout;
pub mod image;
pub mod layout;
pub mod lengths;
pub mod pairs;
pub mod pdf;
pub mod pricking;
pub mod raster;
pub mod reading;
pub mod reduce;
mod setting_out;
pub mod sheet;
pub mod sketch;
pub mod stencil;
pub mod svg;
pub mod threads;
mod tile;
pub mod vision;
pub mod ways;
