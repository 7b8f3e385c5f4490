//! A table of pictures: rows with labels, columns with arrangements drawn as
//! hanging bobbins.

use std::ops::Range;

use lace::{Arrangement, point};

use super::bobbins::draw_bobbins;
use super::lettering::{Captions, write};
use super::page::Page;
use super::{GAP, Heading, MARGIN, QUIET, Sizes, Wordings, fitting, portions};
use crate::colour::Rgb;
use crate::drawing::font;
use crate::drawing::{Drawing, Face, Group};

/// A column's head.
#[derive(Clone, Debug)]
pub struct Column {
    /// Its colour arrangement.
    pub arrangement: Arrangement,
    /// The name of the arrangement.
    pub name: Option<String>,
}

/// A row's head.
#[derive(Clone, Debug)]
pub struct RowHead {
    /// Its label, in large letters.
    pub label: String,
    /// Lines of notes, in small letters.
    pub notes: Vec<String>,
}

/// Pictures in rows and columns.
#[derive(Clone, Debug)]
pub struct Table<'a> {
    /// The head of every page.
    pub heading: &'a Heading,
    /// The columns, left to right.
    pub columns: Vec<Column>,
    /// The rows, from the top.
    pub rows: Vec<RowHead>,
}

/// The part of a table on one page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TablePage {
    /// Its rows.
    pub rows: Range<usize>,
    /// Its columns.
    pub columns: Range<usize>,
}

/// The layout of a page of a table.
struct Places {
    width: f64,
    label_room: f64,
    left: f64,
    name_line: f64,
    bobbins: f64,
}

impl Table<'_> {
    fn places(&self, columns: usize) -> Places {
        let Sizes { side, small, .. } = self.heading.sizes();
        let label_room = (side * 1.45).clamp(150.0, 300.0);
        let left = (MARGIN + label_room + GAP).ceil();
        let width = left + columns as f64 * (side + GAP) - GAP + MARGIN;
        let named = self.columns.iter().any(|c| c.name.is_some());
        Places {
            width: width.max(left + 2.0 * side),
            label_room,
            left,
            name_line: if named { 1.4 * small } else { 0.0 },
            bobbins: (side * 0.42).max(34.0),
        }
    }

    /// Splits the table into pages of at most `bound` pixels each way; a page holds
    /// at least one picture with its heads, even if it is larger.
    pub fn pages(&self, bound: u32) -> Vec<TablePage> {
        let sizes = self.heading.sizes();
        let bound = f64::from(bound);
        let across =
            portions(self.columns.len(), fitting(bound - self.places(1).left - MARGIN, sizes.side, GAP));
        // On a narrow page the text of the head takes more lines.
        let top = across.iter().map(|part| self.top(&self.places(part.len()))).fold(0.0, f64::max);
        let down = portions(self.rows.len(), fitting(bound - top - MARGIN, sizes.pitch() - GAP, GAP));
        down.iter()
            .flat_map(|rows| {
                across.iter().map(|columns| TablePage { rows: rows.clone(), columns: columns.clone() })
            })
            .collect()
    }

    fn top(&self, places: &Places) -> f64 {
        let head = self.heading.head(places.width, None).bottom;
        (head + places.name_line + places.bobbins + GAP).ceil()
    }

    /// A page with the heads of its rows and columns. `which` is the page label;
    /// `caption` gives the caption of the picture in a row and a column.
    pub fn page(
        &self,
        part: &TablePage,
        which: Option<&str>,
        caption: impl Fn(usize, usize) -> Vec<Wordings>,
    ) -> Page {
        let sizes = self.heading.sizes();
        let places = self.places(part.columns.len());
        let top = self.top(&places);
        let height = top + part.rows.len() as f64 * sizes.pitch() - GAP + MARGIN;
        let mut page = Page::blank(places.width, height);
        page.lay(&self.head(part, which, &places, top), 0.0, 0.0);
        let mut captions = Captions::new(sizes.caption, self.heading.side, sizes.caption_line());
        for (k, r) in part.rows.clone().enumerate() {
            let y = top + k as f64 * sizes.pitch();
            page.lay(&self.label(&self.rows[r], places.label_room), MARGIN, y);
            for (n, c) in part.columns.clone().enumerate() {
                let x = places.left + n as f64 * (sizes.side + GAP);
                page.cell(x, y, &sizes, &mut captions, caption(r, c));
            }
        }
        page
    }

    /// The heads above the pictures of a page.
    fn head(&self, part: &TablePage, which: Option<&str>, places: &Places, top: f64) -> Drawing {
        let Sizes { side, small, .. } = self.heading.sizes();
        let mut drawing = self.heading.paper(places.width, top);
        let head = self.heading.head(places.width, which);
        let mut group = head.group;
        for (k, column) in self.columns[part.columns.clone()].iter().enumerate() {
            let x = places.left + k as f64 * (side + GAP);
            if let Some(name) = &column.name
                && font::width(name, small, Face::Semibold) <= side
            {
                let at = point(x, head.bottom + small);
                write(&mut group, at, small, name, Face::Semibold, Rgb::INK, side);
            }
            draw_bobbins(
                &mut group,
                &column.arrangement,
                x,
                head.bottom + places.name_line,
                side,
                places.bobbins,
            );
        }
        drawing.groups.push(group);
        drawing
    }

    /// The head to the left of a row.
    fn label(&self, row: &RowHead, room: f64) -> Drawing {
        let sizes = self.heading.sizes();
        let Sizes { large, small, .. } = sizes;
        let height = sizes.pitch() - GAP;
        let mut drawing = self.heading.paper(room, height);
        let mut group = Group::new("label");
        let mut base = 1.1 * large;
        for line in font::wrapped(&row.label, large, Face::Semibold, room) {
            write(&mut group, point(0.0, base), large, &line, Face::Semibold, Rgb::INK, room);
            base += 1.25 * large;
        }
        for line in row.notes.iter().flat_map(|note| font::wrapped(note, small, Face::Regular, room)) {
            // Only whole lines.
            if base + 0.3 * small > height {
                break;
            }
            write(&mut group, point(0.0, base), small, &line, Face::Regular, QUIET, room);
            base += 1.3 * small;
        }
        drawing.groups.push(group);
        drawing
    }
}
