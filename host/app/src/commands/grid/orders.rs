//! Which colour orders are shown, and how many more there are.

use catalogue::Chosen;
use indexmap::IndexMap;
use indexmap::IndexSet;
use lace::{Arrangement, ArrangementName, ArrangementNameError, ArrangementSymmetry, DistinctArrangements};

use crate::cli::Colouring;
use crate::colours::Palette;
use crate::failure::Failure;
use crate::output::note;

/// The colour orders to show, and how many others there would be.
pub struct Orders {
    /// Shown, in the order of the alphabet or as the user gave them.
    pub shown: Vec<Arrangement>,
    /// How many look different, at least.
    pub at_least: u128,
    /// How many look different, at most; `None` when they are too many to be
    /// counted.
    pub at_most: Option<u128>,
    /// Pairs in each order, when these were not given one by one.
    pub pairs: usize,
    /// Whether only orders of some names are meant.
    named: bool,
}

/// Orders looked at, one by one, when counting those left out for several
/// grounds, and when looking for those of a name.
const MOST_COUNTED: u128 = 100_000;
const MOST_WALKED: usize = 200_000;

impl Orders {
    /// What the user asked for: given orders, or all that look different on at
    /// least one of the grounds.
    pub fn new(colouring: &Colouring, palette: &Palette, chosen: &[&Chosen]) -> Result<Orders, Failure> {
        if !colouring.arrangement.is_empty() {
            let shown: Vec<Arrangement> =
                colouring.arrangement.iter().map(|text| palette.order(text)).collect::<Result<_, _>>()?;
            let count = shown.len() as u128;
            let pairs = shown.iter().map(|o| o.pairs().len()).max().unwrap_or(1);
            return Ok(Orders { shown, at_least: count, at_most: Some(count), pairs, named: false });
        }
        let names = colouring
            .named
            .iter()
            .map(|name| {
                name.parse::<ArrangementName>().map_err(|wrong: ArrangementNameError| Failure::Value {
                    what: wrong.to_string(),
                    help: "for example --named 2-and-2; --arrangement \"A A B B\" shows one order".to_owned(),
                })
            })
            .collect::<Result<Vec<_>, _>>()?;
        let pairs = whole_repeats(usize::from(colouring.pairs), chosen);
        let same = |c: &&Chosen| {
            if colouring.single_threads {
                ArrangementSymmetry::of_threads(&c.ground, pairs)
            } else {
                ArrangementSymmetry::new(&c.ground, pairs)
            }
        };
        let looks = Looks {
            grounds: each_once(chosen.iter().map(same)),
            colours: palette.colours().len(),
            exchange: colouring.exchange,
            threads: colouring.single_threads,
            pairs,
        };
        let max = colouring.max as usize;
        let (shown, at_least, at_most) = if names.is_empty() {
            looks.all(max)
        } else {
            let (mut of_names, every) = looks.named(&names);
            let count = of_names.len() as u128;
            if of_names.is_empty() {
                return Err(nothing_named(&colouring.named, pairs, looks.colours, every));
            }
            of_names.truncate(max);
            (of_names, count, every.then_some(count))
        };
        Ok(Orders { shown, at_least, at_most, pairs, named: !names.is_empty() })
    }

    /// How many were left out, at least.
    pub fn left_out(&self) -> u128 {
        self.at_least.saturating_sub(self.shown.len() as u128)
    }

    /// A notice for the user, if something was left out.
    pub fn notice(&self) -> Option<String> {
        let shown = self.shown.len() as u128;
        if self.at_most == Some(shown) {
            return None;
        }
        let what = if self.named { "orders of these names" } else { "orders that look different" };
        let of = match self.at_most {
            Some(most) if most == self.at_least => with_commas(most),
            Some(most) => format!("between {} and {}", with_commas(self.at_least), with_commas(most)),
            None => format!("at least {}", with_commas(self.at_least)),
        };
        Some(format!("{} of {of} {what} are shown; raise --max to see more", with_commas(shown)))
    }
}

