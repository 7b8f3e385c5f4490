//! Listing the arrangements that look different on some grounds.

use std::cmp::Ordering;

use indexmap::IndexSet;

use crate::colour::arrangement::Arrangement;
use crate::colour::arrangement_symmetry::ArrangementSymmetry;
use crate::limits::MAX_COLOURS;

/// Iterates over the arrangements of pairs (or threads) that look different, in
/// up to a given number of colours.
///
/// Arrangements come in lexicographic order. Of those that look the same on
/// every ground only the first is returned; with one ground these are the
/// representatives of the orbits of its group. All arrangements with the same
/// first colours are skipped at once when those colours already show that each
/// of them looks like an earlier one.
#[derive(Clone, Debug)]
pub struct DistinctArrangements<'a> {
    grounds: &'a [ArrangementSymmetry],
    /// Symmetries shared by all grounds.
    common: Vec<Vec<usize>>,
    colours: u8,
    exchange: bool,
    next: Option<Vec<u8>>,
}

impl<'a> DistinctArrangements<'a> {
    /// The arrangements for grounds that all have the same number of places.
    ///
    /// `colours` is 1 to [`MAX_COLOURS`]. With `exchange`, arrangements that differ
    /// only by a swap of colours count as one.
    pub fn new(
        grounds: &'a [ArrangementSymmetry],
        colours: usize,
        exchange: bool,
    ) -> DistinctArrangements<'a> {
        let sets: Vec<IndexSet<&Vec<usize>>> =
            grounds.iter().skip(1).map(|g| g.elements().iter().collect()).collect();
        let first = grounds.first().map_or(&[][..], |g| g.elements());
        DistinctArrangements {
            grounds,
            common: first.iter().filter(|e| sets.iter().all(|s| s.contains(e))).cloned().collect(),
            colours: colours.clamp(1, MAX_COLOURS) as u8,
            exchange,
            next: grounds.first().map(|g| vec![0; g.places()]),
        }
    }

    /// The next colours in order that differ from `colours` at `place` or before.
    fn after(&self, colours: &[u8], place: usize) -> Option<Vec<u8>> {
        let most = |place: usize| {
            let used = colours[..place].iter().max().map_or(0, |&c| c + 1);
            if self.exchange { (self.colours - 1).min(used) } else { self.colours - 1 }
        };
        let place = (0..=place).rev().find(|&k| colours[k] < most(k))?;
        let mut after = colours.to_vec();
        after[place] += 1;
        after[place + 1..].fill(0);
        Some(after)
    }

    /// The last place needed to see that an element maps the colours to earlier
    /// ones; `None` when it does not.
    fn shown_earlier(&self, colours: &[u8], element: &[usize]) -> Option<usize> {
        let mut naming = Naming::default();
        let mut reach = 0;
        for (place, &from) in element.iter().enumerate() {
            reach = reach.max(place).max(from);
            let colour = if self.exchange { naming.name(colours[from]) } else { colours[from] };
            match colour.cmp(&colours[place]) {
                Ordering::Less => return Some(reach),
                Ordering::Equal => {}
                Ordering::Greater => return None,
            }
        }
        None
    }

    /// Whether these are the canonical colours: no earlier ones look the same on
    /// every ground.
    fn is_canonical(&self, colours: &[u8]) -> bool {
        let Some((first, others)) = self.grounds.split_first() else { return false };
        if others.is_empty() {
            return true;
        }
        let named = |colours: Vec<u8>| {
            let mut naming = Naming::default();
            if self.exchange { colours.into_iter().map(|c| naming.name(c)).collect() } else { colours }
        };
        let earlier: IndexSet<Vec<u8>> =
            first.equivalents(colours).map(named).filter(|other| other.as_slice() < colours).collect();
        let mut shared = earlier;
        for ground in others {
            if shared.is_empty() {
                break;
            }
            let there: IndexSet<Vec<u8>> = ground.equivalents(colours).map(named).collect();
            shared.retain(|other| there.contains(other));
        }
        shared.is_empty()
    }
}

