//! Exporters: from a [`Drawing`](crate::drawing::Drawing) to pixels, PNG, SVG,
//! PDF, and to stencils that can be painted in other colours.

mod coverage;
pub mod image;
pub mod pdf;
pub mod raster;
pub mod reduce;
pub mod stencil;
pub mod svg;
