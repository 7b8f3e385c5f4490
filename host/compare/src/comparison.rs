//! Comparisons: grounds in arrangements, in a table or kept and sorted by the result.
//!
//! A [`ComparisonRequest`] becomes a [`Comparison`], which has a drawing of every
//! ground and its result in every arrangement. Its [`Pages`] are painted one at a
//! time, so that memory holds only one of them.

mod kept;
mod pages;
mod row_head;
mod setting;
mod sort;
mod words;

use catalogue::Chosen;
use lace::Arrangement;
use picture::colour::vision::{Vision, contrast};
use picture::layout::Layout;
use rayon::prelude::*;

pub(crate) use kept::percent;
pub use kept::{Kept, KeptBy};
pub use pages::{Pages, PaintedPage, PicturePlace};
pub use sort::Sort;

use crate::arrangements::{ArrangementsWanted, ShownArrangements};
use crate::cell::{Cell, DrawnGround};
use crate::error::Error;
use crate::likeness::likeness;
use crate::note::Note;
use crate::palette::Palette;
use crate::scale::Scale;
use picture::page::contact_sheet::Heading;
use setting::{InSections, Model, Setting};

/// What to compare.
#[derive(Clone, Debug)]
pub struct ComparisonRequest {
    /// The grounds, at least one.
    pub grounds: Vec<Chosen>,
    /// The arrangements.
    pub arrangements: ArrangementsWanted,
    /// The colours themselves.
    pub palette: Palette,
    /// Colour vision to paint them for; `None` for normal vision.
    pub seen_by: Option<Vision>,
    /// Pin spacing and thread.
    pub scale: Scale,
    /// Width and height of each picture, pixels.
    pub px: u32,
    /// Which grounds and pictures to keep.
    pub kept: Kept,
    /// How to group the pictures.
    pub grouping: Grouping,
    /// Compare every picture with this ground in this arrangement, which is added
    /// if it is not among the others: most alike first, unless they are sorted
    /// otherwise.
    pub like: Option<(Chosen, Arrangement)>,
    /// How to sort the grounds, or pictures that stand one after the other; `None`
    /// keeps the grounds in the order given.
    pub sort: Option<Sort>,
}

/// How pictures are grouped.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Grouping {
    /// Grounds in rows, arrangements in columns; one after the other, if pictures
    /// are left out or compared with one.
    Table,
    /// In sections by the kind of pattern.
    Pattern,
}

/// One picture of a comparison: the position of its ground in
/// [`Comparison::grounds`] and of its arrangement in
/// [`Comparison::arrangements`].
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Position {
    /// Of the ground.
    pub ground: usize,
    /// Of the arrangement.
    pub arrangement: usize,
}

/// Grounds in arrangements, drawn and measured.
#[derive(Clone, Debug)]
pub struct Comparison {
    /// The grounds in the order given; then one that is there only for others to
    /// be compared with, if any.
    pub grounds: Vec<DrawnGround>,
    /// The arrangements shown; then one that is there only for others to be
    /// compared with, if any.
    pub arrangements: Vec<Arrangement>,
    /// Number of arrangements.
    pub shown: ShownArrangements,
    /// The colours as they are painted.
    pub palette: Palette,
    /// Colour vision they are painted for.
    pub seen_by: Option<Vision>,
    /// Pin spacing and thread.
    pub scale: Scale,
    /// Width and height of each picture, pixels.
    pub px: u32,
    /// The result of each ground in each arrangement shown.
    cells: Vec<Vec<Cell>>,
    /// Number of grounds left out because of their measures.
    pub grounds_left_out: usize,
    kept: Kept,
    model: Option<Model>,
    setting: Setting,
    heading: Heading,
}

