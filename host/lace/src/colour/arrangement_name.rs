//! Lacemakers' names for colour arrangements (common practice, no source).

use std::fmt;
use std::str::FromStr;

use thiserror::Error;

use crate::colour::arrangement::Arrangement;
use crate::limits::MAX_ARRANGEMENT_PAIRS;
use crate::words::number::read_spelt;
use crate::words::quote::quote;

/// The common name of a colour arrangement.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum ArrangementName {
    /// All pairs in one colour.
    OneColour,
    /// One pair in every `n` has the second colour: `A A A B` is one in four.
    OneIn(usize),
    /// Colours in turn, `n` pairs of each: `A A B B` is two and two.
    InTurn(usize),
    /// Two colours, half of the pairs each, with more than three pairs in a half:
    /// `4A 4B`.
    HalfAndHalf,
    /// Three or more colours, each in a single run, with runs of different
    /// lengths: `2A 2B C`.
    Graded,
    /// Reads the same from the left and from the right: `A B C B`.
    Symmetrical,
}

/// A text that does not name an arrangement.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
#[error(
    "`{0}` names no arrangement: write one-colour, one-in-4, 2-and-2, half-and-half, graded or symmetrical"
)]
pub struct ArrangementNameError(pub String);

impl Arrangement {
    /// The common name of the arrangement, if it has one.
    pub fn name(&self) -> Option<ArrangementName> {
        let shortest = self.shortest();
        let pairs = shortest.pairs();
        let n = pairs.len();
        if pairs.iter().any(|[left, right]| left != right) {
            return None;
        }
        // Lengths of the runs of one colour, with the arrangement taken as a ring
        // that starts where a run starts.
        let start = (0..n).find(|&k| pairs[k] != pairs[(k + n - 1) % n]);
        let Some(start) = start else {
            return Some(ArrangementName::OneColour);
        };
        let ring: Vec<[u8; 2]> = (0..n).map(|k| pairs[(start + k) % n]).collect();
        let runs: Vec<(u8, usize)> = ring.chunk_by(|a, b| a == b).map(|run| (run[0][0], run.len())).collect();
        let mut colours: Vec<u8> = runs.iter().map(|r| r.0).collect();
        colours.sort_unstable();
        let once = colours.windows(2).all(|w| w[0] != w[1]);
        let even = runs.iter().all(|r| r.1 == runs[0].1);
        match runs.len() {
            2 if even && runs[0].1 > 3 => Some(ArrangementName::HalfAndHalf),
            _ if once && even => Some(ArrangementName::InTurn(runs[0].1)),
            2 if runs.iter().any(|r| r.1 == 1) => Some(ArrangementName::OneIn(n)),
            3.. if once => Some(ArrangementName::Graded),
            _ => {
                let backwards: Vec<[u8; 2]> = ring.iter().rev().copied().collect();
                let same = |turn: usize| (0..n).all(|k| ring[(k + turn) % n] == backwards[k]);
                (0..n).any(same).then_some(ArrangementName::Symmetrical)
            }
        }
    }
}

/// The name, the same wherever it is read or typed: `one-in-4`, `2-and-2`.
impl fmt::Display for ArrangementName {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            ArrangementName::OneColour => f.write_str("one-colour"),
            ArrangementName::OneIn(n) => write!(f, "one-in-{n}"),
            ArrangementName::InTurn(n) => write!(f, "{n}-and-{n}"),
            ArrangementName::HalfAndHalf => f.write_str("half-and-half"),
            ArrangementName::Graded => f.write_str("graded"),
            ArrangementName::Symmetrical => f.write_str("symmetrical"),
        }
    }
}

impl FromStr for ArrangementName {
    type Err = ArrangementNameError;

    /// Reads a name; it may also be written as it is spoken, `two and two`.
    fn from_str(text: &str) -> Result<ArrangementName, ArrangementNameError> {
        let wrong = || ArrangementNameError(quote(text));
        let lower = text.to_lowercase();
        let words: Vec<&str> = lower.split([' ', '-']).filter(|word| !word.is_empty()).collect();
        let number = |word: &str| read_spelt(word).filter(|&n| n > 0).ok_or_else(wrong);
        match words.as_slice() {
            ["one", "colour"] => Ok(ArrangementName::OneColour),
            ["half", "and", "half"] => Ok(ArrangementName::HalfAndHalf),
            ["graded"] => Ok(ArrangementName::Graded),
            ["symmetrical"] => Ok(ArrangementName::Symmetrical),
            ["one" | "1", "in", n] => Ok(ArrangementName::OneIn(number(n)?)),
            [a, "and", b] if number(a)? == number(b)? => Ok(ArrangementName::InTurn(number(a)?)),
            _ => Err(wrong()),
        }
    }
}

