//! The search by any name, and the name it matched.

use indexmap::IndexSet;

use super::Listing;
use crate::fold::fold;
use crate::{About, OtherName, Variety};

/// The name that a search matched.
#[derive(Clone, Debug, PartialEq)]
pub struct Found {
    /// The kind of name, for example `title`.
    pub what: &'static str,
    /// Whether the whole ground has this name, or only the variety.
    pub of_ground: bool,
    /// The name itself.
    pub name: String,
    /// For another name, its language as a BCP 47 tag.
    pub language: Option<String>,
}

/// Every name of a ground, the best known first.
pub(super) fn ground_names(about: &About) -> Vec<Found> {
    let mut names = vec![named("name to type", true, &about.id), named("title", true, &about.title)];
    names.extend(others(true, &about.other_names));
    names.push(named("family", true, &about.family));
    names.extend(about.laces.iter().map(|lace| named("lace", true, lace)));
    names
}

/// Every name of a variety.
pub(super) fn variety_names(id: &str, variety: &Variety) -> Vec<Found> {
    let mut names = vec![named("name to type", false, id), named("title", false, &variety.title)];
    names.extend(others(false, &variety.other_names));
    names
}

fn named(what: &'static str, of_ground: bool, name: &str) -> Found {
    Found { what, of_ground, name: name.to_owned(), language: None }
}

fn others(of_ground: bool, names: &[OtherName]) -> impl Iterator<Item = Found> {
    names.iter().map(move |other| Found {
        language: Some(other.language.clone()),
        ..named("other name", of_ground, &other.name)
    })
}

/// The first name of a variety, or of its ground, that contains a word.
pub(super) fn found(listing: &Listing, word: &str) -> Option<Found> {
    let word = fold(word);
    let names = ground_names(listing.about());
    let names = names.into_iter().chain(variety_names(&listing.chosen.variety, listing.variety()));
    names.into_iter().find(|found| fold(&found.name).contains(&word))
}

/// The names matched, one line each: what has the name, and the name.
pub fn found_lines<'l>(listings: impl IntoIterator<Item = &'l Listing>) -> Vec<String> {
    let mut lines: IndexSet<String> = IndexSet::new();
    for listing in listings {
        let Some(found) = &listing.found else { continue };
        let who = if found.of_ground { listing.about().id.clone() } else { listing.chosen.name() };
        let what = match &found.language {
            Some(language) => format!("{} ({language})", found.what),
            None => found.what.to_owned(),
        };
        lines.insert(format!("{who}: {what} \u{201c}{}\u{201d}", found.name));
    }
    lines.into_iter().collect()
}
