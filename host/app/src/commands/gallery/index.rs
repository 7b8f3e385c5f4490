//! The index: every family with its grounds and fillings, a small picture of
//! every variety.

use catalogue::LeftOut;
use indexmap::IndexMap;
use lace::{Course, Grid, Ground, Travel};
use minijinja::value::Serde;
use minijinja::{Value, context};
use serde::Serialize;

use super::Gallery;
use crate::failure::Failure;

/// A ground or filling as the index shows it.
#[derive(Serialize)]
pub struct Card {
    pub id: String,
    pub title: String,
    pub kind: &'static str,
    pub family: String,
    pub laces: Vec<String>,
    pub sits_in: Option<Neighbour>,
    pub notes: String,
    pub small: Vec<Small>,
}

/// Another ground, which may have a page.
#[derive(Clone, Serialize)]
pub struct Neighbour {
    pub id: String,
    pub title: Option<String>,
}

/// A variety with its small picture.
#[derive(Serialize)]
pub struct Small {
    pub id: String,
    pub title: String,
    pub alt: String,
    /// Kind, pairs, pins, where colours go; what is wrong with it instead.
    pub line: String,
    /// Whether there is a picture.
    pub drawn: bool,
}

#[derive(Serialize)]
struct Family {
    id: String,
    title: String,
    cards: Vec<Card>,
}

/// Writes the index.
pub fn page(gallery: &Gallery<'_>, cards: Vec<Card>, left_out: &[LeftOut]) -> Result<(), Failure> {
    let grounds = cards.len();
    let varieties: usize = cards.iter().map(|card| card.small.len()).sum();
    let mut families: IndexMap<String, Vec<Card>> = IndexMap::new();
    for card in cards {
        families.entry(card.family.clone()).or_default().push(card);
    }
    let families: Vec<Family> =
        families.into_iter().map(|(id, cards)| Family { title: family_in_words(&id), id, cards }).collect();
    gallery.page(
        "index.html",
        "",
        "index.html",
        context! {
            grounds,
            varieties,
            families => Value::from(Serde(families)),
            failures => left_out.iter().map(|out| context! { source => out.file.clone(), sentence => out.why.clone() }).collect::<Vec<_>>(),
        },
    )
}

/// A family's id in words: `Point ground` for `point-ground`.
pub fn family_in_words(id: &str) -> String {
    let words = id.replace('-', " ");
    let words = words.trim();
    let mut rest = words.chars();
    rest.next().map_or_else(String::new, |first| first.to_uppercase().chain(rest).collect())
}

/// Pairs, pins and where colours go, in a line.
pub fn in_a_line(ground: &Ground, grid: &Grid) -> String {
    let measures = ground.measures(grid);
    format!(
        "{}, {}; {}",
        count(measures.pairs_per_repeat, "pair"),
        count(measures.pins_per_repeat, "pin"),
        travel_in_short(&ground.courses())
    )
}

/// Where colours go, in a few words.
fn travel_in_short(courses: &[Course]) -> &'static str {
    let goes = |way: Travel| courses.iter().any(|c| c.travel == way);
    match (goes(Travel::Left), goes(Travel::Right), goes(Travel::Stays)) {
        (false, false, _) => "colours stay",
        (true, true, false) => "colours travel both ways",
        (true, false, false) => "colours travel left",
        (false, true, false) => "colours travel right",
        (_, _, true) => "some colours stay, some travel",
    }
}

/// `1 pin`, `4 pins`.
fn count(n: usize, what: &str) -> String {
    format!("{n} {what}{}", if n == 1 { "" } else { "s" })
}

#[cfg(test)]
mod tests {
    use lace::Direction;

    use super::*;

    #[test]
    fn families_are_shown_as_words() {
        assert_eq!(family_in_words("torchon"), "Torchon");
        assert_eq!(family_in_words("half-stitch-grounds"), "Half stitch grounds");
        assert_eq!(family_in_words("3-pairs-"), "3 pairs");
    }

    #[test]
    fn a_few_words_say_where_colours_go() {
        let course = |travel, columns| Course {
            travel,
            direction: Direction { columns, rows: 1 },
            slope: columns as f64,
            threads: 4,
        };
        let (left, right) = (course(Travel::Left, -1), course(Travel::Right, 1));
        let stays = course(Travel::Stays, 0);
        for (courses, words) in [
            (&[stays][..], "colours stay"),
            (&[left, right], "colours travel both ways"),
            (&[left], "colours travel left"),
            (&[right], "colours travel right"),
            (&[left, stays, right], "some colours stay, some travel"),
        ] {
            assert_eq!(travel_in_short(courses), words);
        }
        assert_eq!((count(1, "pin"), count(0, "pin")), ("1 pin".to_owned(), "0 pins".to_owned()));
    }
}
