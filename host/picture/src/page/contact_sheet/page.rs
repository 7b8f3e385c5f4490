//! A page with its heads, its captions and the places for its pictures.

use super::lettering::Captions;
use super::{PAPER, Sizes, Wordings};
use crate::drawing::Drawing;
use crate::export::image::Image;
use crate::export::raster::rasterise;

/// A page before its pictures are painted.
#[derive(Clone, Debug)]
pub struct Page {
    image: Image,
    boxes: Vec<[u32; 2]>,
}

/// A line of pictures that can be painted independently of all others.
#[derive(Debug)]
pub struct Line<'a> {
    /// Its pictures, from the left.
    pub cells: Vec<LineCell>,
    /// The rows of pixels from the upper edge of the pictures down.
    pub pixels: &'a mut [[u8; 4]],
    /// Pixels in a row.
    pub stride: usize,
}

/// A picture in a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LineCell {
    /// Its number on its page.
    pub number: usize,
    /// Distance of its left edge from that of the page, in pixels.
    pub left: usize,
}

impl Page {
    /// A blank page.
    pub(super) fn blank(width: f64, height: f64) -> Page {
        Page { image: Image::new(width.ceil() as u32, height.ceil() as u32, Some(PAPER)), boxes: Vec::new() }
    }

    /// Draws a part of the page.
    pub(super) fn lay(&mut self, drawing: &Drawing, x: f64, y: f64) {
        self.image.lay(&rasterise(drawing, 1.0), x.round() as u32, y.round() as u32);
    }

    /// Reserves the place of a picture and writes its caption.
    pub(super) fn cell(
        &mut self,
        x: f64,
        y: f64,
        sizes: &Sizes,
        captions: &mut Captions,
        lines: Vec<Wordings>,
    ) {
        let [x, y] = [x, y].map(|v| v.round() as u32);
        self.boxes.push([x, y]);
        let several = lines.len() > 1;
        for (k, wordings) in lines.into_iter().enumerate() {
            let below = y + (sizes.side + 2.0 + k as f64 * sizes.caption_line()) as u32;
            captions.lay(&mut self.image, wordings, several && k == 0, x, below);
        }
    }

    /// Upper left corner of each picture, line by line.
    pub fn boxes(&self) -> &[[u32; 2]] {
        &self.boxes
    }

    /// The lines of pictures, which can be painted in parallel.
    pub fn lines(&mut self) -> Vec<Line<'_>> {
        let stride = self.image.width() as usize;
        let mut rest = self.image.pixels_mut();
        let mut above = 0;
        let mut lines: Vec<Line<'_>> = Vec::new();
        let mut number = 0;
        let groups: Vec<&[[u32; 2]]> = self.boxes.chunk_by(|a, b| a[1] == b[1]).collect();
        for (k, group) in groups.iter().enumerate() {
            let top = group[0][1] as usize;
            rest = std::mem::take(&mut rest).split_at_mut((top - above) * stride).1;
            let next = groups.get(k + 1).map_or(rest.len() / stride, |g| g[0][1] as usize - top);
            let (pixels, below) = std::mem::take(&mut rest).split_at_mut(next * stride);
            (rest, above) = (below, top + next);
            let cell = |(n, [x, _]): (usize, &[u32; 2])| LineCell { number: number + n, left: *x as usize };
            lines.push(Line { cells: group.iter().enumerate().map(cell).collect(), pixels, stride });
            number += group.len();
        }
        lines
    }

    /// The finished page.
    pub fn into_image(self) -> Image {
        self.image
    }
}
