//! Pages painted and written one after the other, so that only one of them is
//! held at a time.

use std::path::{Path, PathBuf};

use lace::Arrangement;
use picture::export::image::Image;
use picture::page::contact_sheet::Page;
use rayon::prelude::*;
use serde::Serialize;

use super::cells::Drawn;
use crate::colours::Palette;
use crate::failure::Failure;
use crate::output::write_file;
use crate::progress::Progress;

/// A page that has been written.
#[derive(Clone, Debug, Serialize)]
pub struct Written {
    /// Name of the file, in the folder of the picture asked for.
    pub file: String,
    /// Pixels across.
    pub width: u32,
    /// Pixels down.
    pub height: u32,
}

/// Where a picture stands.
#[derive(Clone, Copy, Debug)]
pub struct Placed {
    /// Number of its page.
    pub page: usize,
    /// Its upper left corner.
    pub at: [u32; 2],
    /// Ground and order.
    pub what: [usize; 2],
}

/// What pages are painted with.
pub struct Painter<'a> {
    /// The grounds.
    pub drawn: &'a [Drawn],
    /// The orders.
    pub orders: &'a [Arrangement],
    /// The colours.
    pub palette: &'a Palette,
    /// Most colours on a page, if there is a bound.
    pub most_colours: Option<u16>,
}

impl Painter<'_> {
    /// Paints the pictures of a page, given by ground and order, on all
    /// processors.
    pub fn paint(&self, mut page: Page, what: &[[usize; 2]]) -> Image {
        page.lines().into_par_iter().for_each(|line| {
            for (number, x) in line.cells {
                let [row, column] = what[number];
                let thumbnail = &self.drawn[row].thumbnail;
                thumbnail.paint_into(&self.orders[column], self.palette, &mut line.pixels[x..], line.stride);
            }
        });
        page.into_image()
    }

    /// Paints and writes pages, each from its number, its name among several,
    /// and what it shows. Returns the pages and every picture's place.
    pub fn write(
        &self,
        out: &Path,
        px_per_mm: f64,
        pages: usize,
        make: impl Fn(usize, Option<&str>) -> (Page, Vec<[usize; 2]>),
    ) -> Result<(Vec<Written>, Vec<Placed>), Failure> {
        let progress = Progress::new(pages, "Painting pages");
        let mut written = Vec::with_capacity(pages);
        let mut placed = Vec::new();
        for number in 0..pages {
            let which = (pages > 1).then(|| format!("page {} of {pages}", number + 1));
            let (page, what) = make(number, which.as_deref());
            let boxes = page.boxes().iter().zip(&what);
            placed.extend(boxes.map(|(at, what)| Placed { page: number, at: *at, what: *what }));
            let image = self.paint(page, &what);
            let image = match self.most_colours {
                Some(most) => image.reduced(most),
                None => image,
            };
            let path = path(out, number, pages);
            let (width, height) = (image.width(), image.height());
            write_file(&path, &image.into_png(px_per_mm))?;
            let file = path.file_name().map_or_else(String::new, |name| name.to_string_lossy().into_owned());
            written.push(Written { file, width, height });
            progress.step();
        }
        Ok((written, placed))
    }
}

/// The file of a page: the picture asked for, or that with a number when there
/// are several.
pub fn path(out: &Path, number: usize, pages: usize) -> PathBuf {
    if pages == 1 {
        return out.to_owned();
    }
    let mut name = out.file_stem().unwrap_or_default().to_owned();
    name.push(format!("-{}", number + 1));
    if let Some(ending) = out.extension() {
        name.push(".");
        name.push(ending);
    }
    out.with_file_name(name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pages_are_numbered_before_the_ending() {
        assert_eq!(path(Path::new("a/grid.png"), 0, 1), Path::new("a/grid.png"));
        assert_eq!(path(Path::new("a/grid.png"), 1, 3), Path::new("a/grid-2.png"));
        assert_eq!(path(Path::new("my.class.png"), 0, 2), Path::new("my.class-1.png"));
        assert_eq!(path(Path::new("grid"), 9, 12), Path::new("grid-10"));
    }
}
