//! Filters on lists of varieties.

use thiserror::Error;

use super::found::{found, ground_names, variety_names};
use super::{ColoursGo, Listing};
use crate::fold::{fold, same};
use crate::near::{listed, near_names};
use crate::span::Span;
use crate::{Catalogue, Kind};

/// One condition on a variety.
#[derive(Clone, Debug, PartialEq)]
pub enum Criterion {
    /// One of its names contains this word: id, title, other names in any
    /// language, lace or family; case and accents do not matter.
    Search(String),
    /// It is of one of these families.
    Families(Vec<String>),
    /// It is of this kind.
    Kind(Kind),
    /// It is used in a lace whose name contains one of these words.
    Laces(Vec<String>),
    /// Pins per square cm.
    Pins(Span),
    /// Pairs across one repeat.
    PairsAcross(Span),
    /// Whether its colours travel or stay.
    ColoursGo(ColoursGo),
}

/// All conditions on a variety.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Criteria(Vec<Criterion>);

/// The effect of one criterion on its own.
#[derive(Clone, Debug, PartialEq)]
pub struct Alone {
    /// The criterion.
    pub criterion: Criterion,
    /// How many varieties meet it.
    pub kept: usize,
    /// What exists instead, in words.
    pub exists: String,
}

/// Why nothing is left.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum CriteriaError {
    /// A search for a word without a letter or digit.
    #[error("`{0}` has no letter or digit")]
    EmptySearch(String),
    /// No name contains this word.
    #[error("no ground or filling is called `{word}`")]
    UnknownName {
        /// The word.
        word: String,
        /// Similar names.
        near: Vec<String>,
    },
    /// No ground is of this family.
    #[error("there is no family `{word}`")]
    UnknownFamily {
        /// The word.
        word: String,
        /// Similar families.
        near: Vec<String>,
        /// All families.
        known: Vec<String>,
    },
    /// No ground is used in such a lace.
    #[error("no lace is called `{word}`")]
    UnknownLace {
        /// The word.
        word: String,
        /// Similar laces.
        near: Vec<String>,
        /// All laces.
        known: Vec<String>,
    },
    /// Nothing meets all criteria.
    #[error("no ground or filling is left")]
    NothingLeft {
        /// The effect of each criterion on its own.
        alone: Vec<Alone>,
        /// How many varieties there are.
        of: usize,
    },
}

impl Criteria {
    /// Criteria for the varieties of a catalogue.
    ///
    /// # Errors
    /// Unknown families and laces, an empty search, and a word that no name
    /// contains.
    pub fn new(criteria: Vec<Criterion>, catalogue: &Catalogue) -> Result<Criteria, CriteriaError> {
        criteria.iter().try_for_each(|criterion| criterion.check(catalogue))?;
        Ok(Criteria(criteria))
    }

    /// The varieties kept, with the name that the search matched.
    ///
    /// # Errors
    /// [`CriteriaError::NothingLeft`] if there are varieties but none is kept.
    pub fn keep(&self, listings: Vec<Listing>) -> Result<Vec<Listing>, CriteriaError> {
        let keeps = |listing: &Listing| self.0.iter().all(|criterion| criterion.keeps(listing));
        if !listings.is_empty() && !listings.iter().any(keeps) {
            let alone = self.0.iter().map(|criterion| criterion.alone(&listings)).collect();
            return Err(CriteriaError::NothingLeft { alone, of: listings.len() });
        }
        let mut kept: Vec<Listing> = listings.into_iter().filter(keeps).collect();
        let word = self.0.iter().find_map(|criterion| match criterion {
            Criterion::Search(word) => Some(word),
            _ => None,
        });
        if let Some(word) = word {
            kept.iter_mut().for_each(|listing| listing.found = found(listing, word));
        }
        Ok(kept)
    }
}

