//! Which varieties are kept: filters, and the search by any name.

use indexmap::IndexMap;
use sandbox::{Kind, OtherName};
use serde::Serialize;

use super::entry::Entry;
use crate::catalogue::Catalogue;
use crate::cli::{ColoursGo, Keep, KindWanted};
use crate::failure::{Failure, suggest};
use crate::fold::{fold, same};

/// The name by which something was found.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Found<'a> {
    /// What kind of name it is, for example `title`.
    pub what: &'static str,
    /// Whether the whole ground is called so, or the variety alone.
    #[serde(skip)]
    pub of_ground: bool,
    /// The name itself.
    pub name: &'a str,
    /// Its language, of another name.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub language: Option<&'a str>,
}

/// Whether a variety is kept.
type Keeps<'a> = dyn Fn(&Entry<'_>) -> bool + 'a;
/// What there is instead, for whom nothing is left.
type Exists<'a> = dyn Fn(&[Entry<'_>]) -> String + 'a;

/// One thing asked for.
struct Filter<'a> {
    /// As it is typed.
    option: String,
    keeps: Box<Keeps<'a>>,
    exists: Box<Exists<'a>>,
}

/// All that is asked for.
pub struct Filters<'a> {
    filters: Vec<Filter<'a>>,
    search: Option<&'a str>,
}

