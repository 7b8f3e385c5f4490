//! Colour arrangements: the colours of the pairs as they hang side by side, and
//! their notation.

use std::fmt;
use std::str::FromStr;

use thiserror::Error;

use crate::limits::MAX_ARRANGEMENT_PAIRS;

/// The colours of hanging pairs, left to right, repeated over the width.
///
/// Colours are numbers into a palette: 0 is `A`, 1 is `B`; small letters will do when
/// it is typed. A pair holds two
/// threads, which after an open start may differ: `A/B` hangs A on the left.
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Arrangement {
    pairs: Vec<[u8; 2]>,
}

/// Why a text is not an arrangement. `at` counts characters from 0.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum ArrangementError {
    /// The text is empty.
    #[error("an arrangement needs at least one pair: write letters, for example `A A B B`")]
    Empty,
    /// Something that is neither a letter A to Z, nor a number before one, nor `/` between two.
    #[error("`{found}` at character {} of `{text}` is not a colour letter: write A to Z, a number before a letter to repeat it (`4A`), `A/B` for a pair of two colours", at + 1)]
    NotALetter {
        /// The whole text.
        text: String,
        /// What was found.
        found: String,
        /// Where it was found, in characters from 0.
        at: usize,
    },
    /// More than [`MAX_ARRANGEMENT_PAIRS`] pairs.
    #[error("an arrangement holds {MAX_ARRANGEMENT_PAIRS} pairs at most")]
    TooLong,
}

impl Arrangement {
    /// One colour for each pair.
    pub fn of_pairs(colours: &[u8]) -> Arrangement {
        Arrangement { pairs: colours.iter().map(|&c| [c, c]).collect() }
    }

    /// One colour for each thread, two threads to a pair. If the number is odd, the
    /// last pair has both threads in the last colour.
    pub fn of_threads(colours: &[u8]) -> Arrangement {
        let pair = |c: &[u8]| [c[0], c[c.len() - 1]];
        Arrangement { pairs: colours.chunks(2).map(pair).collect() }
    }

    /// The colours of the left and right thread of each pair.
    pub fn pairs(&self) -> &[[u8; 2]] {
        &self.pairs
    }

    /// The colour of the thread in each slot, `2 * pairs` of them.
    pub fn threads(&self) -> Vec<u8> {
        self.pairs.iter().flatten().copied().collect()
    }

    /// How many colours a palette must hold: the highest letter used, counted from
    /// 1 for `A`.
    pub fn colours(&self) -> usize {
        self.pairs.iter().flatten().max().map_or(0, |&c| c as usize + 1)
    }

    /// The shortest arrangement that, repeated, gives this one.
    pub fn shortest(&self) -> Arrangement {
        let all = self.pairs.len();
        let again = |n: &usize| {
            all.is_multiple_of(*n) && self.pairs.iter().zip(&self.pairs[*n..]).all(|(a, b)| a == b)
        };
        let length = (1..=all).find(again).unwrap_or(all);
        Arrangement { pairs: self.pairs[..length].to_vec() }
    }

    /// The arrangement written in runs, the number of pairs before each colour:
    /// `4A 4B`.
    pub fn in_runs(&self) -> String {
        let runs: Vec<String> = self
            .pairs
            .chunk_by(|a, b| a == b)
            .map(|run| {
                let one = Arrangement { pairs: vec![run[0]] };
                if run.len() > 1 { format!("{}{one}", run.len()) } else { one.to_string() }
            })
            .collect();
        runs.join(" ")
    }

    /// The same arrangement repeated until it fills `pairs` pairs.
    pub fn extended(&self, pairs: usize) -> Arrangement {
        Arrangement { pairs: self.pairs.iter().cycle().take(pairs).copied().collect() }
    }
}

/// The letter of a colour, 0 for `A`.
pub fn colour_letter(colour: u8) -> char {
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
            Some(c) if c.is_ascii_alphabetic() => Ok(c.to_ascii_uppercase() as u8 - b'A'),
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
                times = (times * 10 + digit as usize).min(MAX_ARRANGEMENT_PAIRS + 1);
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
            if pairs.len() + times > MAX_ARRANGEMENT_PAIRS {
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
            write!(f, "{}", colour_letter(*left))?;
            if left != right {
                write!(f, "/{}", colour_letter(*right))?;
            }
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn arrangements_print_as_they_were_written() {
        for (text, printed) in
            [("A A B B", "A A B B"), ("4A 2B", "A A A A B B"), ("2A/B C", "A/B A/B C"), ("aabB", "A A B B")]
        {
            let arrangement: Arrangement = text.parse().unwrap();
            assert_eq!(arrangement.to_string(), printed);
            assert_eq!(printed.parse(), Ok(arrangement));
        }
    }

    #[test]
    fn an_invalid_letter_is_reported_with_its_position() {
        for (text, place) in [("A é B", 2), ("A/", 2), ("0A", 0), ("A 4", 3), ("A;B", 1)] {
            match text.parse::<Arrangement>() {
                Err(ArrangementError::NotALetter { at, .. }) => assert_eq!(at, place, "{text}"),
                other => panic!("{text}: {other:?}"),
            }
        }
        assert_eq!(" ".parse::<Arrangement>(), Err(ArrangementError::Empty));
        assert_eq!("9999A".parse::<Arrangement>(), Err(ArrangementError::TooLong));
    }

    #[test]
    fn runs_and_repeats_are_written_in_short_form() {
        for (text, runs, shortest) in [
            ("A A A A B B B B", "4A 4B", "A A A A B B B B"),
            ("A B A B", "A B A B", "A B"),
            ("A/B A/B C A/B A/B C", "2A/B C 2A/B C", "A/B A/B C"),
            ("A A A", "3A", "A"),
        ] {
            let arrangement: Arrangement = text.parse().unwrap();
            assert_eq!(arrangement.in_runs(), runs);
            assert_eq!(arrangement.in_runs().parse(), Ok(arrangement.clone()));
            assert_eq!(arrangement.shortest().to_string(), shortest);
        }
    }

    #[test]
    fn threads_hang_two_to_a_pair() {
        assert_eq!(Arrangement::of_threads(&[0, 1, 2, 2]).to_string(), "A/B C");
        assert_eq!(Arrangement::of_threads(&[0, 1, 2, 2]).threads(), [0, 1, 2, 2]);
    }
}
