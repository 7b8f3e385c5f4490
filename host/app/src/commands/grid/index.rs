//! The list of all pictures with their places and facts (format
//! `pairwise-grid/1`).

use compare::comparison::{Comparison, PicturePlace};
use lace::colour_letter;
use picture::colour::vision::Vision;
use serde::Serialize;

use super::pages::{Page, Written};
use crate::failure::Failure;

#[derive(Serialize)]
struct Index<'a, C: Serialize> {
    format: &'static str,
    pages: &'a [Page],
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

/// The list as JSON. Some grounds and contributions were left out.
pub fn json(
    comparison: &Comparison,
    written: &Written,
    grounds_left_out: usize,
    contributions_left_out: usize,
) -> Result<Vec<u8>, Failure> {
    let colours = comparison.palette.colours().iter().enumerate().map(|(k, c)| Colour {
        letter: colour_letter(k as u8),
        name: c.name.clone(),
        painted: picture::colour::Rgb::from(c.rgb).to_string(),
    });
    let index = Index {
        format: "pairwise-grid/1",
        pages: &written.pages,
        colours: colours.collect(),
        seen_by: comparison.seen_by.map(Vision::words),
        window_mm: comparison.scale.window_mm(),
        left_out: LeftOut {
            grounds: grounds_left_out,
            contributions: contributions_left_out,
            orders_shown: comparison.shown.shown.len(),
            orders_at_least: comparison.shown.at_least,
            orders_at_most: comparison.shown.at_most,
            orders_left_out_at_least: comparison.shown.left_out(),
        },
        cells: Each(|| {
            written.places.iter().map(|(page, place)| entry(comparison, &written.pages[*page].file, place))
        }),
    };
    let mut bytes = serde_json::to_vec(&index)?;
    bytes.push(b'\n');
    Ok(bytes)
}

fn entry<'a>(comparison: &'a Comparison, page: &'a str, place: &PicturePlace) -> Entry<'a> {
    let chosen = &comparison.grounds[place.shows.ground].chosen;
    let arrangement = &comparison.arrangements[place.shows.arrangement];
    let cell = comparison.cell(place.shows);
    Entry {
        page,
        x: place.at[0],
        y: place.at[1],
        width: comparison.px,
        height: comparison.px,
        ground: &chosen.about().id,
        variety: &chosen.variety,
        title: chosen.title(),
        order: arrangement.to_string(),
        name: arrangement.name().map(|name| name.to_string()),
        pattern: cell.pattern,
        words: cell.words(),
        period_across_mm: rounded(cell.across_mm),
        period_down_mm: cell.down_mm.map(rounded),
        visible_shares: cell.visible_shares.iter().copied().map(rounded).collect(),
        open_share: rounded(cell.open()),
        thread_length_shares: cell.length_shares.iter().copied().map(rounded).collect(),
        crossings_of_two_colours_share: rounded(cell.mixing),
        crossings_mean_contrast: cell.contrast.map(rounded),
        alike: comparison.likeness(place.shows).map(rounded),
    }
}

/// To four decimals: more say nothing about lace.
fn rounded(value: f64) -> f64 {
    (value * 10_000.0).round() / 10_000.0
}