impl Comparison {
    /// Lays out, draws and measures all grounds, on all processors. `step` is
    /// called when a ground is drawn.
    ///
    /// # Errors
    /// If no arrangement has a name asked for, a ground cannot be pricked, or nothing
    /// is kept.
    pub fn new(request: ComparisonRequest, step: &(dyn Fn() + Sync)) -> Result<Comparison, Error> {
        let ComparisonRequest { grounds, palette, seen_by, scale, px, kept, .. } = request;
        let asked = grounds.len();
        let mut grounds = kept.grounds(grounds, &scale)?;
        let grounds_left_out = asked - grounds.len();
        let shown = ShownArrangements::new(
            &request.arrangements,
            palette.colours().len(),
            &grounds.iter().collect::<Vec<_>>(),
        )?;
        let rows = grounds.len();
        let mut arrangements = shown.shown.clone();
        let model = request.like.map(|(chosen, hung)| joined(chosen, hung, &mut grounds, &mut arrangements));
        let scale = scale.showing(grounds.iter().map(Chosen::about));
        let grounds = drawn(grounds, &arrangements, &scale, px, step)?;
        let palette = palette.seen_by(seen_by).behind(&arrangements);
        let cells = cells(&grounds[..rows], &shown.shown, &palette);
        kept.check(&cells)?;
        let sorted = match request.sort {
            Some(sort) => sort::sorted(sort, &grounds[..rows], &cells),
            None => (0..rows).collect(),
        };
        let model = model.map(|at| Model { at, cell: cell(&grounds, &arrangements, at, &palette) });
        let by_pattern = request.grouping == Grouping::Pattern;
        let setting = if by_pattern || model.is_some() || kept.is_of_pictures() {
            let (model, sort) = (model.as_ref(), request.sort);
            let pictures =
                InSections { cells: &cells, sorted: &sorted, kept: &kept, sort, model, by_pattern };
            Setting::Sections(pictures.set())
        } else {
            setting::table(sorted, &grounds, &shown.shown, &scale)
        };
        let like = model.as_ref().map(|m| (&grounds[m.at.ground].chosen, &arrangements[m.at.arrangement]));
        let title = words::title(by_pattern, like);
        let heading = words::heading(title, &setting, &scale, &palette, px, seen_by);
        Ok(Comparison {
            grounds,
            arrangements,
            shown,
            palette,
            seen_by,
            scale,
            px,
            cells,
            grounds_left_out,
            kept,
            model,
            setting,
            heading,
        })
    }

    /// Number of grounds shown: all except one that is there only for comparison.
    pub fn rows(&self) -> usize {
        self.cells.len()
    }

    /// Notes for the user before the pictures are painted.
    pub fn notes(&self) -> Vec<Note> {
        let unsettled =
            self.grounds.iter().filter_map(|drawn| unsettled(&drawn.thumbnail.layout, &drawn.chosen));
        let crowded = self.scale.note(self.grounds.iter().map(|drawn| drawn.chosen.about()));
        crowded.into_iter().chain(self.shown.fit.iter().cloned()).chain(unsettled).collect()
    }

    /// Number of pictures left out because of their pattern.
    pub fn pictures_left_out(&self) -> usize {
        self.cells.iter().flatten().filter(|cell| !self.kept.keeps(cell)).count()
    }

    /// The result of a ground in an arrangement.
    pub fn cell(&self, at: Position) -> &Cell {
        match &self.model {
            Some(model) if model.at == at => &model.cell,
            _ => &self.cells[at.ground][at.arrangement],
        }
    }

    /// Likeness of a picture to the one that all are compared with, 0 to 1.
    pub fn likeness(&self, at: Position) -> Option<f64> {
        self.model.as_ref().map(|model| likeness(&model.cell, self.cell(at)))
    }

    /// The pages, at most `most_px` pixels wide and high.
    pub fn pages(&self, most_px: u32) -> Pages<'_> {
        Pages::new(self, most_px)
    }
}

/// A note if threads did not come to rest, or were given up.
pub fn unsettled(layout: &Layout, chosen: &Chosen) -> Option<Note> {
    let name = || chosen.name();
    match layout.report {
        report if report.gave_up => Some(Note::TooMuchToSettle { name: name() }),
        report => (!report.converged).then(|| Note::Unsettled { name: name() }),
    }
}

/// Position of the ground and arrangement that all are compared with: among those
/// shown, or after them.
fn joined(
    chosen: Chosen,
    arrangement: Arrangement,
    grounds: &mut Vec<Chosen>,
    arrangements: &mut Vec<Arrangement>,
) -> Position {
    let ground = grounds.iter().position(|other| other.name() == chosen.name()).unwrap_or_else(|| {
        grounds.push(chosen);
        grounds.len() - 1
    });
    let arrangement = arrangements.iter().position(|other| *other == arrangement).unwrap_or_else(|| {
        arrangements.push(arrangement);
        arrangements.len() - 1
    });
    Position { ground, arrangement }
}

/// All grounds laid out and drawn, on all processors.
fn drawn(
    grounds: Vec<Chosen>,
    arrangements: &[Arrangement],
    scale: &Scale,
    px: u32,
    step: &(dyn Fn() + Sync),
) -> Result<Vec<DrawnGround>, Error> {
    let draw = |chosen: Chosen| {
        let layout = scale.lay_out(&chosen)?;
        let drawn = DrawnGround::new(chosen, layout, arrangements, scale, px);
        step();
        Ok(drawn)
    };
    grounds.into_par_iter().map(draw).collect()
}

