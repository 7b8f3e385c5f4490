//! Colour arrangements: in what colours the pairs hang, side by side, and which
//! orders look the same on a given ground.

use std::fmt;
use std::str::FromStr;

use indexmap::IndexSet;
use thiserror::Error;

use crate::ground::Ground;

/// Most pairs in an arrangement.
pub const MAX_PAIRS: usize = 512;
/// Most colours: one for each letter.
pub const MAX_COLOURS: usize = 26;

/// The colours of hanging pairs, left to right, repeated over the width.
///
/// Colours are numbers into a palette: 0 is `A`, 1 is `B`. A pair holds two
/// threads, which after an open start may differ: `A/B` hangs A on the left.
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Arrangement {
    pairs: Vec<[u8; 2]>,
}

/// Why a text is no arrangement. `at` counts characters from 0.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum ArrangementError {
    /// Nothing there.
    #[error("an arrangement needs at least one pair: write letters, for example `A A B B`")]
    Empty,
    /// Something that is neither a letter A to Z, nor a number before one, nor `/` between two.
    #[error("`{found}` at character {} of `{text}` is not a colour letter: write A to Z, a number before a letter to repeat it (`4A`), `A/B` for a pair of two colours", at + 1)]
    NotALetter {
        /// The whole text.
        text: String,
        /// What stands there.
        found: String,
        /// Where, in characters from 0.
        at: usize,
    },
    /// More than [`MAX_PAIRS`] pairs.
    #[error("an arrangement holds {MAX_PAIRS} pairs at most")]
    TooLong,
}

impl Arrangement {
    /// One colour for each pair.
    pub fn of_pairs(colours: &[u8]) -> Arrangement {
        Arrangement { pairs: colours.iter().map(|&c| [c, c]).collect() }
    }

    /// The colours of left and right thread of each pair.
    pub fn pairs(&self) -> &[[u8; 2]] {
        &self.pairs
    }

    /// The colour of the thread in each slot, `2 * pairs` of them.
    pub fn threads(&self) -> Vec<u8> {
        self.pairs.iter().flatten().copied().collect()
    }

    /// How many colours a palette must hold: one more than the last letter used.
    pub fn colours(&self) -> usize {
        self.pairs.iter().flatten().max().map_or(0, |&c| c as usize + 1)
    }

    /// The same order hung again until it fills `pairs` pairs.
    pub fn extended(&self, pairs: usize) -> Arrangement {
        Arrangement { pairs: self.pairs.iter().cycle().take(pairs).copied().collect() }
    }
}

/// The letter of a colour.
pub fn letter(colour: u8) -> char {
    char::from(b'A' + colour)
}

impl FromStr for Arrangement {
    type Err = ArrangementError;

    fn from_str(text: &str) -> Result<Arrangement, ArrangementError> {
        let letters: Vec<char> = text.chars().collect();
        let wrong = |at: usize| ArrangementError::NotALetter {
            text: text.to_owned(),
            found: letters.get(at).map_or_else(|| "the end".to_owned(), |c| c.escape_debug().to_string()),
            at,
        };
        let colour = |at: usize| match letters.get(at) {
            Some(c) if c.is_ascii_uppercase() => Ok(*c as u8 - b'A'),
            _ => Err(wrong(at)),
        };
        let mut pairs = Vec::new();
        let mut at = 0;
        while at < letters.len() {
            if letters[at].is_whitespace() {
                at += 1;
                continue;
            }
            let mut times = 0usize;
            let start = at;
            while let Some(digit) = letters.get(at).and_then(|c| c.to_digit(10)) {
                times = (times * 10 + digit as usize).min(MAX_PAIRS + 1);
                at += 1;
            }
            if at > start && times == 0 {
                return Err(wrong(start));
            }
            let left = colour(at)?;
            let mut pair = [left, left];
            at += 1;
            if letters.get(at) == Some(&'/') {
                pair[1] = colour(at + 1)?;
                at += 2;
            }
            let times = if at > start && letters[start].is_ascii_digit() { times } else { 1 };
            if pairs.len() + times > MAX_PAIRS {
                return Err(ArrangementError::TooLong);
            }
            pairs.extend(std::iter::repeat_n(pair, times));
        }
        if pairs.is_empty() {
            return Err(ArrangementError::Empty);
        }
        Ok(Arrangement { pairs })
    }
}

impl fmt::Display for Arrangement {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (k, [left, right]) in self.pairs.iter().enumerate() {
            if k > 0 {
                f.write_str(" ")?;
            }
            write!(f, "{}", letter(*left))?;
            if left != right {
                write!(f, "/{}", letter(*right))?;
            }
        }
        Ok(())
    }
}

/// Most elements of a group of sameness that are looked at; a ground with
/// more merges fewer orders than it might.
const MOST_SYMMETRIES: usize = 4096;

/// Which orders of `pairs` hanging pairs, hung again and again over the width,
/// look the same on a ground: the group of its symmetries that bring pairs back
/// as pairs and the order back as an order of as many pairs, each as the new
/// place of every pair.
///
/// Shifts down the cloth belong to it as far as a row of repeats brings pairs
/// back together: where pairs split, the order after a row is not an order of
/// pairs.
#[derive(Clone, Debug)]
pub struct Sameness {
    pairs: usize,
    elements: Vec<Vec<usize>>,
    complete: bool,
}

