//! The pages of a comparison, painted one at a time.

use picture::export::image::Image;
use picture::page::contact_sheet::{LineCell, Page, SectionPart, SectionedSheet, Table, TablePage};
use rayon::prelude::*;

use super::setting::Setting;
use super::{Comparison, Position, words};

/// The pages of a comparison.
pub struct Pages<'a> {
    comparison: &'a Comparison,
    most_px: u32,
    parts: Parts<'a>,
}

/// The contents of each page.
enum Parts<'a> {
    Table { table: Table<'a>, rows: &'a [usize], pages: Vec<TablePage> },
    Sections { sheet: SectionedSheet<'a>, pictures: &'a [Position], pages: Vec<Vec<SectionPart>> },
}

/// A page with its pictures.
#[derive(Clone, Debug)]
pub struct PaintedPage {
    /// The page.
    pub image: Image,
    /// The place of each picture on it.
    pub places: Vec<PicturePlace>,
}

/// The place of a picture on a page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PicturePlace {
    /// Its upper left corner, in pixels from that of the page.
    pub at: [u32; 2],
    /// What it shows.
    pub shows: Position,
}

impl<'a> Pages<'a> {
    pub(super) fn new(comparison: &'a Comparison, most_px: u32) -> Pages<'a> {
        let heading = &comparison.heading;
        let parts = match &comparison.setting {
            Setting::Table { rows, row_heads, columns } => {
                let table = Table { heading, columns: columns.clone(), rows: row_heads.clone() };
                Parts::Table { pages: table.pages(most_px), rows, table }
            }
            Setting::Sections(sections) => Parts::sections(heading, sections, most_px),
        };
        Pages { comparison, most_px, parts }
    }

    /// Number of pages, at least one.
    #[expect(clippy::len_without_is_empty, reason = "there is always one")]
    pub fn len(&self) -> usize {
        match &self.parts {
            Parts::Table { pages, .. } => pages.len(),
            Parts::Sections { pages, .. } => pages.len(),
        }
    }

    /// Pixels to the millimetre of lace.
    pub fn px_per_mm(&self) -> f64 {
        f64::from(self.comparison.px) / self.comparison.scale.window_mm()
    }

    /// Paints one page, counted from 0, on all processors.
    pub fn paint(&self, number: usize) -> PaintedPage {
        let comparison = self.comparison;
        let (mut page, shows) = self.blank(number);
        page.lines().into_par_iter().for_each(|line| {
            for LineCell { number, left } in line.cells {
                let Position { ground, arrangement } = shows[number];
                let thumbnail = &comparison.grounds[ground].thumbnail;
                let arrangement = &comparison.arrangements[arrangement];
                let pixels = &mut line.pixels[left..];
                thumbnail.paint_into(arrangement, &comparison.palette, pixels, line.stride);
            }
        });
        let boxes = page.boxes().iter().zip(shows);
        let places = boxes.map(|(at, shows)| PicturePlace { at: *at, shows }).collect();
        PaintedPage { image: page.into_image(), places }
    }

    /// A page with its heads and captions, and what its pictures show.
    fn blank(&self, number: usize) -> (Page, Vec<Position>) {
        let which = (self.len() > 1).then(|| format!("page {} of {}", number + 1, self.len()));
        let which = which.as_deref();
        let comparison = self.comparison;
        match &self.parts {
            Parts::Table { table, rows, pages } => {
                let part = &pages[number];
                let position = |row: usize, arrangement| Position { ground: rows[row], arrangement };
                let page = table
                    .page(part, which, |row, column| vec![comparison.cell(position(row, column)).captions()]);
                let all = part.rows.clone().flat_map(|row| part.columns.clone().map(move |c| (row, c)));
                (page, all.map(|(row, column)| position(row, column)).collect())
            }
            Parts::Sections { sheet, pictures, pages } => {
                let part = &pages[number];
                let page = sheet.page(self.most_px, part, which, |k| {
                    let at = pictures[k];
                    let chosen = &comparison.grounds[at.ground].chosen;
                    let arrangement = &comparison.arrangements[at.arrangement];
                    words::caption(chosen, arrangement, comparison.cell(at), comparison.likeness(at))
                });
                (page, part.iter().flat_map(|part| &pictures[part.cells.clone()]).copied().collect())
            }
        }
    }
}

impl<'a> Parts<'a> {
    fn sections(
        heading: &'a picture::page::contact_sheet::Heading,
        sections: &'a super::setting::Sections,
        most_px: u32,
    ) -> Parts<'a> {
        let sheet = SectionedSheet { heading, sections: sections.heads.clone() };
        Parts::Sections { pages: sheet.pages(most_px), pictures: &sections.pictures, sheet }
    }
}
