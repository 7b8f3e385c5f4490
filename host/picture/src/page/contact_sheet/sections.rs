//! Sheets of pictures in sections, each with a head.

use std::ops::Range;

use lace::point;

use super::lettering::{Captions, write};
use super::page::Page;
use super::{GAP, Heading, MARGIN, Sizes, Wordings, fitting};
use crate::colour::Rgb;
use crate::drawing::{Face, Group};

/// A section of a sheet.
#[derive(Clone, Debug)]
pub struct Section {
    /// Its head.
    pub title: String,
    /// The number of its pictures.
    pub cells: usize,
}

/// Pictures in sections.
#[derive(Clone, Debug)]
pub struct SectionedSheet<'a> {
    /// The head of every page.
    pub heading: &'a Heading,
    /// The sections, from the top.
    pub sections: Vec<Section>,
}

/// A section, or its part on one page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SectionPart {
    /// Number of the section.
    pub section: usize,
    /// Its pictures, numbered through all sections.
    pub cells: Range<usize>,
    /// Whether it began on an earlier page.
    pub continued: bool,
}

/// Width to height of a sheet of few pictures.
const WIDE: f64 = 1.6;

impl SectionedSheet<'_> {
    /// The number of pictures in a line.
    fn columns(&self, bound: u32) -> usize {
        let sizes = self.heading.sizes();
        let all: usize = self.sections.iter().map(|s| s.cells).sum();
        let longest = self.sections.iter().map(|s| s.cells).max().unwrap_or(1);
        let most = fitting(f64::from(bound) - 2.0 * MARGIN, sizes.side, GAP);
        let even = (all as f64 * WIDE * sizes.pitch() / (sizes.side + GAP)).sqrt().ceil() as usize;
        // Wide enough for the text of the head.
        even.clamp(4, 4.max(longest)).min(most)
    }

    fn width(&self, columns: usize) -> f64 {
        2.0 * MARGIN + columns as f64 * (self.heading.sizes().side + GAP) - GAP
    }

    fn section_head(&self) -> f64 {
        (2.0 * self.heading.sizes().large).ceil()
    }

    /// Splits the sheet into pages of at most `bound` pixels each way; a page holds
    /// at least one line of pictures with its heads, even if it is larger.
    pub fn pages(&self, bound: u32) -> Vec<Vec<SectionPart>> {
        let sizes = self.heading.sizes();
        let columns = self.columns(bound);
        let top = self.heading.head(self.width(columns), None).bottom;
        let bottom = f64::from(bound) - MARGIN + GAP;
        let mut pages: Vec<Vec<SectionPart>> = vec![Vec::new()];
        let mut y = top;
        let mut first = 0;
        for (section, held) in self.sections.iter().enumerate() {
            let end = first + held.cells;
            let mut from = first;
            while from < end {
                let to = (from + columns).min(end);
                let begun = pages.last().and_then(|p| p.last()).is_some_and(|part| part.section == section);
                let height = if begun { 0.0 } else { self.section_head() } + sizes.pitch();
                let empty = pages.last().is_none_or(Vec::is_empty);
                if y + height > bottom && !empty {
                    pages.push(Vec::new());
                    y = top;
                    continue;
                }
                y += height;
                if let Some(page) = pages.last_mut() {
                    match page.last_mut() {
                        Some(part) if part.section == section => part.cells.end = to,
                        _ => page.push(SectionPart { section, cells: from..to, continued: from > first }),
                    }
                }
                from = to;
            }
            first = end;
        }
        pages
    }

    /// A page with the heads of its sections. `which` is the page label; `caption`
    /// gives the caption of each picture, numbered through all sections.
    pub fn page(
        &self,
        bound: u32,
        parts: &[SectionPart],
        which: Option<&str>,
        caption: impl Fn(usize) -> Vec<Wordings>,
    ) -> Page {
        let sizes = self.heading.sizes();
        let Sizes { large, side, .. } = sizes;
        let columns = self.columns(bound);
        let width = self.width(columns);
        let head = self.heading.head(width, which);
        let top = head.bottom;
        let lines = |part: &SectionPart| part.cells.len().div_ceil(columns) as f64;
        let height = top + parts.iter().map(|p| self.section_head() + lines(p) * sizes.pitch()).sum::<f64>()
            - GAP
            + MARGIN;
        let mut page = Page::blank(width, height);
        let mut drawing = self.heading.paper(width, top);
        drawing.groups.push(head.group);
        page.lay(&drawing, 0.0, 0.0);
        let mut captions = Captions::new(sizes.caption, self.heading.side, sizes.caption_line());
        let mut y = top;
        for part in parts {
            let mut drawing = self.heading.paper(width, self.section_head());
            let mut group = Group::new("section");
            let title = &self.sections[part.section].title;
            let title = if part.continued { format!("{title}, continued") } else { title.clone() };
            let at = point(MARGIN, 1.4 * large);
            write(&mut group, at, 1.1 * large, &title, Face::Semibold, Rgb::INK, width - 2.0 * MARGIN);
            drawing.groups.push(group);
            page.lay(&drawing, 0.0, y);
            y += self.section_head();
            for (k, cell) in part.cells.clone().enumerate() {
                let x = MARGIN + (k % columns) as f64 * (side + GAP);
                let below = y + (k / columns) as f64 * sizes.pitch();
                page.cell(x, below, &sizes, &mut captions, caption(cell));
            }
            y += lines(part) * sizes.pitch();
        }
        page
    }
}