impl Criterion {
    /// Whether a variety meets it.
    pub fn keeps(&self, listing: &Listing) -> bool {
        let about = listing.about();
        match self {
            Criterion::Search(word) => found(listing, word).is_some(),
            Criterion::Families(words) => words.iter().any(|word| same(word, &about.family)),
            Criterion::Kind(kind) => about.kind == *kind,
            Criterion::Laces(words) => {
                about.laces.iter().any(|lace| words.iter().any(|word| is_lace(word, lace)))
            }
            Criterion::Pins(span) => span.holds(listing.measures.pins_per_cm2),
            Criterion::PairsAcross(span) => span.holds(listing.pairs_across() as f64),
            Criterion::ColoursGo(go) => listing.colours_go() == *go,
        }
    }

    fn alone(&self, listings: &[Listing]) -> Alone {
        Alone {
            criterion: self.clone(),
            kept: listings.iter().filter(|listing| self.keeps(listing)).count(),
            exists: self.exists(listings),
        }
    }

    /// What exists instead, for the message that nothing is left.
    fn exists(&self, all: &[Listing]) -> String {
        match self {
            Criterion::Search(_) => "other grounds have that name".to_owned(),
            Criterion::Families(_) => {
                let families = distinct(all.iter().map(|l| l.about().family.as_str()));
                format!("the families here are {}", listed(families))
            }
            Criterion::Kind(Kind::Ground) => "there are only fillings here".to_owned(),
            Criterion::Kind(Kind::Filling) => "there are only grounds here".to_owned(),
            Criterion::Laces(_) => {
                let laces = all.iter().flat_map(|l| l.about().laces.iter().map(String::as_str));
                match distinct(laces).as_slice() {
                    [] => "no lace is named here".to_owned(),
                    laces => format!("the laces here are {}", listed(laces)),
                }
            }
            Criterion::Pins(_) => {
                let pins = all.iter().map(|l| l.measures.pins_per_cm2);
                let (least, most) = (pins.clone().fold(f64::INFINITY, f64::min), pins.fold(0.0, f64::max));
                format!("there are {least:.2} to {most:.2} pins per square cm")
            }
            Criterion::PairsAcross(_) => {
                let mut pairs: Vec<usize> = all.iter().map(Listing::pairs_across).collect();
                pairs.sort_unstable();
                pairs.dedup();
                let pairs: Vec<String> = pairs.iter().map(ToString::to_string).collect();
                format!("the numbers of pairs across a repeat are {}", listed(pairs))
            }
            Criterion::ColoursGo(_) => {
                let mut go: Vec<ColoursGo> = all.iter().map(Listing::colours_go).collect();
                go.sort_unstable();
                go.dedup();
                let go: Vec<&str> = go.into_iter().map(ColoursGo::word).collect();
                format!("here they do this: {}", go.join(", "))
            }
        }
    }

    /// Refuses criteria that no variety of a catalogue can meet.
    fn check(&self, catalogue: &Catalogue) -> Result<(), CriteriaError> {
        let all = catalogue.entries().iter().map(|entry| entry.about());
        match self {
            Criterion::Search(word) => check_search(word, catalogue),
            Criterion::Families(words) => {
                let families = distinct(all.map(|about| about.family.as_str()));
                unknown(words, &families, same).map_or(Ok(()), |word| {
                    Err(CriteriaError::UnknownFamily {
                        word: word.to_owned(),
                        near: owned(near_names(word, families.iter().copied())),
                        known: owned(families),
                    })
                })
            }
            Criterion::Laces(words) => {
                let laces = distinct(all.flat_map(|about| about.laces.iter().map(String::as_str)));
                unknown(words, &laces, is_lace).map_or(Ok(()), |word| {
                    Err(CriteriaError::UnknownLace {
                        word: word.to_owned(),
                        near: owned(near_names(word, laces.iter().copied())),
                        known: owned(laces),
                    })
                })
            }
            Criterion::Kind(_) | Criterion::Pins(_) | Criterion::PairsAcross(_) | Criterion::ColoursGo(_) => {
                Ok(())
            }
        }
    }
}

