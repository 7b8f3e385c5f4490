//! The table of names: the trade's names for grounds and varieties, language by
//! language.

use catalogue::fold::fold;
use catalogue::{About, OtherName, language};
use indexmap::IndexMap;
use minijinja::value::Serde;
use minijinja::{Value, context};
use serde::Serialize;

use crate::GalleryError;
use crate::shared::Gallery;

/// A name of the trade.
#[derive(Clone, Serialize)]
struct Name {
    name: String,
    tag: String,
    language: String,
    source: String,
    /// What has this name: id of the ground, and of the variety unless the whole
    /// ground is meant.
    ground: String,
    variety: Option<String>,
    title: String,
}

/// A language with its names.
#[derive(Serialize)]
struct Language {
    name: String,
    anchor: String,
    names: Vec<Name>,
}

/// Writes the page of names.
pub fn write<E>(gallery: &Gallery<'_, E>) -> Result<(), GalleryError<E>> {
    let all = gallery.plan.grounds.iter().flat_map(|ground| of_ground(ground.about())).collect();
    let names = sorted(all);
    let languages = by_language(&names);
    let what = context! { names => Value::from(Serde(names)), languages => Value::from(Serde(languages)) };
    gallery.page("names.html", "", "names.html", what)
}

/// All other names of a ground and its varieties.
fn of_ground(about: &About) -> Vec<Name> {
    let named = |other: &OtherName, title: &str, variety: Option<&String>| Name {
        name: other.name.clone(),
        tag: other.language.clone(),
        language: language::in_words(&other.language),
        source: other.source.clone(),
        ground: about.id.clone(),
        variety: variety.cloned(),
        title: title.to_owned(),
    };
    let of_all = about.other_names.iter().map(|other| named(other, &about.title, None));
    let of_varieties = about.varieties.iter().flat_map(|(id, variety)| {
        variety.other_names.iter().map(move |other| named(other, &variety.title, Some(id)))
    });
    of_all.chain(of_varieties).collect()
}
/// Sorts by name, letter by letter without accents; equal names keep their order.
fn sorted(mut names: Vec<Name>) -> Vec<Name> {
    names.sort_by_cached_key(|name| (fold(&name.name), name.name.clone()));
    names
}

/// The names by language, languages in alphabetical order. A dialect or national
/// form counts as a language of its own, with its own name.
fn by_language(names: &[Name]) -> Vec<Language> {
    let mut languages: IndexMap<String, Language> = IndexMap::new();
    for name in names {
        let tag = name.tag.to_ascii_lowercase();
        let anchor = format!("language-{tag}");
        let new = || Language { name: name.language.clone(), anchor, names: Vec::new() };
        languages.entry(tag).or_insert_with(new).names.push(name.clone());
    }
    let mut languages: Vec<Language> = languages.into_values().collect();
    languages.sort_by_cached_key(|language| (fold(&language.name), language.name.clone()));
    languages
}

#[cfg(test)]
mod tests {
    use super::*;

    fn name(name: &str, tag: &str) -> Name {
        Name {
            name: name.to_owned(),
            tag: tag.to_owned(),
            language: language::in_words(tag),
            source: String::new(),
            ground: "rose".to_owned(),
            variety: None,
            title: "Rose ground".to_owned(),
        }
    }

    #[test]
    fn names_stand_in_order_without_regard_to_accents() {
        let names =
            ["Zopf", "fond simple", "Érable", "Ölgrund", "Fond à la vierge", "Oval"].map(|n| name(n, "de"));
        let sorted = sorted(names.to_vec());
        let order: Vec<&str> = sorted.iter().map(|n| n.name.as_str()).collect();
        assert_eq!(order, ["Érable", "Fond à la vierge", "fond simple", "Ölgrund", "Oval", "Zopf"]);
    }

    #[test]
    fn languages_stand_in_order_with_their_names() {
        let names = [name("araignée", "fr"), name("Spinne", "de"), name("Spinnl", "de-AT"), name("x", "nds")];
        let languages = by_language(&sorted(names.to_vec()));
        let listed: Vec<(&str, &str, usize)> =
            languages.iter().map(|l| (l.name.as_str(), l.anchor.as_str(), l.names.len())).collect();
        assert_eq!(
            listed,
            [
                ("French", "language-fr", 1),
                ("German", "language-de", 1),
                ("German (de-AT)", "language-de-at", 1),
                ("nds", "language-nds", 1)
            ]
        );
    }
}
