//! The layout of a comparison's pictures: in a table, or one after the other in
//! sections.

use lace::{Arrangement, Pattern};
use picture::page::contact_sheet::{Column, RowHead, Section};

use super::Position;
use super::row_head::row_head;
use crate::cell::{Cell, DrawnGround};
use crate::likeness::likeness;
use crate::number::with_commas;
use crate::scale::Scale;

/// The layout of the pictures.
#[derive(Clone, Debug)]
pub(super) enum Setting {
    /// Rows, sorted, and columns with their heads.
    Table { rows: Vec<usize>, row_heads: Vec<RowHead>, columns: Vec<Column> },
    /// Sections by the kind of pattern.
    Pattern(Sections),
    /// The picture that all are compared with, then the others.
    Likeness(Likeness),
}

/// Pictures in sections.
#[derive(Clone, Debug)]
pub(super) struct Sections {
    pub heads: Vec<Section>,
    /// All pictures, section by section.
    pub pictures: Vec<Position>,
}

/// Pictures sorted by likeness to one of them.
#[derive(Clone, Debug)]
pub(super) struct Likeness {
    /// The picture that all are compared with.
    pub at: Position,
    /// Its result.
    pub model: Cell,
    pub sections: Sections,
}

impl Likeness {
    /// Likeness of a picture to the one that all are compared with.
    pub fn of(&self, cell: &Cell) -> f64 {
        likeness(&self.model, cell)
    }
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
        row_heads: rows.iter().map(|&k| row_head(&grounds[k].chosen, scale)).collect(),
        columns: arrangements.iter().map(column).collect(),
        rows,
    }
}

/// Sections by the kind of pattern, each in the order of the table.
pub(super) fn by_pattern(cells: &[Vec<Cell>], sorted: &[usize]) -> Setting {
    let mut sections = Sections { heads: Vec::new(), pictures: Vec::new() };
    for pattern in Pattern::ALL {
        let begun = sections.pictures.len();
        sections.pictures.extend(positions(cells, sorted).filter(|at| of(cells, *at).pattern == pattern));
        let count = sections.pictures.len() - begun;
        if count > 0 {
            let words = pattern.words();
            let title =
                format!("{}{}: {}", words[..1].to_uppercase(), &words[1..], with_commas(count as u128));
            sections.heads.push(Section { title, cells: count });
        }
    }
    Setting::Pattern(sections)
}

/// The picture named, then all others, most alike first; ties in the order of the
/// table.
pub(super) fn by_likeness(at: Position, model: Cell, cells: &[Vec<Cell>], sorted: &[usize]) -> Setting {
    let mut others: Vec<(f64, Position)> = positions(cells, sorted)
        .filter(|other| *other != at)
        .map(|other| (likeness(&model, of(cells, other)), other))
        .collect();
    others.sort_by(|a, b| b.0.total_cmp(&a.0));
    let mut heads = vec![Section { title: "The one named".to_owned(), cells: 1 }];
    if !others.is_empty() {
        heads.push(Section { title: "Most alike first".to_owned(), cells: others.len() });
    }
    let pictures = std::iter::once(at).chain(others.into_iter().map(|(_, other)| other)).collect();
    Setting::Likeness(Likeness { at, model, sections: Sections { heads, pictures } })
}

/// All pictures in the order of the table.
fn positions<'a>(cells: &'a [Vec<Cell>], sorted: &'a [usize]) -> impl Iterator<Item = Position> + 'a {
    sorted
        .iter()
        .flat_map(|&ground| (0..cells[ground].len()).map(move |arrangement| Position { ground, arrangement }))
}

fn of(cells: &[Vec<Cell>], at: Position) -> &Cell {
    &cells[at.ground][at.arrangement]
}