fn check_search(word: &str, catalogue: &Catalogue) -> Result<(), CriteriaError> {
    let folded = fold(word);
    if folded.is_empty() {
        return Err(CriteriaError::EmptySearch(word.to_owned()));
    }
    let names: Vec<String> = catalogue
        .entries()
        .iter()
        .flat_map(|entry| {
            let about = entry.about();
            let of_varieties = about.varieties.iter().flat_map(|(id, variety)| variety_names(id, variety));
            ground_names(about).into_iter().chain(of_varieties)
        })
        .map(|found| found.name)
        .collect();
    if names.iter().any(|name| fold(name).contains(&folded)) {
        return Ok(());
    }
    let near = near_names(word, distinct(names.iter().map(String::as_str)));
    Err(CriteriaError::UnknownName { word: word.to_owned(), near: owned(near) })
}

/// Whether a word matches a lace: its name contains the word.
fn is_lace(word: &str, lace: &str) -> bool {
    let word = fold(word);
    !word.is_empty() && fold(lace).contains(&word)
}

/// The first word that matches nothing.
fn unknown<'w>(words: &'w [String], known: &[&str], means: fn(&str, &str) -> bool) -> Option<&'w str> {
    words.iter().find(|word| !known.iter().any(|k| means(word, k))).map(String::as_str)
}

/// Each name once, in alphabetical order.
fn distinct<'n>(names: impl Iterator<Item = &'n str>) -> Vec<&'n str> {
    let mut names: Vec<&str> = names.collect();
    names.sort_by_cached_key(|name| (fold(name), *name));
    names.dedup();
    names
}

fn owned(names: Vec<&str>) -> Vec<String> {
    names.into_iter().map(str::to_owned).collect()
}

#[cfg(test)]
mod tests {
    use lace::Grid;

    use super::super::work_out;
    use super::*;
    use crate::samples::Sample;

    fn listed() -> (Catalogue, Vec<Listing>) {
        let catalogue = Catalogue::new([Sample::new("rose"), Sample::new("point")], Vec::new());
        let named = catalogue.varieties();
        let (listings, _) = work_out(&named, |about| Grid::new(4.0, about.angle), || {});
        (catalogue, listings)
    }

    #[test]
    fn what_meets_every_criterion_is_kept() {
        let (catalogue, listings) = listed();
        let keep = |criteria: Vec<Criterion>| {
            let kept = Criteria::new(criteria, &catalogue).unwrap().keep(listings.clone()).unwrap();
            kept.iter().map(|listing| listing.chosen.name()).collect::<Vec<_>>()
        };
        assert_eq!(keep(Vec::new()).len(), 4);
        assert_eq!(keep(vec![Criterion::Search("TWISTED".into())]), ["rose/twisted", "point/twisted"]);
        let laces = Criterion::Laces(vec!["tórch".into()]);
        assert_eq!(keep(vec![laces, Criterion::Search("poi".into())]), ["point/plain", "point/twisted"]);
        assert_eq!(keep(vec![Criterion::PairsAcross(Span { least: 2.0, most: 2.0 })]).len(), 4);
    }

    #[test]
    fn errors_say_what_exists_instead() {
        let (catalogue, listings) = listed();
        let fillings = Criteria::new(vec![Criterion::Kind(Kind::Filling)], &catalogue).unwrap();
        let Err(CriteriaError::NothingLeft { alone, of: 4 }) = fillings.keep(listings) else { panic!() };
        assert_eq!((alone[0].kept, alone[0].exists.as_str()), (0, "there are only grounds here"));
        let refused = |criterion| Criteria::new(vec![criterion], &catalogue).unwrap_err();
        assert_eq!(refused(Criterion::Search(" - ".into())), CriteriaError::EmptySearch(" - ".into()));
        assert!(
            matches!(refused(Criterion::Search("twistd".into())), CriteriaError::UnknownName { near, .. } if near == ["twisted", "Twisted rose"])
        );
        assert!(
            matches!(refused(Criterion::Families(vec!["roes".into()])), CriteriaError::UnknownFamily { known, .. } if known == ["rose"])
        );
    }
}