impl<'a> Filters<'a> {
    /// What the user asks for.
    ///
    /// Refuses families and laces that no ground names, and a search for
    /// nothing or for what no name holds.
    pub fn new(keep: &'a Keep, catalogue: &Catalogue) -> Result<Filters<'a>, Failure> {
        let mut filters: Vec<Filter<'a>> = Vec::new();
        if let Some(word) = &keep.search {
            check_search(word, catalogue)?;
            filters.push(Filter {
                option: option("search", word),
                keeps: Box::new(|entry| found(entry, word).is_some()),
                exists: Box::new(|_| "other grounds are called so".to_owned()),
            });
        }
        if !keep.family.is_empty() {
            let families = distinct(catalogue.plugins.iter().map(|p| p.about.family.as_str()));
            check_known("the family", &keep.family, &families, same)?;
            filters.push(Filter {
                option: options("family", &keep.family),
                keeps: Box::new(|entry| keep.family.iter().any(|f| same(f, &entry.plugin.about.family))),
                exists: Box::new(|all| {
                    let families = distinct(all.iter().map(|e| e.plugin.about.family.as_str()));
                    format!("the families here are {}", families.join(", "))
                }),
            });
        }
        if let Some(kind) = keep.kind {
            let (word, wanted) = match kind {
                KindWanted::Ground => ("ground", Kind::Ground),
                KindWanted::Filling => ("filling", Kind::Filling),
            };
            filters.push(Filter {
                option: option("kind", word),
                keeps: Box::new(move |entry| entry.plugin.about.kind == wanted),
                exists: Box::new(move |_| match wanted {
                    Kind::Ground => "there are only fillings here".to_owned(),
                    Kind::Filling => "there are only grounds here".to_owned(),
                }),
            });
        }
        if !keep.lace.is_empty() {
            let laces =
                distinct(catalogue.plugins.iter().flat_map(|p| p.about.laces.iter().map(String::as_str)));
            check_known("the lace", &keep.lace, &laces, is_lace)?;
            filters.push(Filter {
                option: options("lace", &keep.lace),
                keeps: Box::new(|entry| {
                    let mut laces = entry.plugin.about.laces.iter();
                    laces.any(|lace| keep.lace.iter().any(|word| is_lace(word, lace)))
                }),
                exists: Box::new(|all| {
                    let laces = all.iter().flat_map(|e| e.plugin.about.laces.iter().map(String::as_str));
                    match distinct(laces).as_slice() {
                        [] => "no lace is named here".to_owned(),
                        laces => format!("the laces here are {}", laces.join(", ")),
                    }
                }),
            });
        }
        if let Some(span) = keep.pins {
            filters.push(Filter {
                option: option("pins", &span.to_string()),
                keeps: Box::new(move |entry| span.holds(entry.measures.pins_per_cm2)),
                exists: Box::new(|all| {
                    let pins = all.iter().map(|e| e.measures.pins_per_cm2);
                    let (least, most) =
                        (pins.clone().fold(f64::INFINITY, f64::min), pins.fold(0.0, f64::max));
                    format!("there are {least:.2} to {most:.2} pins to the square cm at this --pin-spacing")
                }),
            });
        }
        if let Some(span) = keep.pairs {
            filters.push(Filter {
                option: option("pairs", &span.to_string()),
                keeps: Box::new(move |entry| span.holds(entry.pairs_across() as f64)),
                exists: Box::new(|all| {
                    let mut pairs: Vec<usize> = all.iter().map(Entry::pairs_across).collect();
                    pairs.sort_unstable();
                    pairs.dedup();
                    let pairs: Vec<String> = pairs.iter().map(ToString::to_string).collect();
                    format!("the numbers of pairs across a repeat are {}", pairs.join(", "))
                }),
            });
        }
        if let Some(wanted) = keep.colours_go {
            filters.push(Filter {
                option: option("colours-go", word(wanted)),
                keeps: Box::new(move |entry| entry.colours_go() == wanted),
                exists: Box::new(|all| {
                    let mut go: Vec<ColoursGo> = all.iter().map(Entry::colours_go).collect();
                    go.sort_unstable();
                    go.dedup();
                    let go: Vec<&str> = go.into_iter().map(word).collect();
                    format!("here they do this: {}", go.join(", "))
                }),
            });
        }
        Ok(Filters { filters, search: keep.search.as_deref() })
    }

    /// What is kept, with the name by which it was searched.
    ///
    /// Refuses to keep nothing of something, and says what there is.
    pub fn apply<'e>(&self, entries: Vec<Entry<'e>>) -> Result<Vec<Entry<'e>>, Failure> {
        let keeps = |entry: &Entry<'_>| self.filters.iter().all(|f| (f.keeps)(entry));
        if !entries.is_empty() && !entries.iter().any(keeps) {
            return Err(self.nothing_left(&entries));
        }
        let mut kept: Vec<Entry<'e>> = entries.into_iter().filter(keeps).collect();
        if let Some(word) = self.search {
            for entry in &mut kept {
                entry.found = found(entry, word);
            }
        }
        Ok(kept)
    }

    fn nothing_left(&self, entries: &[Entry<'_>]) -> Failure {
        let asked: Vec<&str> = self.filters.iter().map(|f| f.option.as_str()).collect();
        let alone: Vec<String> = self
            .filters
            .iter()
            .map(|filter| {
                let left = entries.iter().filter(|e| (filter.keeps)(e)).count();
                match (left, self.filters.len()) {
                    (0, 1) => (filter.exists)(entries),
                    (0, _) => format!("{} alone leaves none ({})", filter.option, (filter.exists)(entries)),
                    (left, _) => format!("{} alone leaves {left} of {}", filter.option, entries.len()),
                }
            })
            .collect();
        Failure::Value {
            what: format!(
                "{} {} no ground or filling",
                asked.join(" "),
                if asked.len() == 1 { "leaves" } else { "together leave" }
            ),
            help: alone.join("; "),
        }
    }
}

/// Whether a word means a lace: it stands in its name.
fn is_lace(word: &str, lace: &str) -> bool {
    let word = fold(word);
    !word.is_empty() && fold(lace).contains(&word)
}

/// How a user types it.
pub fn word(go: ColoursGo) -> &'static str {
    match go {
        ColoursGo::Travels => "travels",
        ColoursGo::Stays => "stays",
        ColoursGo::Both => "both",
    }
}

fn option(name: &str, value: &str) -> String {
    if value.contains(char::is_whitespace) {
        format!("--{name} \"{}\"", value.escape_debug())
    } else {
        format!("--{name} {}", value.escape_debug())
    }
}

fn options(name: &str, values: &[String]) -> String {
    values.iter().map(|value| option(name, value)).collect::<Vec<_>>().join(" ")
}

