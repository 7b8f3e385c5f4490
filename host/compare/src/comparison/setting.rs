//! The layout of a comparison's pictures: in a table, or one after the other in
//! sections.

use lace::{Arrangement, Pattern};
use picture::page::contact_sheet::{Column, RowHead, Section};

use super::kept::Kept;
use super::row_head::row_head;
use super::{Position, Sort};
use crate::cell::{Cell, DrawnGround};
use crate::likeness::likeness;
use crate::number::with_commas;
use crate::scale::Scale;

/// The layout of the pictures.
#[derive(Clone, Debug)]
pub(super) enum Setting {
    /// Rows, sorted, and columns with their heads.
    Table { rows: Vec<usize>, row_heads: Vec<RowHead>, columns: Vec<Column> },
    /// One after the other.
    Sections(Sections),
}

/// Pictures in sections.
#[derive(Clone, Debug, Default)]
pub(super) struct Sections {
    pub heads: Vec<Section>,
    /// All pictures, section by section.
    pub pictures: Vec<Position>,
}

/// The picture that all others are compared with.
#[derive(Clone, Debug)]
pub(super) struct Model {
    pub at: Position,
    /// Its result.
    pub cell: Cell,
}

/// The table of grounds in arrangements.
pub(super) fn table(
    rows: Vec<usize>,
    grounds: &[DrawnGround],
    arrangements: &[Arrangement],
    scale: &Scale,
) -> Setting {
    let column =
        |a: &Arrangement| Column { arrangement: a.clone(), name: a.name().map(|name| name.to_string()) };
    Setting::Table {
        row_heads: rows.iter().map(|&k| row_head(&grounds[k], scale)).collect(),
        columns: arrangements.iter().map(column).collect(),
        rows,
    }
}

/// How pictures that stand one after the other are chosen and put in order.
pub(super) struct InSections<'a> {
    pub cells: &'a [Vec<Cell>],
    /// The grounds, sorted.
    pub sorted: &'a [usize],
    pub kept: &'a Kept,
    pub sort: Option<Sort>,
    /// Comes first, in a section of its own.
    pub model: Option<&'a Model>,
    /// Whether each kind of pattern has a section.
    pub by_pattern: bool,
}

impl InSections<'_> {
    /// The pictures in their sections.
    pub fn set(self) -> Sections {
        let pictures = self.pictures();
        let mut sections = Sections::default();
        if let Some(model) = self.model {
            sections.add("The one named".to_owned(), [model.at]);
        }
        let counted = |what: &str, count: usize| format!("{what}: {}", with_commas(count as u128));
        if self.by_pattern {
            for pattern in Pattern::ALL {
                let of = |at: &&Position| self.cell(**at).pattern == *pattern;
                let own: Vec<Position> = pictures.iter().filter(of).copied().collect();
                sections.add(counted(&capital(pattern.words()), own.len()), own);
            }
        } else {
            sections.add(counted(&self.title(), pictures.len()), pictures);
        }
        sections
    }

    /// The head of the only section.
    fn title(&self) -> String {
        let kinds: Vec<&str> = self.kept.patterns.iter().map(|pattern| pattern.words()).collect();
        let what =
            if kinds.is_empty() { "All kinds of pattern".to_owned() } else { capital(&kinds.join(", ")) };
        match (self.sort, self.model) {
            (Some(Sort::Clearest), _) => format!("{what}, clearest first"),
            (None, Some(_)) => format!("{what}, most alike first"),
            _ => what,
        }
    }

    fn cell(&self, at: Position) -> &Cell {
        &self.cells[at.ground][at.arrangement]
    }

    /// The pictures that are kept, in order: as sorted, then most alike first, then
    /// as in the table.
    fn pictures(&self) -> Vec<Position> {
        let mut pictures: Vec<Position> = positions(self.cells, self.sorted)
            .filter(|at| self.model.is_none_or(|model| model.at != *at) && self.kept.keeps(self.cell(*at)))
            .collect();
        if let Some(model) = self.model {
            let alike = |at: &Position| likeness(&model.cell, self.cell(*at));
            pictures.sort_by(|a, b| alike(b).total_cmp(&alike(a)));
        }
        match self.sort {
            None => {}
            Some(Sort::Clearest) => {
                pictures.sort_by(|a, b| self.cell(*b).clearness.total_cmp(&self.cell(*a).clearness));
            }
            Some(_) => pictures.sort_by_key(|at| self.sorted.iter().position(|ground| *ground == at.ground)),
        }
        pictures
    }
}

impl Sections {
    /// Adds a section, unless it is empty.
    fn add(&mut self, title: String, pictures: impl IntoIterator<Item = Position>) {
        let begun = self.pictures.len();
        self.pictures.extend(pictures);
        let cells = self.pictures.len() - begun;
        if cells > 0 {
            self.heads.push(Section { title, cells });
        }
    }
}

fn capital(words: &str) -> String {
    format!("{}{}", words[..1].to_uppercase(), &words[1..])
}

/// All pictures in the order of the table.
fn positions<'a>(cells: &'a [Vec<Cell>], sorted: &'a [usize]) -> impl Iterator<Item = Position> + 'a {
    sorted
        .iter()
        .flat_map(|&ground| (0..cells[ground].len()).map(move |arrangement| Position { ground, arrangement }))
}