impl ArrangementName {
    /// The shortest usual arrangement of this name in so many colours; `None` if it
    /// takes more colours, or more than [`MAX_ARRANGEMENT_PAIRS`] pairs. Colours in
    /// turn are all colours; what takes two has the first two.
    pub fn arrangement(self, colours: usize) -> Option<Arrangement> {
        let runs: Vec<(usize, u8)> = match self {
            ArrangementName::OneColour => vec![(1, 0)],
            ArrangementName::OneIn(n) if n > 1 => vec![(n - 1, 0), (1, 1)],
            ArrangementName::OneIn(_) => return None,
            ArrangementName::InTurn(n) => (0..colours.max(2)).map(|colour| (n, colour as u8)).collect(),
            ArrangementName::HalfAndHalf => vec![(4, 0), (4, 1)],
            ArrangementName::Graded => vec![(3, 0), (2, 1), (1, 2)],
            ArrangementName::Symmetrical if colours > 2 => vec![(1, 0), (1, 1), (1, 2), (1, 1)],
            ArrangementName::Symmetrical => vec![(1, 0), (1, 1), (1, 0), (1, 1), (1, 0)],
        };
        let pairs = runs.iter().try_fold(0usize, |sum, (n, _)| sum.checked_add(*n))?;
        if pairs > MAX_ARRANGEMENT_PAIRS || runs.iter().any(|&(_, colour)| usize::from(colour) >= colours) {
            return None;
        }
        let pairs: Vec<u8> =
            runs.into_iter().flat_map(|(n, colour)| std::iter::repeat_n(colour, n)).collect();
        Some(Arrangement::of_pairs(&pairs))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_read_back_as_written_and_as_spoken() {
        for (arrangement, name, spoken) in [
            ("3A", "one-colour", "one colour"),
            ("A A A B", "one-in-4", "One in four"),
            ("B A A A A", "one-in-5", "one in 5"),
            ("A B", "1-and-1", "one and one"),
            ("A B B A", "2-and-2", "two and two"),
            ("2A 2B 2A 2B", "2-and-2", "2 and 2"),
            ("3A 3B", "3-and-3", "three and 3"),
            ("4A 4B", "half-and-half", "half and half"),
            ("A B C", "1-and-1", "one-and-one"),
            ("2A 2B C", "graded", "graded"),
            ("A B C B", "symmetrical", "SYMMETRICAL"),
            ("2A 3B", "symmetrical", "symmetrical"),
        ] {
            let named = arrangement.parse::<Arrangement>().unwrap().name().unwrap();
            assert_eq!(named.to_string(), name, "{arrangement}");
            assert_eq!([name.parse(), spoken.parse()], [Ok(named), Ok(named)], "{spoken}");
        }
        for without in ["A A B A B B", "A/B A"] {
            assert_eq!(without.parse::<Arrangement>().unwrap().name(), None, "{without}");
        }
        for wrong in ["", "one-in-0", "2-and-3", "two and", "half", "2-and-2-and-2"] {
            assert!(wrong.parse::<ArrangementName>().is_err(), "{wrong}");
        }
    }

    #[test]
    fn a_name_stands_for_an_arrangement_of_that_name() {
        for (name, colours, written) in [
            ("one-colour", 1, Some("A")),
            ("one-in-4", 2, Some("A A A B")),
            ("2-and-2", 2, Some("A A B B")),
            ("2-and-2", 3, Some("A A B B C C")),
            ("half-and-half", 3, Some("A A A A B B B B")),
            ("graded", 3, Some("A A A B B C")),
            ("symmetrical", 3, Some("A B C B")),
            ("symmetrical", 2, Some("A B A B A")),
            ("graded", 2, None),
            ("one-in-4", 1, None),
            ("2-and-2", 1, None),
            ("one-in-1", 2, None),
            ("one-in-9999", 2, None),
        ] {
            let name: ArrangementName = name.parse().unwrap();
            let arrangement = name.arrangement(colours);
            assert_eq!(arrangement.as_ref().map(ToString::to_string).as_deref(), written, "{name} {colours}");
            if let Some(arrangement) = arrangement {
                assert_eq!(arrangement.name(), Some(name));
            }
        }
    }
}
