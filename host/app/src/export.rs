//! Drawings as files: PNG, SVG or PDF, chosen by the file name's ending.

use std::path::Path;

use catalogue::text::path_name;
use picture::drawing::Drawing;
use picture::export::pdf::to_pdf;
use picture::export::raster::rasterise;
use picture::export::svg::to_svg;

use crate::failure::Failure;
use crate::output::write_file;

/// Most pixels in a picture; larger ones exhaust the memory of small machines.
const MAX_PIXELS: f64 = 150e6;

/// The file format of a drawing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Format {
    /// Pixels.
    Png,
    /// Vectors, for web pages and drawing programs.
    Svg,
    /// Pages to print.
    Pdf,
}

impl Format {
    /// The format that the ending of a file name asks for.
    pub fn of(path: &Path) -> Result<Format, Failure> {
        let ending = path.extension().and_then(|e| e.to_str()).unwrap_or_default().to_ascii_lowercase();
        match ending.as_str() {
            "png" => Ok(Format::Png),
            "svg" => Ok(Format::Svg),
            "pdf" => Ok(Format::Pdf),
            _ => Err(Failure::Value {
                what: format!("the name {} does not say what kind of file to write", path_name(path)),
                help: "let it end in .pdf (to print), .svg (for web pages) or .png (a picture)".to_owned(),
            }),
        }
    }
}

/// Writes pages to a file, a PNG `px` pixels wide.
pub fn export(pages: &[Drawing], path: &Path, px: u32) -> Result<(), Failure> {
    let format = Format::of(path)?;
    let bytes = match (format, pages) {
        (Format::Pdf, pages) => to_pdf(pages).map_err(|why| Failure::Value {
            what: why.to_string(),
            help: "give a smaller --area".to_owned(),
        })?,
        (Format::Svg, [page]) => to_svg(page, "").into_bytes(),
        (Format::Png, [page]) => {
            let px_per_mm = f64::from(px) / page.width;
            let high = page.height * px_per_mm;
            if high > f64::from(u16::MAX) || high * f64::from(px) > MAX_PIXELS {
                return Err(Failure::Value {
                    what: format!("a picture of {px} by {high:.0} pixels is too large"),
                    help: "give a smaller --px, or write an .svg or .pdf".to_owned(),
                });
            }
            rasterise(page, px_per_mm).to_png(px_per_mm)
        }
        (Format::Png | Format::Svg, pages) => {
            return Err(Failure::Value {
                what: format!("the drawing takes {} pages, and {} holds one", pages.len(), path_name(path)),
                help: "write a .pdf, choose a larger --paper, or give a smaller --area".to_owned(),
            });
        }
    };
    write_file(path, &bytes)
}
