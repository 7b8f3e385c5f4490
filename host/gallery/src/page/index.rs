//! The index: every family with its grounds and fillings, a small picture of
//! every variety.

use catalogue::{About, LeftOut};
use indexmap::IndexMap;
use minijinja::value::Serde;
use minijinja::{Value, context};
use serde::Serialize;

use super::words::{family_in_words, kind};
use crate::GalleryError;
use crate::shared::Gallery;

/// A ground or filling as the index shows it.
#[derive(Serialize)]
pub struct Card {
    id: String,
    title: String,
    kind: &'static str,
    family: String,
    laces: Vec<String>,
    sits_in: Option<Neighbour>,
    notes: String,
    varieties: Vec<CardVariety>,
}

/// Another ground, which may have a page.
#[derive(Clone, Serialize)]
pub struct Neighbour {
    pub id: String,
    /// Its title, if it has a page.
    pub title: Option<String>,
}

/// A variety with its small picture.
#[derive(Serialize)]
pub struct CardVariety {
    pub id: String,
    pub title: String,
    pub alt: String,
    /// Kind, pairs, pins and where colours go; or why it cannot be worked.
    pub line: String,
    /// What there is to say about the lace in its picture.
    pub shows: String,
    /// Whether there is a picture.
    pub drawn: bool,
}

#[derive(Serialize)]
struct Family {
    id: String,
    title: String,
    cards: Vec<Card>,
}

impl Card {
    /// The card of a ground.
    pub fn new(about: &About, sits_in: Option<Neighbour>, varieties: Vec<CardVariety>) -> Card {
        Card {
            id: about.id.clone(),
            title: about.title.clone(),
            kind: kind(about),
            family: about.family.clone(),
            laces: about.laces.clone(),
            sits_in,
            notes: about.notes.clone(),
            varieties,
        }
    }
}

/// Writes the index.
pub fn write<E>(gallery: &Gallery<'_, E>, cards: Vec<Card>) -> Result<(), GalleryError<E>> {
    let grounds = cards.len();
    let varieties: usize = cards.iter().map(|card| card.varieties.len()).sum();
    let left_out = |one: &LeftOut| context! { source => one.file.clone(), sentence => one.why.clone() };
    let what = context! {
        grounds,
        varieties,
        families => Value::from(Serde(families(cards))),
        left_out => gallery.plan.left_out().iter().map(left_out).collect::<Vec<_>>(),
    };
    gallery.page("index.html", "", "index.html", what)
}

/// The cards by family, families in the order of their first card.
fn families(cards: Vec<Card>) -> Vec<Family> {
    let mut families: IndexMap<String, Vec<Card>> = IndexMap::new();
    for card in cards {
        families.entry(card.family.clone()).or_default().push(card);
    }
    let family = |(id, cards): (String, Vec<Card>)| Family { title: family_in_words(&id), id, cards };
    families.into_iter().map(family).collect()
}
