//! Tables of pictures: grounds or varieties in rows, arrangements in columns,
//! with heads that stay visible while scrolling.
//!
//! The pictures of a row are side by side in one file, and every cell shows a
//! part of it.

use catalogue::Chosen;
use compare::cell::Cell;
use compare::strip::Strip;
use lace::Arrangement;
use minijinja::Value;
use minijinja::context;
use rayon::prelude::*;
use serde::Serialize;

use crate::GalleryError;
use crate::drawn_variety::DrawnVariety;
use crate::shared::{Gallery, LARGE_COLOURS};

/// Width and height of a picture in a table, in pixels.
pub const CELL_PX: u32 = 240;

/// A ground in every arrangement.
#[derive(Clone, Serialize)]
pub struct Row {
    title: String,
    /// Its page, as a path from the folder of the gallery.
    page: String,
    /// The pictures side by side.
    file: String,
    /// How much lace they show, if more than usual.
    shows: String,
    cells: Vec<CellView>,
}

#[derive(Clone, Serialize)]
struct CellView {
    /// The resulting pattern, in a line.
    words: String,
    alt: String,
}

impl Row {
    /// The same row with another title.
    pub fn named(self, title: &str) -> Row {
        Row { title: title.to_owned(), ..self }
    }
}

/// The heads of the columns: the letters of each arrangement, and its name if it
/// has one.
pub fn columns(arrangements: &[Arrangement]) -> Value {
    let head =
        |a: &Arrangement| context! { letters => a.to_string(), name => a.name().map(|n| n.to_string()) };
    arrangements.iter().map(head).collect()
}

/// Paints varieties of a ground in all arrangements and writes the pictures.
/// Returns a row for each variety.
pub fn rows<E: Send>(
    gallery: &Gallery<'_, E>,
    drawn: Vec<DrawnVariety<'_>>,
) -> Result<Vec<Row>, GalleryError<E>> {
    let row = |DrawnVariety { chosen, layout, .. }: DrawnVariety<'_>| {
        let (arrangements, scale) = (gallery.arrangements(), gallery.scale());
        let strip = Strip::new(chosen.clone(), layout, arrangements, &gallery.painted, scale, CELL_PX);
        row(gallery, chosen, &strip)
    };
    drawn.into_par_iter().map(row).collect()
}

fn row<E>(gallery: &Gallery<'_, E>, chosen: &Chosen, strip: &Strip) -> Result<Row, GalleryError<E>> {
    let file = format!("rows/{}.png", chosen.name());
    let px_per_mm = f64::from(CELL_PX) / strip.window_mm;
    gallery.write(&file, &strip.image.reduced(LARGE_COLOURS).to_png(px_per_mm))?;
    let cell = |(arrangement, cell): (&Arrangement, &Cell)| {
        let part = cell.shown.part_in_words();
        let words = [Some(cell.words()), part].into_iter().flatten().collect::<Vec<_>>().join("; ");
        CellView { alt: format!("{} hung {arrangement}: {words}", chosen.title()), words }
    };
    Ok(Row {
        title: chosen.title().to_owned(),
        page: format!("grounds/{}.html#variety-{}", chosen.about().id, chosen.variety),
        file,
        shows: strip.cells.first().and_then(|cell| cell.shown.scale_in_words()).unwrap_or_default(),
        cells: gallery.arrangements().iter().zip(&strip.cells).map(cell).collect(),
    })
}
