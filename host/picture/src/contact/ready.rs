//! A table of pictures that are painted already: few enough to be held all at
//! once.

use lace::Arrangement;

use super::{Column, Heading, RowHead, Table, TablePage};
use crate::colour::Rgb;
use crate::image::Image;

/// One row of a contact sheet.
#[derive(Clone, Debug)]
pub struct Row {
    /// What it shows, in large letters.
    pub label: String,
    /// More about it, in small letters, line by line.
    pub notes: Vec<String>,
    /// One picture for each column, all of one size.
    pub cells: Vec<Image>,
}

/// A contact sheet.
#[derive(Clone, Debug)]
pub struct ContactSheet {
    /// What it shows.
    pub title: String,
    /// More about it.
    pub subtitle: String,
    /// The colour and name of each letter.
    pub palette: Vec<(Rgb, String)>,
    /// The colour order of each column.
    pub columns: Vec<Arrangement>,
    /// The rows.
    pub rows: Vec<Row>,
    /// Pixels to a millimetre of lace.
    pub px_per_mm: f64,
}

impl ContactSheet {
    /// The sheet as one picture. Rows of different lengths leave gaps.
    pub fn draw(&self) -> Image {
        let heading = Heading {
            title: self.title.clone(),
            subtitle: self.subtitle.clone(),
            palette: self.palette.clone(),
            side: self.rows.iter().flat_map(|r| &r.cells).next().map_or(96, Image::width),
            caption_lines: 0,
        };
        let table = Table {
            heading: &heading,
            columns: self.columns.iter().map(|o| Column { order: o.clone(), name: None }).collect(),
            rows: self
                .rows
                .iter()
                .map(|r| RowHead { label: r.label.clone(), notes: r.notes.clone() })
                .collect(),
        };
        let part = TablePage { rows: 0..self.rows.len(), columns: 0..self.columns.len() };
        let page = table.page(&part, None, |_, _| Vec::new());
        let boxes = page.boxes().to_vec();
        let mut image = page.into_image();
        for (row, boxes) in self.rows.iter().zip(boxes.chunks(self.columns.len().max(1))) {
            for (picture, [x, y]) in row.cells.iter().zip(boxes) {
                image.lay(picture, *x, *y);
            }
        }
        image
    }
}
