//! Which colour orders look the same on a ground, how many different ones
//! there are, and all of them one by one.
//!
//! The symmetries of a ground that bring its hanging threads back to places
//! where threads hang form a group; orders that it carries into each other look
//! the same. How many do not is counted by the lemma of Cauchy, Frobenius and
//! Burnside (W. Burnside, "Theory of Groups of Finite Order", 1897): the mean
//! number of orders that an element leaves as they are.

use std::cmp::Ordering;

use indexmap::IndexSet;

use crate::colour::arrangement::{Arrangement, MAX_COLOURS};
use crate::ground::Ground;

/// Most elements of a group of sameness that are looked at; a ground with
/// more merges fewer orders than it might.
const MOST_SYMMETRIES: usize = 4096;

/// The group of symmetries under which orders of hanging pairs, hung again and
/// again over the width, look the same on a ground.
///
/// Shifts down the cloth belong to it as far as a row of repeats brings pairs
/// back together: where pairs split, the order after a row is not an order of
/// pairs.
#[derive(Clone, Debug)]
pub struct ArrangementSymmetry {
    places: usize,
    /// Whether a place is a single thread rather than a pair.
    threads: bool,
    /// The new place of every place, the identity first.
    elements: Vec<Vec<usize>>,
    complete: bool,
}

impl ArrangementSymmetry {
    /// The group for an order of `pairs` pairs. Where that is no multiple of
    /// the ground's pairs per repeat, order and repeat come together again
    /// after [`Ground::pairs_until_both_repeat`] pairs.
    pub fn new(ground: &Ground, pairs: usize) -> ArrangementSymmetry {
        let (group, complete) = slot_group(ground, pairs);
        let of_pairs: Vec<Vec<usize>> = group
            .into_iter()
            .filter(|g| g.chunks(2).all(|pair| pair[0] / 2 == pair[1] / 2))
            .map(|g| g.chunks(2).map(|pair| pair[0] / 2).collect())
            .collect();
        ArrangementSymmetry { places: pairs, threads: false, elements: folded(of_pairs, pairs), complete }
    }

    /// The same for orders of single threads, two to each of `pairs` pairs.
    pub fn of_threads(ground: &Ground, pairs: usize) -> ArrangementSymmetry {
        let (group, complete) = slot_group(ground, pairs);
        ArrangementSymmetry { places: 2 * pairs, threads: true, elements: folded(group, 2 * pairs), complete }
    }

    /// The group that some rearrangements of places generate: the new place of
    /// every place.
    pub fn generated(places: usize, generators: &[Vec<usize>]) -> ArrangementSymmetry {
        let (group, complete) = closure(places, generators);
        ArrangementSymmetry { places, threads: false, elements: group, complete }
    }

    /// How many places for a colour there are.
    pub fn places(&self) -> usize {
        self.places
    }

    /// The symmetries: the new place of every place, the identity first.
    pub fn elements(&self) -> &[Vec<usize>] {
        &self.elements
    }

    /// Whether all symmetries are there; grounds with thousands are cut short.
    pub fn is_complete(&self) -> bool {
        self.complete
    }

    /// All orders that look the same as `order`, itself among them.
    pub fn alike<'a>(&'a self, order: &'a [u8]) -> impl Iterator<Item = Vec<u8>> + 'a {
        // With every element its inverse is there too.
        self.elements.iter().map(move |g| g.iter().map(|&place| order[place]).collect())
    }

    /// How many orders in up to `colours` colours look different; with
    /// `exchange`, orders that differ only in which colour is which count
    /// once. `None` when not all symmetries are known or the number is too
    /// large to count (beyond about 10^38).
    pub fn count(&self, colours: usize, exchange: bool) -> Option<u128> {
        if !self.complete {
            return None;
        }
        let kinds = if exchange { kinds_of_exchange(colours)? } else { vec![(vec![1; colours], 1)] };
        let exchanges = kinds.iter().map(|(_, many)| many).sum::<u128>();
        let mut sum = 0u128;
        for element in &self.elements {
            let cycles = cycles(element);
            for (kind, many) in &kinds {
                // A cycle of places may have any colour that comes back to
                // itself when exchanged as often as the cycle is long.
                let fixed = cycles.iter().try_fold(*many, |product, &long| {
                    let free: usize = kind.iter().filter(|&&part| long.is_multiple_of(part)).sum();
                    product.checked_mul(free as u128)
                })?;
                sum = sum.checked_add(fixed)?;
            }
        }
        Some(sum / exchanges.checked_mul(self.elements.len() as u128)?)
    }
}

/// All rearrangements of the slots of `pairs` pairs, hung until ground and
/// order both begin again.
fn slot_group(ground: &Ground, pairs: usize) -> (Vec<Vec<usize>>, bool) {
    let slots = 2 * ground.pairs_until_both_repeat(pairs) as i64;
    let generators: Vec<Vec<usize>> = ground
        .slot_symmetries()
        .iter()
        .map(|map| (0..slots).map(|s| map.apply(s).rem_euclid(slots) as usize).collect())
        .collect();
    closure(slots as usize, &generators)
}

