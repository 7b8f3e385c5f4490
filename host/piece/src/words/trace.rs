//! A pair followed from its first pin to its last, or all threads of a colour.

use std::fmt;
use std::str::FromStr;

use catalogue::near::listed;
use lace::{End, PairName, Side, quote};

use super::columns::columns;
use super::place;
use crate::names::pair_name;
use crate::worked::{Worked, hung_pairs};

/// What is followed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Followed {
    /// A pair.
    Pair(PairName),
    /// Every thread of a colour, by its name.
    Colour(String),
}

/// A text that names neither.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FollowedError;

impl fmt::Display for FollowedError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(
            "name a pair (\"left 3\", \"start right\", \"top 2\", \"edge left\", \"passive left 1\") or a colour (\"colour navy\")",
        )
    }
}

impl std::error::Error for FollowedError {}

impl FromStr for Followed {
    type Err = FollowedError;

    fn from_str(text: &str) -> Result<Followed, FollowedError> {
        if let Some(name) = text.trim().strip_prefix("colour ").map(str::trim).filter(|name| !name.is_empty())
        {
            return Ok(Followed::Colour(name.to_owned()));
        }
        pair_name(text).map(Followed::Pair).ok_or(FollowedError)
    }
}

/// What is to be followed is not in the piece.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NotThere {
    /// What is wrong.
    pub sentence: String,
    /// What there is.
    pub remedy: String,
}

/// A stitch on the way of a thread: its position, the side on which the thread comes and
/// that on which it goes on.
type Visit = (usize, Side, Side);

impl Worked {
    /// The way of a pair or a colour, stitch by stitch.
    ///
    /// # Errors
    /// A pair or a colour that the piece does not have.
    pub fn follow(&self, followed: &Followed) -> Result<String, NotThere> {
        let pairs = self.piece.pairs();
        let threads: Vec<usize> = match followed {
            Followed::Pair(name) => match pairs.iter().position(|pair| pair.name == *name) {
                Some(pair) => vec![2 * pair, 2 * pair + 1],
                None => {
                    let (sentence, remedy) = (
                        format!("the piece has no pair {name}"),
                        format!("it has {}", hung_pairs(&self.piece)),
                    );
                    return Err(NotThere { sentence, remedy });
                }
            },
            Followed::Colour(name) => {
                let all = 0..2 * pairs.len();
                let named = all.filter(|&thread| self.colour_of_thread(thread).eq_ignore_ascii_case(name));
                let threads: Vec<usize> = named.collect();
                if threads.is_empty() {
                    let sentence = format!("no thread of the piece is {}", quote(name));
                    let remedy = format!("its colours are {}", listed(self.palette.names()));
                    return Err(NotThere { sentence, remedy });
                }
                threads
            }
        };
        let ways = self.ways();
        let mut text = String::new();
        let mut followed = threads.into_iter().peekable();
        while let Some(thread) = followed.next() {
            // Where both threads of a pair go the same way, one list is enough.
            let other = thread ^ 1;
            let together = thread % 2 == 0 && followed.peek() == Some(&other) && ways[thread] == ways[other];
            if together {
                followed.next();
            }
            if !text.is_empty() {
                text.push('\n');
            }
            text.push_str(&self.way(thread, together, &ways[thread]));
        }
        Ok(text)
    }

    /// The way of every thread.
    fn ways(&self) -> Vec<Vec<Visit>> {
        let on_legs = self.piece.threads_on_legs();
        let mut ways: Vec<Vec<Visit>> = vec![Vec::new(); 2 * self.piece.pairs().len()];
        for stitch in 0..self.piece.stitches().len() {
            for comes in Side::BOTH {
                for &thread in &on_legs[self.piece.leg_to(End::new(stitch, comes))] {
                    let out =
                        |side: &Side| on_legs[self.piece.leg_from(End::new(stitch, *side))].contains(&thread);
                    let goes = Side::BOTH.into_iter().find(out).unwrap_or(comes);
                    ways[thread].push((stitch, comes, goes));
                }
            }
        }
        ways
    }

    /// The way of a thread, or of both threads of a pair.
    fn way(&self, thread: usize, together: bool, way: &[Visit]) -> String {
        let pair = &self.piece.pairs()[thread / 2];
        let (who, colour) = if together {
            (format!("The pair {}", pair.name), self.two_colours([thread, thread ^ 1]))
        } else {
            let which = ["left", "right"][thread % 2];
            (
                format!("The {which} thread of the pair {}", pair.name),
                self.colour_of_thread(thread).to_owned(),
            )
        };
        let mut lines = vec![format!("{who}, {colour}, is hung at {}", place(pair.at))];
        let table: Vec<Vec<String>> = way
            .iter()
            .map(|&(stitch, comes, goes)| {
                let placed = &self.piece.stitches()[stitch];
                let moved = match (comes, goes) {
                    (Side::Left, Side::Right) => "goes over to the right",
                    (Side::Right, Side::Left) => "goes over to the left",
                    (Side::Left, Side::Left) => "turns back to the left",
                    (Side::Right, Side::Right) => "turns back to the right",
                };
                let within = match (self.tip(stitch), placed.edge, placed.area) {
                    (Some(tip), ..) => tip.to_owned(),
                    (None, Some(part), _) => format!("{} edge", part.side.word()),
                    (None, None, Some(_)) => self.design.area_name(placed.area).to_owned(),
                    (None, None, None) => String::new(),
                };
                vec![
                    format!("{}", stitch + 1),
                    format!("at {}", place(placed.at)),
                    moved.to_owned(),
                    placed.stitch.words(),
                    within,
                ]
            })
            .collect();
        lines.extend(columns(&table, "  "));
        let end = self.piece.threads()[thread].end.0;
        lines.push(format!(
            "{} {}",
            if together { "It" } else { "This thread" },
            self.end_of(end).replace("laid", "is laid")
        ));
        lines.join("\n") + "\n"
    }
}