/// Renames colours in the order in which they first appear.
#[derive(Default)]
struct Naming {
    names: [Option<u8>; MAX_COLOURS],
    next: u8,
}

impl Naming {
    fn name(&mut self, colour: u8) -> u8 {
        *self.names[colour as usize].get_or_insert_with(|| {
            self.next += 1;
            self.next - 1
        })
    }
}

impl Iterator for DistinctArrangements<'_> {
    type Item = Arrangement;

    fn next(&mut self) -> Option<Arrangement> {
        loop {
            let colours = self.next.take()?;
            let earlier = self.common.iter().find_map(|element| self.shown_earlier(&colours, element));
            self.next = self.after(&colours, earlier.unwrap_or(colours.len() - 1));
            if earlier.is_none() && self.is_canonical(&colours) {
                let threads = self.grounds.first().is_some_and(ArrangementSymmetry::is_of_threads);
                return Some(if threads {
                    Arrangement::of_threads(&colours)
                } else {
                    Arrangement::of_pairs(&colours)
                });
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ground::Ground;
    use crate::repeat::samples::{rose, torchon};

    #[test]
    fn every_arrangement_comes_once_and_none_is_missed() {
        for repeat in [torchon("CT pin CT", 0), rose("CTCT", "CT pin CT"), rose("CT", "CT pin CT")] {
            let ground = Ground::new(repeat).unwrap();
            for (symmetry, places) in
                [(ArrangementSymmetry::new(&ground, 8), 8), (ArrangementSymmetry::of_threads(&ground, 4), 8)]
            {
                let symmetry = [symmetry];
                let mut seen = IndexSet::new();
                for arrangement in DistinctArrangements::new(&symmetry, 2, false) {
                    let threads = arrangement.threads();
                    let colours: Vec<u8> = if symmetry[0].is_of_threads() {
                        threads
                    } else {
                        threads.into_iter().step_by(2).collect()
                    };
                    assert_eq!(colours.len(), places);
                    let equivalents: IndexSet<Vec<u8>> = symmetry[0].equivalents(&colours).collect();
                    for equivalent in equivalents {
                        assert!(seen.insert(equivalent), "{arrangement} looks like an earlier one");
                    }
                }
                assert_eq!(seen.len(), 256);
            }
        }
    }

    #[test]
    fn an_arrangement_that_differs_on_only_one_ground_is_kept() {
        let turn = |n: usize| (0..n).map(|k| (k + 1) % n).collect::<Vec<usize>>();
        let flip = |n: usize| (0..n).map(|k| n - 1 - k).collect::<Vec<usize>>();
        let turned = ArrangementSymmetry::generated(4, &[turn(4)]);
        let flipped = ArrangementSymmetry::generated(4, &[flip(4)]);
        let count = |grounds: &[ArrangementSymmetry], exchange| {
            DistinctArrangements::new(grounds, 2, exchange).count()
        };
        // Brute force over all pairs of arrangements.
        for exchange in [false, true] {
            let both = [turned.clone(), flipped.clone()];
            let all: Vec<Vec<u8>> = (0..16u8).map(|n| (0..4).map(|k| n >> k & 1).collect()).collect();
            let exchanged = |colours: &[u8]| colours.iter().map(|c| 1 - c).collect::<Vec<u8>>();
            let same = |g: &ArrangementSymmetry, a: &[u8], b: &[u8]| {
                g.equivalents(a).any(|x| x == b) || exchange && g.equivalents(a).any(|x| exchanged(&x) == b)
            };
            let mut kept: Vec<&Vec<u8>> = Vec::new();
            for colours in &all {
                if !kept.iter().any(|k| both.iter().all(|g| same(g, k, colours))) {
                    kept.push(colours);
                }
            }
            assert_eq!(count(&both, exchange), kept.len());
        }
        assert_eq!(count(&[turned], false), 6);
        assert_eq!(count(&[flipped], false), 10);
    }
}
