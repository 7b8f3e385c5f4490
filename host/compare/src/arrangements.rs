//! Which arrangements to show, and how many more there are.

mod blocks;
mod distinct;
mod whole_repeats;

use catalogue::Chosen;
use indexmap::IndexMap;
use lace::{Arrangement, ArrangementName, ArrangementSymmetry, Ground};

use crate::error::Error;
use crate::note::Note;
use distinct::Distinct;
use whole_repeats::whole_repeats;

/// Which arrangements to show.
#[derive(Clone, Debug, PartialEq)]
pub enum ArrangementsWanted {
    /// These.
    Given(Vec<Arrangement>),
    /// All that look different.
    Distinct(DistinctWanted),
}

/// Which of the arrangements that look different to show.
#[derive(Clone, Debug, PartialEq)]
pub struct DistinctWanted {
    /// Length of an arrangement, in pairs; rounded up to whole repeats of the
    /// grounds.
    pub pairs: usize,
    /// Show at most this many.
    pub most: usize,
    /// Only those with one of these names; all if empty.
    pub names: Vec<ArrangementName>,
    /// Whether arrangements that differ only in which colour is which count as
    /// one.
    pub exchange: bool,
    /// Whether the two threads of a pair may have different colours.
    pub single_threads: bool,
}

/// The arrangements shown, and how many there are in all.
#[derive(Clone, Debug, PartialEq)]
pub struct ShownArrangements {
    /// The arrangements, sorted or in the order given.
    pub shown: Vec<Arrangement>,
    /// How many look different, at least.
    pub at_least: u128,
    /// How many look different, at most; `None` if there are too many to count.
    pub at_most: Option<u128>,
    /// Pairs in each arrangement, or in the longest if they were given.
    pub pairs: usize,
    /// A note if pairs were rounded up or arrangements do not fit the repeats.
    pub fit: Option<Note>,
    /// Whether only arrangements with certain names were asked for.
    named: bool,
    /// Whether all symmetries were known by which arrangements look the same.
    complete: bool,
}

impl ShownArrangements {
    /// The arrangements to show: those given, or the first of those in `colours`
    /// colours that look different on at least one of the grounds.
    ///
    /// # Errors
    /// If no arrangement has one of the names.
    pub fn new(
        wanted: &ArrangementsWanted,
        colours: usize,
        grounds: &[&Chosen],
    ) -> Result<ShownArrangements, Error> {
        match wanted {
            ArrangementsWanted::Given(shown) => Ok(ShownArrangements::given(shown)),
            ArrangementsWanted::Distinct(wanted) => ShownArrangements::distinct(wanted, colours, grounds),
        }
    }

    fn given(shown: &[Arrangement]) -> ShownArrangements {
        let count = shown.len() as u128;
        ShownArrangements {
            shown: shown.to_vec(),
            at_least: count,
            at_most: Some(count),
            pairs: shown.iter().map(|a| a.pairs().len()).max().unwrap_or(1),
            fit: None,
            named: false,
            complete: true,
        }
    }

    fn distinct(
        wanted: &DistinctWanted,
        colours: usize,
        grounds: &[&Chosen],
    ) -> Result<ShownArrangements, Error> {
        let (pairs, fit) = whole_repeats(wanted.pairs, grounds);
        let symmetry = |ground: &Ground| match wanted.single_threads {
            true => ArrangementSymmetry::of_threads(ground, pairs),
            false => ArrangementSymmetry::new(ground, pairs),
        };
        let distinct = Distinct {
            grounds: each_once(grounds.iter().map(|chosen| symmetry(&chosen.ground))),
            colours,
            exchange: wanted.exchange,
            single_threads: wanted.single_threads,
            pairs,
        };
        let (shown, at_least, at_most) = if wanted.names.is_empty() {
            let first = distinct.first(wanted.most);
            (first.shown, first.at_least, first.at_most)
        } else {
            let (mut shown, all_seen) = distinct.named(&wanted.names);
            if shown.is_empty() {
                return Err(Error::NothingNamed { names: wanted.names.clone(), pairs, colours, all_seen });
            }
            let count = shown.len() as u128;
            shown.truncate(wanted.most);
            (shown, count, all_seen.then_some(count))
        };
        let complete = distinct.is_complete();
        Ok(ShownArrangements {
            shown,
            at_least,
            at_most,
            pairs,
            fit,
            named: !wanted.names.is_empty(),
            complete,
        })
    }

    /// How many were left out, at least.
    pub fn left_out(&self) -> u128 {
        self.at_least.saturating_sub(self.shown.len() as u128)
    }

    /// A note of how many were left out, if any were, or that it is not known.
    pub fn left_out_note(&self) -> Option<Note> {
        let shown = self.shown.len() as u128;
        if !self.complete && shown > 1 {
            return Some(Note::SymmetriesMissing { shown });
        }
        (self.at_most != Some(shown)).then_some(Note::ArrangementsLeftOut {
            shown,
            at_least: self.at_least,
            at_most: self.at_most,
            named: self.named,
        })
    }
}

/// One ground for each set of symmetries, since others with the same add nothing.
fn each_once(all: impl Iterator<Item = ArrangementSymmetry>) -> Vec<ArrangementSymmetry> {
    let mut once: IndexMap<Vec<Vec<usize>>, ArrangementSymmetry> = IndexMap::new();
    for symmetry in all {
        let mut elements = symmetry.elements().to_vec();
        elements.sort_unstable();
        once.entry(elements).or_insert(symmetry);
    }
    once.into_values().collect()
}
