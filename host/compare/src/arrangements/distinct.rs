//! Arrangements that look different on some grounds.

use indexmap::{IndexMap, IndexSet};
use lace::{Arrangement, ArrangementName, ArrangementSymmetry, DistinctArrangements};

use super::blocks;

/// Most arrangements visited one by one, when counting those left out for several
/// grounds and when searching for a name.
const MOST_COUNTED: u128 = 100_000;
const MOST_WALKED: usize = 200_000;

/// The arrangements that look different on some grounds.
pub(super) struct Distinct {
    /// The symmetries of each ground.
    pub grounds: Vec<ArrangementSymmetry>,
    /// Number of colours.
    pub colours: usize,
    /// Whether arrangements that only swap colours count as one.
    pub exchange: bool,
    /// Whether places are threads instead of pairs.
    pub single_threads: bool,
    /// Pairs in an arrangement.
    pub pairs: usize,
}

/// The first arrangements that look different, and how many there are in all.
pub(super) struct First {
    /// The arrangements.
    pub shown: Vec<Arrangement>,
    /// How many there are at least.
    pub at_least: u128,
    /// How many there are at most, if known.
    pub at_most: Option<u128>,
}

impl Distinct {
    /// Whether all symmetries are known by which arrangements look the same.
    pub fn is_complete(&self) -> bool {
        self.grounds.iter().all(ArrangementSymmetry::is_complete)
    }