impl Sameness {
    /// The group for an order of `pairs` pairs. Where that is no multiple of
    /// the ground's pairs per repeat, order and repeat come together again
    /// after [`Ground::pairs_until_both_repeat`] pairs.
    pub fn new(ground: &Ground, pairs: usize) -> Sameness {
        let slots = 2 * ground.pairs_until_both_repeat(pairs) as i64;
        let generators: Vec<Vec<usize>> = ground
            .slot_symmetries()
            .iter()
            .map(|map| (0..slots).map(|s| map.apply(s).rem_euclid(slots) as usize).collect())
            .collect();
        let mut group: IndexSet<Vec<usize>> = IndexSet::new();
        group.insert((0..slots as usize).collect());
        let mut next = 0;
        while next < group.len() && group.len() <= MOST_SYMMETRIES {
            for generator in &generators {
                let element: Vec<usize> = group[next].iter().map(|&s| generator[s]).collect();
                group.insert(element);
            }
            next += 1;
        }
        let complete = next == group.len();
        let elements: IndexSet<Vec<usize>> = group
            .iter()
            .filter(|g| g.chunks(2).all(|pair| pair[0] / 2 == pair[1] / 2))
            .map(|g| g.chunks(2).map(|pair| pair[0] / 2 % pairs).collect::<Vec<usize>>())
            .filter(|g| g.iter().enumerate().all(|(pair, &place)| place == g[pair % pairs]))
            .map(|g| g[..pairs].to_vec())
            .collect();
        Sameness { pairs, elements: elements.into_iter().collect(), complete }
    }

    /// How many pairs hang.
    pub fn pairs(&self) -> usize {
        self.pairs
    }

    /// The symmetries: the new place of every pair, the identity first.
    pub fn elements(&self) -> &[Vec<usize>] {
        &self.elements
    }

    /// Whether all symmetries are there; grounds with thousands are cut short.
    pub fn is_complete(&self) -> bool {
        self.complete
    }

    /// All orders that look the same as `order`, itself among them.
    pub fn alike<'a>(&'a self, order: &'a [u8]) -> impl Iterator<Item = Vec<u8>> + 'a {
        self.elements.iter().map(move |g| {
            let mut moved = vec![0; order.len()];
            for (pair, &place) in g.iter().enumerate() {
                moved[place] = order[pair];
            }
            moved
        })
    }
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

/// Every order of pairs in up to `colours` colours, one for each look.
///
/// Orders come in the order of the alphabet, one at a time; of all orders that
/// look the same on every one of the grounds only the first is given. With one
/// ground these are the orbits of its group.
#[derive(Clone, Debug)]
pub struct Arrangements<'a> {
    grounds: &'a [Sameness],
    colours: u8,
    next: Option<Vec<u8>>,
}

impl<'a> Arrangements<'a> {
    /// Enumerates for grounds that all have the same number of pairs.
    ///
    /// `colours` from 1 to 26.
    pub fn new(grounds: &'a [Sameness], colours: usize) -> Arrangements<'a> {
        let colours = colours.clamp(1, MAX_COLOURS) as u8;
        let next = grounds.first().map(|g| vec![0; g.pairs]);
        Arrangements { grounds, colours, next }
    }

    fn is_first(&self, order: &[u8]) -> bool {
        let Some((first, others)) = self.grounds.split_first() else { return false };
        let earlier: IndexSet<Vec<u8>> =
            first.alike(order).filter(|alike| alike.as_slice() < order).collect();
        earlier.iter().all(|e| !others.iter().all(|ground| ground.alike(order).any(|alike| alike == *e)))
    }
}

impl Iterator for Arrangements<'_> {
    type Item = Arrangement;

    fn next(&mut self) -> Option<Arrangement> {
        loop {
            let order = self.next.take()?;
            let mut after = order.clone();
            if let Some(place) = after.iter().rposition(|&c| c + 1 < self.colours) {
                after[place] += 1;
                after[place + 1..].fill(0);
                self.next = Some(after);
            }
            if self.is_first(&order) {
                return Some(Arrangement::of_pairs(&order));
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::samples::{rose, torchon};

    #[test]
    fn orders_print_as_they_were_written() {
        for (text, printed) in
            [("A A B B", "A A B B"), ("4A 2B", "A A A A B B"), ("2A/B C", "A/B A/B C"), ("AABB", "A A B B")]
        {
            let order: Arrangement = text.parse().unwrap();
            assert_eq!(order.to_string(), printed);
            assert_eq!(printed.parse(), Ok(order));
        }
    }

    #[test]
    fn a_wrong_letter_is_pointed_at() {
        for (text, place) in [("A a B", 2), ("A/", 2), ("0A", 0), ("A 4", 3), ("A;B", 1)] {
            match text.parse::<Arrangement>() {
                Err(ArrangementError::NotALetter { at, .. }) => assert_eq!(at, place, "{text}"),
                other => panic!("{text}: {other:?}"),
            }
        }
        assert_eq!(" ".parse::<Arrangement>(), Err(ArrangementError::Empty));
        assert_eq!("9999A".parse::<Arrangement>(), Err(ArrangementError::TooLong));
    }

    #[test]
    fn every_look_comes_once_and_no_look_is_missed() {
        for repeat in [torchon("CT pin CT", 0), rose("CTCT", "CT pin CT"), rose("CT", "CT pin CT")] {
            let ground = Ground::new(repeat).unwrap();
            let sameness = [Sameness::new(&ground, 8)];
            let mut seen = IndexSet::new();
            for order in Arrangements::new(&sameness, 2) {
                let colours: Vec<u8> = order.pairs().iter().map(|p| p[0]).collect();
                let alike: IndexSet<Vec<u8>> = sameness[0].alike(&colours).collect();
                for look in alike {
                    assert!(seen.insert(look), "{order} looks like an earlier one");
                }
            }
            assert_eq!(seen.len(), 256);
        }
    }
}
