//! Lacemakers' names for colour arrangements (common practice, no source).

use std::fmt;
use std::str::FromStr;

use thiserror::Error;

use crate::colour::arrangement::Arrangement;

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

/// The name as typed: `one-in-4`, `2-and-2`.
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

    fn from_str(text: &str) -> Result<ArrangementName, ArrangementNameError> {
        let wrong = || ArrangementNameError(crate::words::quote::quote(text));
        let number = |text: &str| text.parse::<usize>().ok().filter(|&n| n > 0).ok_or_else(wrong);
        match text {
            "one-colour" => Ok(ArrangementName::OneColour),
            "half-and-half" => Ok(ArrangementName::HalfAndHalf),
            "graded" => Ok(ArrangementName::Graded),
            "symmetrical" => Ok(ArrangementName::Symmetrical),
            _ => match (text.strip_prefix("one-in-"), text.split_once("-and-")) {
                (Some(n), _) => Ok(ArrangementName::OneIn(number(n)?)),
                (_, Some((a, b))) if a == b => Ok(ArrangementName::InTurn(number(a)?)),
                _ => Err(wrong()),
            },
        }
    }
}