    fn walk(&self) -> DistinctArrangements<'_> {
        DistinctArrangements::new(&self.grounds, self.colours, self.exchange)
    }

    /// The first arrangements that look different.
    pub fn first(&self, most: usize) -> First {
        let mut rest = self.walk();
        let shown: Vec<Arrangement> = rest.by_ref().take(most).collect();
        let count = shown.len() as u128;
        // Where symmetries are missing, some of these look the same.
        let complete = self.is_complete();
        let exactly = |shown, all: u128| {
            let at_least = if complete { all } else { all.min(1) };
            First { shown, at_least, at_most: Some(all) }
        };
        if shown.len() < most {
            return exactly(shown, count);
        }
        if let [one] = &self.grounds[..]
            && let Some(all) = one.count(self.colours, self.exchange)
        {
            return exactly(shown, all);
        }
        let places = self.grounds.first().map_or(1, ArrangementSymmetry::places) as u32;
        let possible = (self.colours as u128).checked_pow(places);
        if possible.is_some_and(|n| n <= MOST_COUNTED) {
            return exactly(shown, count + rest.count() as u128);
        }
        // The number that look different on one ground is a lower bound for all
        // grounds together.
        let counts = self.grounds.iter().filter_map(|g| g.count(self.colours, self.exchange));
        let at_least = counts.max().unwrap_or(0).max(if complete { count } else { count.min(1) });
        // Arrangements related by a symmetry of every ground are shown once.
        let at_most = self.common().and_then(|g| g.count(self.colours, self.exchange));
        First { shown, at_least, at_most }
    }

    /// The symmetries that all grounds have.
    fn common(&self) -> Option<ArrangementSymmetry> {
        let (first, others) = self.grounds.split_first()?;
        if !self.grounds.iter().all(ArrangementSymmetry::is_complete) {
            return None;
        }
        let sets: Vec<IndexSet<&Vec<usize>>> = others.iter().map(|g| g.elements().iter().collect()).collect();
        let shared: Vec<Vec<usize>> =
            first.elements().iter().filter(|e| sets.iter().all(|s| s.contains(e))).cloned().collect();
        Some(ArrangementSymmetry::generated(first.places(), &shared))
    }

    /// All arrangements with one of the names, one of each set that looks the
    /// same, sorted; and whether the search was complete.
    pub fn named(&self, names: &[ArrangementName]) -> (Vec<Arrangement>, bool) {
        let mut found: IndexMap<Vec<u8>, Arrangement> = IndexMap::new();
        let mut keep = |arrangement: Arrangement| {
            if arrangement.name().is_some_and(|name| names.contains(&name)) {
                let kept = found.entry(self.canonical(&arrangement)).or_insert_with(|| arrangement.clone());
                if arrangement < *kept {
                    *kept = arrangement;
                }
            }
        };
        for name in names {
            blocks::repeated(*name, self.colours, self.pairs).into_iter().for_each(&mut keep);
        }
        let mut all_seen = true;
        if names.iter().any(|n| matches!(n, ArrangementName::Graded | ArrangementName::Symmetrical)) {
            let mut walk = self.walk();
            for arrangement in walk.by_ref().take(MOST_WALKED) {
                // An arrangement that looks the same may have the name.
                for equivalent in self.equivalents(&self.places(&arrangement)) {
                    keep(self.arrangement(&equivalent));
                }
            }
            all_seen = walk.next().is_none();
        }
        let mut arrangements: Vec<Arrangement> = found.into_values().collect();
        arrangements.sort();
        (arrangements, all_seen)
    }

    fn places(&self, arrangement: &Arrangement) -> Vec<u8> {
        let threads = arrangement.threads();
        if self.single_threads { threads } else { threads.into_iter().step_by(2).collect() }
    }

    fn arrangement(&self, places: &[u8]) -> Arrangement {
        if self.single_threads { Arrangement::of_threads(places) } else { Arrangement::of_pairs(places) }
    }

    /// With colours renumbered in order of appearance, if swapped colours count
    /// as one.
    fn renamed(&self, places: Vec<u8>) -> Vec<u8> {
        if !self.exchange {
            return places;
        }
        let mut met: IndexSet<u8> = IndexSet::new();
        places.into_iter().map(|c| met.insert_full(c).0 as u8).collect()
    }

    /// The arrangements that look the same on every ground.
    fn equivalents(&self, places: &[u8]) -> IndexSet<Vec<u8>> {
        let Some((first, others)) = self.grounds.split_first() else { return IndexSet::new() };
        let on = |ground: &ArrangementSymmetry| -> IndexSet<Vec<u8>> {
            ground.equivalents(places).map(|a| self.renamed(a)).collect()
        };
        let mut equivalents = on(first);
        for ground in others {
            let there = on(ground);
            equivalents.retain(|a| there.contains(a));
        }
        equivalents
    }

    /// The first of the arrangements that look the same on every ground.
    fn canonical(&self, arrangement: &Arrangement) -> Vec<u8> {
        let places = self.places(arrangement);
        self.equivalents(&places).into_iter().min().unwrap_or(places)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use lace::Ground;
    use lace::samples::{rose, torchon};

    fn distinct(colours: usize, pairs: usize, exchange: bool) -> Distinct {
        let grounds = [torchon("CT pin CT", 0), rose("CTCT", "CT pin CT")]
            .map(|r| ArrangementSymmetry::new(&Ground::new(r).unwrap(), pairs))
            .to_vec();
        Distinct { grounds, colours, exchange, single_threads: false, pairs }
    }

    #[test]
    fn arrangements_of_a_name_are_those_that_a_walk_through_all_finds() {
        for exchange in [false, true] {
            let distinct = distinct(3, 8, exchange);
            for name in
                ["one-colour", "one-in-4", "2-and-2", "half-and-half", "1-and-1", "symmetrical", "graded"]
            {
                let name: ArrangementName = name.parse().unwrap();
                let (found, all_seen) = distinct.named(&[name]);
                assert!(all_seen);
                let mut walked: IndexSet<Vec<u8>> = IndexSet::new();
                for n in 0..3u32.pow(8) {
                    let places: Vec<u8> = (0..8).map(|k| (n / 3u32.pow(k) % 3) as u8).collect();
                    let arrangement = Arrangement::of_pairs(&places);
                    if arrangement.name() == Some(name) {
                        walked.insert(distinct.canonical(&arrangement));
                    }
                }
                assert_eq!(found.len(), walked.len(), "{name}, {exchange}");
                assert!(found.iter().all(|a| a.name() == Some(name)));
            }
        }
    }

    #[test]
    fn bounds_for_several_grounds_hold_what_is_counted_one_by_one() {
        let distinct = distinct(2, 12, false);
        let counted = distinct.walk().count() as u128;
        let at_least = distinct.grounds.iter().filter_map(|g| g.count(2, false)).max().unwrap();
        let at_most = distinct.common().unwrap().count(2, false).unwrap();
        assert!(at_least <= counted && counted <= at_most, "{at_least} <= {counted} <= {at_most}");
        assert_eq!(distinct.first(16).at_least, counted);
    }
}
