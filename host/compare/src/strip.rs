//! Strips: a ground in several arrangements, side by side in one picture.

use catalogue::Chosen;
use lace::Arrangement;
use picture::colour::vision::contrast;
use picture::export::image::Image;
use picture::layout::Layout;
use rayon::prelude::*;

use crate::cell::{Cell, DrawnGround};
use crate::palette::Palette;
use crate::scale::Scale;

/// A ground painted in several arrangements.
#[derive(Clone, Debug)]
pub struct Strip {
    /// The pictures side by side.
    pub image: Image,
    /// Width and height of the lace in each, mm.
    pub window_mm: f64,
    /// The result of each arrangement.
    pub cells: Vec<Cell>,
}

impl Strip {
    /// Paints a laid-out ground in some arrangements, each picture `px` pixels
    /// wide.
    pub fn new(
        chosen: Chosen,
        layout: Layout,
        arrangements: &[Arrangement],
        palette: &Palette,
        scale: &Scale,
        px: u32,
    ) -> Strip {
        let drawn = DrawnGround::new(chosen, layout, arrangements, scale, px);
        let mut image = Image::new(px * arrangements.len() as u32, px, None);
        let stride = image.width() as usize;
        for (arrangement, x) in arrangements.iter().zip((0..).step_by(px as usize)) {
            drawn.thumbnail.paint_into(arrangement, palette, &mut image.pixels_mut()[x..], stride);
        }
        let contrast = |a: u8, b: u8| contrast(palette.rgb(a).into(), palette.rgb(b).into());
        let colours = palette.colours().len();
        let cell = |arrangement| Cell::new(&drawn, arrangement, colours, contrast);
        Strip { image, window_mm: drawn.window_mm, cells: arrangements.par_iter().map(cell).collect() }
    }
}
