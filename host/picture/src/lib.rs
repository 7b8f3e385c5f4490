//! Computing where threads lie, and drawing them.
//!
//! Grounds go in, bytes come out; nothing here reads or writes files. A ground
//! is laid out, drawn, and exported:
//!
//! ```
//! use lace::{Grid, Ground, samples};
//! use picture::colour::rgb;
//! use picture::drawing::rect;
//! use picture::drawing::threads::{ThreadLook, draw_threads};
//! use picture::export::raster::rasterise;
//! use picture::layout::lay_out;
//!
//! let ground = Ground::new(samples::torchon("CT pin CT", 0)).expect("torchon ground has no errors");
//! // Footside pins 4 mm apart, diagonals 45 degrees from the footside, thread 0.3 mm thick.
//! let grid = Grid::new(4.0, 45.0).expect("a grid that can be pricked");
//! let layout = lay_out(&ground, &grid, 0.3);
//! assert!(layout.report.converged);
//!
//! // Two pairs of one colour, two of another, in a window of 16 by 12 mm at 10 pixels to the mm.
//! let (navy, gold) = (rgb(31, 63, 119), rgb(224, 123, 57));
//! let look = ThreadLook::new([[navy; 4], [gold; 4]].concat(), 10.0);
//! let drawing = draw_threads(&ground, &layout, rect(0.0, 0.0, 16.0, 12.0), &look);
//! let image = rasterise(&drawing, 10.0);
//! assert_eq!((image.width(), image.height()), (160, 120));
//!
//! let png = image.to_png(10.0);
//! assert!(png.starts_with(b"\x89PNG"));
//! ```
//!
//! Dependencies go one way: [`layout`] knows nothing about drawing; [`drawing`]
//! draws its result; every exporter in [`export`] takes the same
//! [`drawing::Drawing`]; [`page`] arranges drawings and text on paper.

pub mod colour;
pub mod drawing;
pub mod export;
pub mod layout;
pub mod limits;
pub mod page;
