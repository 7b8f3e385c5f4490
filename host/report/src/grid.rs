//! `pairwise-grid/1`: all pictures of a grid with their places and facts.

use compare::comparison::{Comparison, PicturePlace};
use lace::colour_letter;
use picture::colour::Rgb;
use schemars::JsonSchema;
use serde::{Serialize, Serializer};

use crate::pattern::Pattern;
use crate::rounded::rounded;

/// Name and number of the format.
pub const FORMAT: &str = "pairwise-grid/1";

/// The pictures of a grid, with their places and facts. Shares are from 0 to 1.
///
/// A grid can have many thousands of cells. They can be given as a list, or as
/// [`Each`], which makes them as they are written.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[schemars(title = FORMAT)]
pub struct Grid<C = Vec<Cell>> {
    /// Name and number of the format.
    #[schemars(extend("const" = FORMAT))]
    pub format: &'static str,
    /// The pictures that were written.
    pub pages: Vec<Page>,
    /// The colours of the letters A, B and so on.
    pub colours: Vec<Colour>,
    /// How the colours are seen, in words; null: they are painted as they are.
    pub seen_by: Option<String>,
    /// Width and height of the lace that a cell shows, mm, unless its repeat needs more.
    pub window_mm: f64,
    /// What is not shown.
    pub left_out: LeftOut,
    /// Every picture of a ground in an arrangement of colours.
    pub cells: C,
}

/// A page that has been written.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Page {
    /// Name of the file, in the folder of the picture asked for.
    pub file: String,
    /// Pixels across.
    pub width: u32,
    /// Pixels down.
    pub height: u32,
}

/// A colour of the grid.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Colour {
    /// Its letter.
    pub letter: char,
    /// Its name as it was given.
    pub name: String,
    /// How it is painted, `#rrggbb`.
    pub painted: String,
}

/// What a grid does not show.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct LeftOut {
    /// Grounds that `--only`, `--except`, `--moves` and `--pins` left out.
    pub grounds: usize,
    /// Pictures that `--pattern` and `--clear` left out.
    pub pictures: usize,
    /// Contributions that could not be used.
    pub contributions: usize,
    /// Arrangements of colours that are shown.
    pub orders_shown: usize,
    /// There are at least this many.
    pub orders_at_least: u128,
    /// And at most this many; null: they were not all counted.
    pub orders_at_most: Option<u128>,
    /// At least this many are not shown.
    pub orders_left_out_at_least: u128,
}

/// The picture of a ground in an arrangement of colours.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Cell {
    /// File of its page.
    pub page: String,
    /// Its left edge on the page, pixels.
    pub x: u32,
    /// Its upper edge on the page, pixels.
    pub y: u32,
    /// Pixels across.
    pub width: u32,
    /// Pixels down.
    pub height: u32,
    /// Id of the ground.
    pub ground: String,
    /// Id of the variety.
    pub variety: String,
    /// What the lacemaker reads.
    pub title: String,
    /// Width and height of the lace shown, mm. The wider it is, the smaller its scale.
    pub window_mm: f64,
    /// Whether that is a whole repeat of the stitches.
    pub shows_whole_repeat: bool,
    /// Whether that is a whole repeat of the colours, across and straight down.
    pub shows_whole_colours: bool,
    /// Distance of two footside pins at which it is drawn, mm.
    pub pin_spacing_mm: f64,
    /// How the colours hang, a letter for every pair, such as `A A B B`.
    pub order: String,
    /// The name of that arrangement, such as `2-and-2`, if it has one.
    pub name: Option<String>,
    /// What pattern the colours make.
    pub pattern: Pattern,
    /// How clear it is, from 0 to 1.
    pub clearness: f64,
    /// The pattern, how clear it is and its size in words.
    pub words: String,
    /// After how much lace the colours come again to the right, mm.
    pub period_across_mm: f64,
    /// And straight down, mm. Null: not within as many rows of repeats as are looked at.
    pub period_down_mm: Option<f64>,
    /// The share of the picture that each colour takes.
    pub visible_shares: Vec<f64>,
    /// The share of the picture in which no thread lies.
    pub open_share: f64,
    /// The share of all thread, by length, of each colour.
    pub thread_length_shares: Vec<f64>,
    /// The share of all crossings of threads at which two colours meet.
    pub crossings_of_two_colours_share: f64,
    /// The mean contrast ratio of the two colours there, 1 to 21; null: none meet.
    pub crossings_mean_contrast: Option<f64>,
    /// How alike it is to the one named with `--like`, 0 to 1.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub alike: Option<f64>,
}

/// Cells made one after the other as they are written.
#[derive(Clone, Copy, Debug)]
pub struct Each<F>(pub F);

impl<I: Iterator<Item = Cell>, F: Fn() -> I> Serialize for Each<F> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_seq((self.0)())
    }
}

impl<C> Grid<C> {
    /// What is written of a comparison that was painted on pages, with the number
    /// of grounds left out on purpose and that of contributions that cannot be
    /// used.
    pub fn new(
        comparison: &Comparison,
        pages: Vec<Page>,
        grounds_left_out: usize,
        contributions_left_out: usize,
        cells: C,
    ) -> Grid<C> {
        let colours = comparison.palette.colours().iter().enumerate().map(|(k, colour)| Colour {
            letter: colour_letter(k as u8),
            name: colour.name.clone(),
            painted: Rgb::from(colour.rgb).to_string(),
        });
        Grid {
            format: FORMAT,
            pages,
            colours: colours.collect(),
            seen_by: comparison.seen_by.map(|who| who.words().to_owned()),
            window_mm: comparison.scale.window_mm(),
            left_out: LeftOut {
                grounds: grounds_left_out,
                pictures: comparison.pictures_left_out(),
                contributions: contributions_left_out,
                orders_shown: comparison.shown.shown.len(),
                orders_at_least: comparison.shown.at_least,
                orders_at_most: comparison.shown.at_most,
                orders_left_out_at_least: comparison.shown.left_out(),
            },
            cells,
        }
    }
}

impl Cell {
    /// What is written of a picture that stands at a place on a page.
    pub fn new(comparison: &Comparison, page: &str, place: &PicturePlace) -> Cell {
        let chosen = &comparison.grounds[place.shows.ground].chosen;
        let arrangement = &comparison.arrangements[place.shows.arrangement];
        let cell = comparison.cell(place.shows);
        let whole = cell.shown.whole();
        let rounded_all = |values: &[f64]| values.iter().copied().map(rounded).collect();
        Cell {
            page: page.to_owned(),
            x: place.at[0],
            y: place.at[1],
            width: comparison.px,
            height: comparison.px,
            ground: chosen.about().id.clone(),
            variety: chosen.variety.clone(),
            title: chosen.title().to_owned(),
            window_mm: rounded(cell.shown.window_mm),
            shows_whole_repeat: whole.stitches,
            shows_whole_colours: whole.colours,
            pin_spacing_mm: comparison.scale.pin_spacing_mm(chosen.about()),
            order: arrangement.to_string(),
            name: arrangement.name().map(|name| name.to_string()),
            pattern: cell.pattern.into(),
            clearness: rounded(cell.clearness),
            words: cell.words(),
            period_across_mm: rounded(cell.across_mm),
            period_down_mm: cell.down_mm.map(rounded),
            visible_shares: rounded_all(&cell.visible_shares),
            open_share: rounded(cell.open()),
            thread_length_shares: rounded_all(&cell.length_shares),
            crossings_of_two_colours_share: rounded(cell.mixing),
            crossings_mean_contrast: cell.contrast.map(rounded),
            alike: comparison.likeness(place.shows).map(rounded),
        }
    }
}