/// Each name once, in the order of the alphabet.
fn distinct<'n>(names: impl Iterator<Item = &'n str>) -> Vec<&'n str> {
    let mut names: Vec<&str> = names.collect();
    names.sort_by_cached_key(|name| (fold(name), *name));
    names.dedup();
    names
}

/// Refuses words that mean nothing there is.
fn check_known(
    what: &'static str,
    words: &[String],
    known: &[&str],
    means: fn(&str, &str) -> bool,
) -> Result<(), Failure> {
    match words.iter().find(|word| !known.iter().any(|k| means(word, k))) {
        None => Ok(()),
        Some(word) => Err(Failure::Unknown {
            what,
            name: word.escape_debug().to_string(),
            help: suggest(word, known.iter().copied(), &format!("there are {}", known.join(", "))),
        }),
    }
}

fn check_search(word: &str, catalogue: &Catalogue) -> Result<(), Failure> {
    let folded = fold(word);
    if folded.is_empty() {
        return Err(Failure::Value {
            what: format!("--search `{}` holds no letter and no digit", word.escape_debug()),
            help: "give a name or part of one, for example --search tullgrund".to_owned(),
        });
    }
    let mut names: Vec<&str> = Vec::new();
    for plugin in &catalogue.plugins {
        names.extend(ground_names(&plugin.about).iter().map(|found| found.name));
        for (id, variety) in &plugin.about.varieties {
            names.extend(variety_names(id, variety).iter().map(|found| found.name));
        }
    }
    if names.iter().any(|name| fold(name).contains(&folded)) {
        return Ok(());
    }
    Err(Failure::Unknown {
        what: "the name",
        name: word.escape_debug().to_string(),
        help: suggest(word, distinct(names.into_iter()), "`pairwise grounds` lists everything there is"),
    })
}

/// Every name of a ground, those by which it is known best first.
fn ground_names(about: &sandbox::About) -> Vec<Found<'_>> {
    let mut names = vec![named("name to type", true, &about.id), named("title", true, &about.title)];
    names.extend(other(true, &about.other_names));
    names.push(named("family", true, &about.family));
    names.extend(about.laces.iter().map(|lace| named("lace", true, lace)));
    names
}

/// Every name of a variety.
fn variety_names<'a>(id: &'a str, variety: &'a sandbox::Variety) -> Vec<Found<'a>> {
    let mut names = vec![named("name to type", false, id), named("title", false, &variety.title)];
    names.extend(other(false, &variety.other_names));
    names
}

fn named<'a>(what: &'static str, of_ground: bool, name: &'a str) -> Found<'a> {
    Found { what, of_ground, name, language: None }
}

fn other(of_ground: bool, names: &[OtherName]) -> impl Iterator<Item = Found<'_>> {
    let found = move |n| {
        let OtherName { language, name, .. }: &OtherName = n;
        Found { what: "other name", of_ground, name, language: Some(language) }
    };
    names.iter().map(found)
}

/// The first name of a variety, or of its ground, in which a word stands.
fn found<'a>(entry: &Entry<'a>, word: &str) -> Option<Found<'a>> {
    let word = fold(word);
    let about = &entry.plugin.about;
    let (id, variety) = about.varieties.get_key_value(&entry.id)?;
    let names = ground_names(about).into_iter().chain(variety_names(id, variety));
    names.into_iter().find(|found| fold(found.name).contains(&word))
}

/// By which names things were found, a line for each name: what is called so,
/// and the name.
pub fn found_lines<'a>(entries: impl Iterator<Item = &'a Entry<'a>>) -> Vec<String> {
    let mut lines: IndexMap<String, ()> = IndexMap::new();
    for entry in entries {
        let Some(found) = &entry.found else { continue };
        let who = if found.of_ground { entry.plugin.about.id.clone() } else { entry.name() };
        let what = match found.language {
            Some(language) => format!("{} ({language})", found.what),
            None => found.what.to_owned(),
        };
        lines.insert(format!("{who}: {what} \u{201c}{}\u{201d}", found.name), ());
    }
    lines.into_keys().collect()
}