/// Grounds with the same symmetries, of which one says all, taken once.
fn each_once(all: impl Iterator<Item = ArrangementSymmetry>) -> Vec<ArrangementSymmetry> {
    let mut once: IndexMap<Vec<Vec<usize>>, ArrangementSymmetry> = IndexMap::new();
    for sameness in all {
        let mut elements = sameness.elements().to_vec();
        elements.sort_unstable();
        once.entry(elements).or_insert(sameness);
    }
    once.into_values().collect()
}

fn nothing_named(names: &[String], pairs: usize, colours: usize, every: bool) -> Failure {
    let among = if every { "" } else { " among those that could be looked at" };
    Failure::Value {
        what: format!(
            "no order of {pairs} pairs in {colours} {} is {}{among}",
            if colours == 1 { "colour" } else { "colours" },
            names.join(" or ")
        ),
        help: "an order comes again and again: one-in-4 needs --pairs 4, 8 or another multiple of 4; more colours are given with --colours".to_owned(),
    }
}

/// A whole number as it is read: `2,420`.
pub fn with_commas(number: u128) -> String {
    let digits = number.to_string();
    let mut text = String::new();
    for (k, digit) in digits.chars().enumerate() {
        if k > 0 && (digits.len() - k).is_multiple_of(3) {
            text.push(',');
        }
        text.push(digit);
    }
    text
}

/// The number of pairs, rounded up to whole repeats when all grounds have the
/// same number of pairs in a repeat. Says what it did, and which grounds come
/// together with the order only later.
fn whole_repeats(pairs: usize, chosen: &[&Chosen]) -> usize {
    let own = |c: &Chosen| c.ground.hanging().pairs().len();
    let Some((first, others)) = chosen.split_first() else { return pairs };
    if others.iter().all(|c| own(c) == own(first)) {
        let whole = pairs.next_multiple_of(own(first));
        if whole != pairs {
            let whose = match others {
                [] => format!("the repeat of {} has", first.title()),
                _ => "the repeats of these grounds have".to_owned(),
            };
            note(&format!(
                "{whose} {} pairs: {pairs} {} rounded up to {whole}",
                own(first),
                if pairs == 1 { "pair is" } else { "pairs are" }
            ));
        }
        return whole;
    }
    // Grounds by the number of pairs after which they come together.
    let mut later: IndexMap<usize, Vec<&str>> = IndexMap::new();
    for c in chosen.iter().filter(|c| !pairs.is_multiple_of(own(c))) {
        later.entry(c.ground.pairs_until_both_repeat(pairs)).or_default().push(c.title());
    }
    later.sort_unstable_keys();
    let told: Vec<String> = later
        .into_iter()
        .map(|(after, mut titles)| {
            titles.dedup();
            const NAMED: usize = 3;
            let more = titles.len().saturating_sub(NAMED);
            titles.truncate(NAMED);
            let mut who = titles.join("; ");
            if more > 0 {
                who.push_str(&format!("; {more} more"));
            }
            format!("after {after} pairs ({who})")
        })
        .collect();
    if !told.is_empty() {
        note(&format!(
            "an order of {pairs} {} and the repeat begin again together only later {}",
            if pairs == 1 { "pair" } else { "pairs" },
            told.join(", ")
        ));
    }
    pairs
}

/// What looks different on some grounds.
struct Looks {
    grounds: Vec<ArrangementSymmetry>,
    colours: usize,
    exchange: bool,
    threads: bool,
    pairs: usize,
}

