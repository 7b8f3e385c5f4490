//! The glossary, with links to its initial letters.

use indexmap::IndexMap;
use manual::glossary::{TERMS, Term};
use minijinja::value::Serde;
use minijinja::{Value, context};
use serde::Serialize;

use crate::GalleryError;
use crate::shared::Gallery;

#[derive(Serialize)]
struct TermView {
    word: &'static str,
    anchor: String,
    also: &'static [&'static str],
    meaning: &'static str,
    origin: String,
    /// Words to look up next, each with its anchor.
    see: Vec<[String; 2]>,
}

/// Writes the page.
pub fn write<E>(gallery: &Gallery<'_, E>) -> Result<(), GalleryError<E>> {
    let mut letters: IndexMap<String, String> = IndexMap::new();
    for term in TERMS {
        let first = term.word.chars().next().map_or('?', |c| c.to_ascii_uppercase());
        letters.entry(first.to_string()).or_insert(term.anchor());
    }
    let view = |term: &Term| TermView {
        word: term.word,
        anchor: term.anchor(),
        also: term.also,
        meaning: term.meaning,
        origin: term.origin.words(),
        see: term.see.iter().map(|word| [(*word).to_owned(), word.replace(' ', "-")]).collect(),
    };
    let terms: Vec<TermView> = TERMS.iter().map(view).collect();
    let letters: Vec<(String, String)> = letters.into_iter().collect();
    let what = context! { entries => Value::from(Serde(terms)), letters => Value::from(Serde(letters)) };
    gallery.page("glossary.html", "", "glossary.html", what)
}
