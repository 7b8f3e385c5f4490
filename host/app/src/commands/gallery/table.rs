//! Tables of pictures: grounds or varieties in rows, colour orders in columns,
//! with heads that stay in sight.
//!
//! The pictures of a row lie side by side in one file, of which every cell
//! shows a part.

use catalogue::Chosen;
use compare::strip::Strip;
use lace::Arrangement;
use picture::layout::Layout;
use rayon::prelude::*;
use serde::Serialize;

use super::{Gallery, LARGE_COLOURS};
use crate::failure::Failure;

/// Pixels of a picture in a table, either way.
pub const CELL_PX: u32 = 240;

/// A colour order at the head of a column.
#[derive(Serialize)]
pub struct Column {
    letters: String,
    /// Its name, where it has one.
    name: Option<String>,
}

/// A ground in every colour order.
#[derive(Clone, Serialize)]
pub struct Row {
    title: String,
    /// Where it is told of, from the folder of the gallery.
    page: String,
    /// The pictures side by side.
    file: String,
    cells: Vec<Cell>,
}

#[derive(Clone, Serialize)]
struct Cell {
    /// What comes of the order, in a line.
    words: String,
    alt: String,
}

impl Row {
    /// The same row with another title.
    pub fn named(self, title: &str) -> Row {
        Row { title: title.to_owned(), ..self }
    }
}

/// The heads of the columns.
pub fn columns(orders: &[Arrangement]) -> Vec<Column> {
    orders.iter().map(|o| Column { letters: o.to_string(), name: o.name().map(|n| n.words()) }).collect()
}

/// Paints varieties of a ground that are laid out in all colour orders and
/// writes the pictures. A row for each.
pub fn rows(gallery: &Gallery<'_>, laid_out: Vec<(Chosen, Layout)>) -> Result<Vec<Row>, Failure> {
    let Gallery { orders, palette, scale, .. } = gallery;
    let row = |(chosen, layout): (Chosen, Layout)| {
        let strip = Strip::new(chosen.clone(), layout, &orders.shown, palette, scale, CELL_PX);
        row(gallery, &chosen, &strip)
    };
    laid_out.into_par_iter().map(row).collect()
}

fn row(gallery: &Gallery<'_>, chosen: &Chosen, strip: &Strip) -> Result<Row, Failure> {
    let about = chosen.about();
    let file = format!("rows/{}.png", chosen.name());
    let px_per_mm = f64::from(CELL_PX) / gallery.scale.window_mm();
    gallery.folder.write(&file, &strip.image.reduced(LARGE_COLOURS).to_png(px_per_mm))?;
    let cell = |(order, cell): (&Arrangement, &compare::cell::Cell)| {
        let words = cell.words();
        Cell { alt: format!("{} hung {order}: {words}", chosen.title()), words }
    };
    Ok(Row {
        title: chosen.title().to_owned(),
        page: format!("grounds/{}.html#variety-{}", about.id, chosen.variety),
        file,
        cells: gallery.orders.shown.iter().zip(&strip.cells).map(cell).collect(),
    })
}