impl Looks {
    /// The first orders that look different, and how many there are at least
    /// and at most.
    fn all(&self, max: usize) -> (Vec<Arrangement>, u128, Option<u128>) {
        let mut rest = DistinctArrangements::new(&self.grounds, self.colours, self.exchange);
        let shown: Vec<Arrangement> = rest.by_ref().take(max).collect();
        let count = shown.len() as u128;
        if shown.len() < max {
            return (shown, count, Some(count));
        }
        if let [one] = &self.grounds[..]
            && let Some(all) = one.count(self.colours, self.exchange)
        {
            return (shown, all, Some(all));
        }
        let places = self.grounds.first().map_or(1, ArrangementSymmetry::places) as u32;
        let possible = (self.colours as u128).checked_pow(places);
        if possible.is_some_and(|n| n <= MOST_COUNTED) {
            let all = count + rest.count() as u128;
            return (shown, all, Some(all));
        }
        // On one ground alone so many look different: at least so many on all.
        let counts = self.grounds.iter().filter_map(|g| g.count(self.colours, self.exchange));
        let at_least = counts.max().unwrap_or(0).max(count);
        // What looks the same by a symmetry of every ground is shown once.
        (shown, at_least, self.common().and_then(|g| g.count(self.colours, self.exchange)))
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

    /// All orders with one of the names, the first of each look, and whether
    /// these are all there are.
    fn named(&self, names: &[ArrangementName]) -> (Vec<Arrangement>, bool) {
        let mut found: IndexMap<Vec<u8>, Arrangement> = IndexMap::new();
        let mut keep = |order: Arrangement| {
            if order.name().is_some_and(|name| names.contains(&name)) {
                let look = self.look(&order);
                let kept = found.entry(look).or_insert_with(|| order.clone());
                if order < *kept {
                    *kept = order;
                }
            }
        };
        for name in names {
            self.blocks(*name).into_iter().for_each(&mut keep);
        }
        let mut every = true;
        if names.iter().any(|n| matches!(n, ArrangementName::Graded | ArrangementName::Symmetrical)) {
            let mut walk = DistinctArrangements::new(&self.grounds, self.colours, self.exchange);
            for order in walk.by_ref().take(MOST_WALKED) {
                // Another order of the same look may have the name.
                for alike in self.alike(&self.places(&order)) {
                    keep(self.order(&alike));
                }
            }
            every = walk.next().is_none();
        }
        let mut orders: Vec<Arrangement> = found.into_values().collect();
        orders.sort();
        (orders, every)
    }

    /// All orders that are one block of a named order again and again, begun at
    /// any of its pairs.
    fn blocks(&self, name: ArrangementName) -> Vec<Arrangement> {
        let colours = self.colours as u8;
        let ordered = |n: usize| -> Vec<Vec<u8>> {
            // Every way to take n different colours, one after the other.
            let mut ways: Vec<Vec<u8>> = vec![Vec::new()];
            for _ in 0..n {
                ways = ways
                    .iter()
                    .flat_map(|way| {
                        (0..colours)
                            .filter(|c| !way.contains(c))
                            .map(|c| way.iter().copied().chain([c]).collect::<Vec<u8>>())
                    })
                    .take(MOST_WALKED)
                    .collect();
            }
            ways
        };
        let of = |ways: Vec<Vec<u8>>, lengths: &dyn Fn(usize) -> usize| -> Vec<Vec<u8>> {
            ways.iter()
                .map(|way| {
                    way.iter().enumerate().flat_map(|(k, &c)| std::iter::repeat_n(c, lengths(k))).collect()
                })
                .collect()
        };
        let blocks: Vec<Vec<u8>> = match name {
            ArrangementName::OneColour => of(ordered(1), &|_| 1),
            ArrangementName::OneIn(n) => of(ordered(2), &|k| if k == 0 { n.saturating_sub(1) } else { 1 }),
            ArrangementName::InTurn(n) => (2..=self.colours.min(self.pairs / n.max(1)))
                .flat_map(|many| of(ordered(many), &|_| n))
                .collect(),
            ArrangementName::HalfAndHalf => {
                (4..=self.pairs / 2).flat_map(|half| of(ordered(2), &|_| half)).collect()
            }
            ArrangementName::Graded | ArrangementName::Symmetrical => Vec::new(),
        };
        blocks
            .into_iter()
            .filter(|block| !block.is_empty() && self.pairs.is_multiple_of(block.len()))
            .flat_map(|block| {
                (0..block.len()).map(move |turn| {
                    let mut turned = block.clone();
                    turned.rotate_left(turn);
                    turned
                })
            })
            .map(|block| Arrangement::of_pairs(&block).extended(self.pairs))
            .collect()
    }

    fn places(&self, order: &Arrangement) -> Vec<u8> {
        let threads = order.threads();
        if self.threads { threads } else { threads.into_iter().step_by(2).collect() }
    }

    fn order(&self, places: &[u8]) -> Arrangement {
        if self.threads { Arrangement::of_threads(places) } else { Arrangement::of_pairs(places) }
    }

    /// With colours named in the order in which they are met, if it does not
    /// matter which is which.
    fn renamed(&self, places: Vec<u8>) -> Vec<u8> {
        if !self.exchange {
            return places;
        }
        let mut met: IndexSet<u8> = IndexSet::new();
        places.into_iter().map(|c| met.insert_full(c).0 as u8).collect()
    }

    /// The orders that look the same on every ground.
    fn alike(&self, places: &[u8]) -> IndexSet<Vec<u8>> {
        let Some((first, others)) = self.grounds.split_first() else { return IndexSet::new() };
        let mut alike: IndexSet<Vec<u8>> = first.equivalents(places).map(|a| self.renamed(a)).collect();
        for ground in others {
            let there: IndexSet<Vec<u8>> = ground.equivalents(places).map(|a| self.renamed(a)).collect();
            alike.retain(|a| there.contains(a));
        }
        alike
    }

    /// The first of the orders that look the same on every ground.
    fn look(&self, order: &Arrangement) -> Vec<u8> {
        let places = self.places(order);
        self.alike(&places).into_iter().min().unwrap_or(places)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use lace::Ground;
    use lace::samples::{rose, torchon};

    fn looks(colours: usize, pairs: usize, exchange: bool) -> Looks {
        let grounds = [torchon("CT pin CT", 0), rose("CTCT", "CT pin CT")]
            .map(|r| ArrangementSymmetry::new(&Ground::new(r).unwrap(), pairs))
            .to_vec();
        Looks { grounds, colours, exchange, threads: false, pairs }
    }

    #[test]
    fn orders_of_a_name_are_those_that_a_walk_through_all_finds() {
        for exchange in [false, true] {
            let looks = looks(3, 8, exchange);
            for name in
                ["one-colour", "one-in-4", "2-and-2", "half-and-half", "1-and-1", "symmetrical", "graded"]
            {
                let name: ArrangementName = name.parse().unwrap();
                let (found, every) = looks.named(&[name]);
                assert!(every);
                let mut walked: IndexSet<Vec<u8>> = IndexSet::new();
                for n in 0..3u32.pow(8) {
                    let places: Vec<u8> = (0..8).map(|k| (n / 3u32.pow(k) % 3) as u8).collect();
                    let order = Arrangement::of_pairs(&places);
                    if order.name() == Some(name) {
                        walked.insert(looks.look(&order));
                    }
                }
                assert_eq!(found.len(), walked.len(), "{name}, {exchange}");
                assert!(found.iter().all(|o| o.name() == Some(name)));
            }
        }
    }

    #[test]
    fn bounds_for_several_grounds_hold_what_is_counted_one_by_one() {
        let looks = looks(2, 12, false);
        let counted = DistinctArrangements::new(&looks.grounds, 2, false).count() as u128;
        let at_least = looks.grounds.iter().filter_map(|g| g.count(2, false)).max().unwrap();
        let at_most = looks.common().unwrap().count(2, false).unwrap();
        assert!(at_least <= counted && counted <= at_most, "{at_least} <= {counted} <= {at_most}");
        assert_eq!(looks.all(16).1, counted);
    }

    #[test]
    fn numbers_are_read_in_threes() {
        for (number, text) in [(7, "7"), (420, "420"), (2420, "2,420"), (1_234_567, "1,234,567")] {
            assert_eq!(with_commas(number), text);
        }
    }
}