/// The group that rearrangements generate, and whether that is all of it.
fn closure(places: usize, generators: &[Vec<usize>]) -> (Vec<Vec<usize>>, bool) {
    let mut group: IndexSet<Vec<usize>> = IndexSet::new();
    group.insert((0..places).collect());
    let mut next = 0;
    while next < group.len() && group.len() <= MOST_SYMMETRIES {
        for generator in generators {
            let element: Vec<usize> = group[next].iter().map(|&s| generator[s]).collect();
            group.insert(element);
        }
        next += 1;
    }
    let complete = next == group.len();
    (group.into_iter().collect(), complete)
}

/// The rearrangements that bring an order of `places` places, hung again and
/// again, back as such an order.
fn folded(group: Vec<Vec<usize>>, places: usize) -> Vec<Vec<usize>> {
    let elements: IndexSet<Vec<usize>> = group
        .into_iter()
        .map(|g| g.into_iter().map(|place| place % places).collect::<Vec<usize>>())
        .filter(|g| g.iter().enumerate().all(|(place, &image)| image == g[place % places]))
        .map(|g| g[..places].to_vec())
        .collect();
    elements.into_iter().collect()
}

/// The lengths of the cycles of a rearrangement.
fn cycles(element: &[usize]) -> Vec<usize> {
    let mut seen = vec![false; element.len()];
    let mut lengths = Vec::new();
    for start in 0..element.len() {
        let (mut at, mut long) = (start, 0);
        while !seen[at] {
            seen[at] = true;
            long += 1;
            at = element[at];
        }
        if long > 0 {
            lengths.push(long);
        }
    }
    lengths
}

/// The ways to exchange `colours` colours by the lengths of their cycles, with
/// how many ways have these lengths.
fn kinds_of_exchange(colours: usize) -> Option<Vec<(Vec<usize>, u128)>> {
    fn partitions(left: usize, most: usize, parts: &mut Vec<usize>, all: &mut Vec<Vec<usize>>) {
        if left == 0 {
            all.push(parts.clone());
        }
        for part in (1..=left.min(most)).rev() {
            parts.push(part);
            partitions(left - part, part, parts, all);
            parts.pop();
        }
    }
    let mut all = Vec::new();
    partitions(colours, colours, &mut Vec::new(), &mut all);
    let factorial = |n: usize| (1..=n as u128).try_fold(1u128, u128::checked_mul);
    all.into_iter()
        .map(|parts| {
            let mut same = 1u128;
            for run in parts.chunk_by(|a, b| a == b) {
                same = same.checked_mul(factorial(run.len())?)?;
                same = run.iter().try_fold(same, |product, &part| product.checked_mul(part as u128))?;
            }
            Some((parts, factorial(colours)? / same))
        })
        .collect()
}

impl Ground {
    /// After how many pairs an order of `pairs` pairs and the repeat of the
    /// ground both begin again: their least common multiple.
    pub fn pairs_until_both_repeat(&self, pairs: usize) -> usize {
        let own = self.hanging().pairs().len();
        let (mut a, mut b) = (own, pairs.max(1));
        while b > 0 {
            (a, b) = (b, a % b);
        }
        own / a * pairs.max(1)
    }
}

/// Every order of pairs (or threads) in up to a number of colours, one for
/// each look.
///
/// Orders come in the order of the alphabet, one at a time; of all orders that
/// look the same on every one of the grounds only the first is given. With one
/// ground these are the orbits of its group. Whole stretches of orders that
/// begin alike are passed over at once when their beginning shows that each of
/// them looks like an earlier one.
#[derive(Clone, Debug)]
pub struct DistinctArrangements<'a> {
    grounds: &'a [ArrangementSymmetry],
    /// Symmetries that all grounds have.
    common: Vec<Vec<usize>>,
    colours: u8,
    exchange: bool,
    next: Option<Vec<u8>>,
}