/// The result of every ground in every arrangement, on all processors.
fn cells(grounds: &[DrawnGround], arrangements: &[Arrangement], palette: &Palette) -> Vec<Vec<Cell>> {
    let row = |ground| -> Vec<Cell> {
        let columns = (0..arrangements.len()).into_par_iter();
        columns.map(|k| cell(grounds, arrangements, Position { ground, arrangement: k }, palette)).collect()
    };
    (0..grounds.len()).into_par_iter().map(row).collect()
}

/// The result of one ground in one arrangement.
fn cell(grounds: &[DrawnGround], arrangements: &[Arrangement], at: Position, palette: &Palette) -> Cell {
    let contrast = |a: u8, b: u8| contrast(palette.rgb(a).into(), palette.rgb(b).into());
    Cell::new(&grounds[at.ground], &arrangements[at.arrangement], palette.colours().len(), contrast)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::samples::chosen;
    use crate::scale::Pricking;
    use lace::samples::{rose, torchon};

    fn request(grouping: Grouping) -> ComparisonRequest {
        let palette = Palette::default();
        ComparisonRequest {
            grounds: vec![
                chosen("Single", torchon("CT pin CT", 0)),
                chosen("Double", torchon("CTCT pin CTCT", 0)),
            ],
            arrangements: ArrangementsWanted::Given(
                ["A", "A A B B"].map(|text| palette.arrangement(text).unwrap()).to_vec(),
            ),
            palette,
            seen_by: None,
            scale: Scale::new(Pricking::default(), None).unwrap(),
            px: 48,
            kept: Kept::default(),
            grouping,
            like: None,
            sort: None,
        }
    }

    fn compared(request: ComparisonRequest) -> Comparison {
        Comparison::new(request, &|| ()).unwrap()
    }

    fn order(comparison: &Comparison) -> Vec<[usize; 2]> {
        let pages = comparison.pages(2000);
        assert_eq!(pages.len(), 1);
        pages.paint(0).places.iter().map(|p| [p.shows.ground, p.shows.arrangement]).collect()
    }

    #[test]
    fn pictures_are_placed_by_their_grouping() {
        assert_eq!(order(&compared(request(Grouping::Table))), [[0, 0], [0, 1], [1, 0], [1, 1]]);
        let by_name = ComparisonRequest { sort: Some(Sort::Name), ..request(Grouping::Table) };
        assert_eq!(order(&compared(by_name)), [[1, 0], [1, 1], [0, 0], [0, 1]]);
        // Plain ones, columns, diagonals.
        assert_eq!(order(&compared(request(Grouping::Pattern))), [[0, 0], [1, 0], [1, 1], [0, 1]]);
    }

    #[test]
    fn the_picture_others_are_compared_with_comes_first() {
        let arrangement = Palette::default().arrangement("A B").unwrap();
        let rose = chosen("Rose", rose("CTCT", "CT pin CT"));
        let like =
            |chosen, hung| ComparisonRequest { like: Some((chosen, hung)), ..request(Grouping::Table) };
        let comparison = compared(like(rose, arrangement));
        assert_eq!((comparison.rows(), comparison.grounds.len(), comparison.arrangements.len()), (2, 3, 3));
        let order = order(&comparison);
        assert_eq!((order[0], order.len()), ([2, 2], 5));
        let likeness: Vec<f64> = order
            .iter()
            .map(|&[ground, arrangement]| comparison.likeness(Position { ground, arrangement }).unwrap())
            .collect();
        assert!(
            (likeness[0] - 1.0).abs() < 1e-12 && likeness.windows(2).all(|w| w[0] >= w[1]),
            "{likeness:?}"
        );
        // A picture that is already among the others is not shown twice.
        let arrangement = Palette::default().arrangement("A A B B").unwrap();
        let double = chosen("Double", torchon("CTCT pin CTCT", 0));
        let comparison = compared(like(double, arrangement));
        assert_eq!((comparison.grounds.len(), comparison.arrangements.len()), (2, 2));
    }

    #[test]
    fn pages_go_on_and_hold_what_a_picture_alone_shows() {
        let comparison = compared(request(Grouping::Table));
        let pages = comparison.pages(300);
        assert!(pages.len() > 1);
        for page in (0..pages.len()).map(|number| pages.paint(number)) {
            for place in page.places {
                let Position { ground, arrangement } = place.shows;
                let alone = comparison.grounds[ground]
                    .thumbnail
                    .paint(&comparison.arrangements[arrangement], &comparison.palette);
                let mut part = picture::export::image::Image::new(48, 48, None);
                let wide = page.image.width() as usize;
                for y in 0..48 {
                    let from = (place.at[1] as usize + y) * wide + place.at[0] as usize;
                    part.pixels_mut()[48 * y..][..48].copy_from_slice(&page.image.pixels()[from..from + 48]);
                }
                assert_eq!(part, alone);
            }
        }
    }
}
