//! The list of all pictures with their places and facts (format
//! `pairwise-grid/1`).

use lace::Arrangement;
use lace::colour_letter;
use serde::Serialize;

use super::cells::{Cell, Drawn};
use super::orders::Orders;
use super::pages::{Placed, Written};
use crate::colours::Palette;
use crate::failure::Failure;

#[derive(Serialize)]
struct Index<'a, C: Serialize> {
    format: &'static str,
    pages: &'a [Written],
    colours: Vec<Colour>,
    seen_by: Option<&'a str>,
    window_mm: f64,
    left_out: LeftOut,
    cells: C,
}

#[derive(Serialize)]
struct Colour {
    letter: char,
    name: String,
    painted: String,
}

#[derive(Serialize)]
struct LeftOut {
    /// Grounds that `--only` and `--except` left out.
    grounds: usize,
    /// Contributions that could not be used.
    contributions: usize,
    orders_shown: usize,
    orders_at_least: u128,
    orders_at_most: Option<u128>,
    orders_left_out_at_least: u128,
}

#[derive(Serialize)]
struct Entry<'a> {
    page: &'a str,
    x: u32,
    y: u32,
    width: u32,
    height: u32,
    ground: &'a str,
    variety: &'a str,
    title: &'a str,
    order: String,
    name: Option<String>,
    pattern: lace::Pattern,
    words: String,
    period_across_mm: f64,
    period_down_mm: Option<f64>,
    /// Of the picture, for each colour.
    visible_shares: Vec<f64>,
    open_share: f64,
    /// Of all thread, for each colour.
    thread_length_shares: Vec<f64>,
    /// Of all crossings of threads.
    crossings_of_two_colours_share: f64,
    /// Mean contrast ratio of the two colours there, 1 to 21.
    crossings_mean_contrast: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    alike: Option<f64>,
}

/// Entries made one after the other as they are written.
struct Each<F>(F);

impl<I: Iterator<Item: Serialize>, F: Fn() -> I> Serialize for Each<F> {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_seq((self.0)())
    }
}

/// What a list is made of.
pub struct Listed<'a> {
    /// The pages.
    pub pages: &'a [Written],
    /// Every picture's place.
    pub placed: &'a [Placed],
    /// The grounds.
    pub drawn: &'a [Drawn],
    /// The orders, those shown first.
    pub arrangements: &'a [Arrangement],
    /// How many orders there are.
    pub orders: &'a Orders,
    /// The colours as painted.
    pub palette: &'a Palette,
    /// Who sees them so.
    pub seen_by: Option<&'a str>,
    /// How much lace a picture shows, mm.
    pub window_mm: f64,
    /// Pixels of a picture.
    pub side: u32,
    /// Grounds that the user left out.
    pub grounds_left_out: usize,
    /// Contributions that failed.
    pub contributions_left_out: usize,
}

impl Listed<'_> {
    /// The list as JSON; `cell` gives what comes of a ground and an order.
    pub fn json<'c>(&self, cell: impl Fn([usize; 2]) -> &'c Cell) -> Result<Vec<u8>, Failure> {
        let entry = |placed: &Placed| {
            let [row, column] = placed.what;
            let (drawn, order, cell) = (&self.drawn[row], &self.arrangements[column], cell(placed.what));
            Entry {
                page: &self.pages[placed.page].file,
                x: placed.at[0],
                y: placed.at[1],
                width: self.side,
                height: self.side,
                ground: &drawn.chosen.about().id,
                variety: &drawn.chosen.variety,
                title: drawn.chosen.title(),
                order: order.to_string(),
                name: order.name().map(|name| name.to_string()),
                pattern: cell.pattern,
                words: cell.wordings().swap_remove(0),
                period_across_mm: rounded(cell.across_mm),
                period_down_mm: cell.down_mm.map(rounded),
                visible_shares: cell.seen.iter().copied().map(rounded).collect(),
                open_share: rounded(cell.open()),
                thread_length_shares: cell.length.iter().copied().map(rounded).collect(),
                crossings_of_two_colours_share: rounded(cell.mixing),
                crossings_mean_contrast: cell.contrast.map(rounded),
                alike: cell.alike.map(rounded),
            }
        };
        let colours = self.palette.colours().iter().enumerate().map(|(k, c)| Colour {
            letter: colour_letter(k as u8),
            name: c.name.clone(),
            painted: picture::colour::Rgb::from(c.rgb).to_string(),
        });
        let index = Index {
            format: "pairwise-grid/1",
            pages: self.pages,
            colours: colours.collect(),
            seen_by: self.seen_by,
            window_mm: self.window_mm,
            left_out: LeftOut {
                grounds: self.grounds_left_out,
                contributions: self.contributions_left_out,
                orders_shown: self.orders.shown.len(),
                orders_at_least: self.orders.at_least,
                orders_at_most: self.orders.at_most,
                orders_left_out_at_least: self.orders.left_out(),
            },
            cells: Each(|| self.placed.iter().map(&entry)),
        };
        let mut bytes = serde_json::to_vec(&index)?;
        bytes.push(b'\n');
        Ok(bytes)
    }
}

/// To four decimals: more say nothing about lace.
fn rounded(value: f64) -> f64 {
    (value * 10_000.0).round() / 10_000.0
}