impl<'a> DistinctArrangements<'a> {
    /// Enumerates for grounds that all have the same number of places.
    ///
    /// `colours` from 1 to 26. With `exchange`, orders that differ only in
    /// which colour is which count as one.
    pub fn new(
        grounds: &'a [ArrangementSymmetry],
        colours: usize,
        exchange: bool,
    ) -> DistinctArrangements<'a> {
        let sets: Vec<IndexSet<&Vec<usize>>> =
            grounds.iter().skip(1).map(|g| g.elements.iter().collect()).collect();
        let first = grounds.first().map_or(&[][..], |g| &g.elements);
        DistinctArrangements {
            grounds,
            common: first.iter().filter(|e| sets.iter().all(|s| s.contains(e))).cloned().collect(),
            colours: colours.clamp(1, MAX_COLOURS) as u8,
            exchange,
            next: grounds.first().map(|g| vec![0; g.places]),
        }
    }

    /// The order after `order` that differs from it at `place` or before.
    fn after(&self, order: &[u8], place: usize) -> Option<Vec<u8>> {
        let most = |place: usize| {
            let used = order[..place].iter().max().map_or(0, |&c| c + 1);
            if self.exchange { (self.colours - 1).min(used) } else { self.colours - 1 }
        };
        let place = (0..=place).rev().find(|&k| order[k] < most(k))?;
        let mut after = order.to_vec();
        after[place] += 1;
        after[place + 1..].fill(0);
        Some(after)
    }

    /// Compares an order carried by an element with the order itself, and says
    /// how many places from the beginning decide that.
    fn compare(&self, order: &[u8], element: &[usize]) -> (Ordering, usize) {
        let mut naming = Naming::default();
        let mut reach = 0;
        for (place, &from) in element.iter().enumerate() {
            reach = reach.max(place).max(from);
            let colour = if self.exchange { naming.name(order[from]) } else { order[from] };
            match colour.cmp(&order[place]) {
                Ordering::Equal => {}
                other => return (other, reach),
            }
        }
        (Ordering::Equal, reach)
    }

    /// Whether no earlier order looks the same on every ground.
    fn is_first(&self, order: &[u8]) -> bool {
        let Some((first, others)) = self.grounds.split_first() else { return false };
        if others.is_empty() {
            return true;
        }
        let named = |order: Vec<u8>| {
            let mut naming = Naming::default();
            if self.exchange { order.into_iter().map(|c| naming.name(c)).collect() } else { order }
        };
        let earlier: IndexSet<Vec<u8>> =
            first.alike(order).map(named).filter(|alike| alike.as_slice() < order).collect();
        earlier.iter().all(|e| !others.iter().all(|g| g.alike(order).map(named).any(|alike| alike == *e)))
    }
}

/// New names for colours in the order in which they are met.
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
            let order = self.next.take()?;
            let earlier = self.common.iter().find_map(|element| match self.compare(&order, element) {
                (Ordering::Less, reach) => Some(reach),
                _ => None,
            });
            self.next = self.after(&order, earlier.unwrap_or(order.len() - 1));
            if earlier.is_none() && self.is_first(&order) {
                let threads = self.grounds.first().is_some_and(|g| g.threads);
                return Some(if threads {
                    Arrangement::of_threads(&order)
                } else {
                    Arrangement::of_pairs(&order)
                });
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::repeat::samples::{rose, torchon};

    #[test]
    fn every_look_comes_once_and_no_look_is_missed() {
        for repeat in [torchon("CT pin CT", 0), rose("CTCT", "CT pin CT"), rose("CT", "CT pin CT")] {
            let ground = Ground::new(repeat).unwrap();
            for (sameness, places) in
                [(ArrangementSymmetry::new(&ground, 8), 8), (ArrangementSymmetry::of_threads(&ground, 4), 8)]
            {
                let sameness = [sameness];
                let mut seen = IndexSet::new();
                for order in DistinctArrangements::new(&sameness, 2, false) {
                    let threads = order.threads();
                    let colours: Vec<u8> =
                        if sameness[0].threads { threads } else { threads.into_iter().step_by(2).collect() };
                    assert_eq!(colours.len(), places);
                    let alike: IndexSet<Vec<u8>> = sameness[0].alike(&colours).collect();
                    for look in alike {
                        assert!(seen.insert(look), "{order} looks like an earlier one");
                    }
                }
                assert_eq!(seen.len(), 256);
            }
        }
    }

    #[test]
    fn of_several_grounds_an_order_is_kept_that_differs_on_one() {
        let turn = |n: usize| (0..n).map(|k| (k + 1) % n).collect::<Vec<usize>>();
        let flip = |n: usize| (0..n).map(|k| n - 1 - k).collect::<Vec<usize>>();
        let turned = ArrangementSymmetry::generated(4, &[turn(4)]);
        let flipped = ArrangementSymmetry::generated(4, &[flip(4)]);
        let count = |grounds: &[ArrangementSymmetry], exchange| {
            DistinctArrangements::new(grounds, 2, exchange).count()
        };
        // Brute force over all pairs of orders.
        for exchange in [false, true] {
            let both = [turned.clone(), flipped.clone()];
            let all: Vec<Vec<u8>> = (0..16u8).map(|n| (0..4).map(|k| n >> k & 1).collect()).collect();
            let other = |o: &[u8]| o.iter().map(|c| 1 - c).collect::<Vec<u8>>();
            let same = |g: &ArrangementSymmetry, a: &[u8], b: &[u8]| {
                g.alike(a).any(|x| x == b) || exchange && g.alike(a).any(|x| other(&x) == b)
            };
            let mut kept: Vec<&Vec<u8>> = Vec::new();
            for order in &all {
                if !kept.iter().any(|k| both.iter().all(|g| same(g, k, order))) {
                    kept.push(order);
                }
            }
            assert_eq!(count(&both, exchange), kept.len());
        }
        assert_eq!(count(&[turned], false), 6);
        assert_eq!(count(&[flipped], false), 10);
    }

    #[test]
    fn counting_gives_up_rather_than_being_wrong() {
        let long = ArrangementSymmetry::generated(400, &[]);
        assert_eq!(long.count(2, false), None);
        assert_eq!(ArrangementSymmetry::generated(100, &[]).count(2, false), Some(1 << 100));
    }
}
