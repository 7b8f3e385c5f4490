//! Moves, which the hands make with four bobbins, and the stitches made of them.
//!
//! A stitch holds two pairs, four threads at positions 0, 1, 2, 3 from the
//! left; the pairs are (0, 1) and (2, 3). Source of the conventions: common
//! practice in the trade (cross is left over right, twist is right over left).

use std::fmt;
use std::str::FromStr;

use thiserror::Error;

use crate::limits::MAX_MOVES;
use crate::repeat::Side;
use crate::words::quote::quote;

/// One move with the four threads of a stitch.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Move {
    /// `C`: the middle two threads, left over right.
    Cross,
    /// `T`: both pairs, right thread over left.
    Twist,
    /// `twist-left`: the left pair alone, right thread over left.
    TwistLeft,
    /// `twist-right`: the right pair alone, right thread over left.
    TwistRight,
    /// `pair-cross`: the left pair, used as one thread, over the right pair.
    PairCross,
    /// `pair-twist`: the right pair, used as one thread, over the left pair.
    PairTwist,
}

/// A crossing of the threads at positions `at` and `at + 1`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Crossing {
    /// Position of the left thread, 0 to 2 inside a stitch, 0 on a leg.
    pub at: usize,
    /// Whether the thread that comes from the left lies on top.
    pub left_over: bool,
}

const fn crossing(at: usize, left_over: bool) -> Crossing {
    Crossing { at, left_over }
}

impl Move {
    /// Every move, in the order in which they are documented.
    pub const ALL: [Move; 6] =
        [Move::Cross, Move::Twist, Move::TwistLeft, Move::TwistRight, Move::PairCross, Move::PairTwist];

    /// The crossings of two threads this move makes, in the order worked.
    pub const fn crossings(self) -> &'static [Crossing] {
        match self {
            Move::Cross => const { &[crossing(1, true)] },
            Move::Twist => const { &[crossing(0, false), crossing(2, false)] },
            Move::TwistLeft => const { &[crossing(0, false)] },
            Move::TwistRight => const { &[crossing(2, false)] },
            Move::PairCross => {
                const { &[crossing(1, true), crossing(0, true), crossing(2, true), crossing(1, true)] }
            }
            Move::PairTwist => {
                const { &[crossing(1, false), crossing(0, false), crossing(2, false), crossing(1, false)] }
            }
        }
    }

    /// How the move is written in definitions and output.
    pub const fn word(self) -> &'static str {
        match self {
            Move::Cross => "C",
            Move::Twist => "T",
            Move::TwistLeft => "twist-left",
            Move::TwistRight => "twist-right",
            Move::PairCross => "pair-cross",
            Move::PairTwist => "pair-twist",
        }
    }

    /// Whether the move passes a thread from one pair to the other.
    pub const fn links_pairs(self) -> bool {
        matches!(self, Move::Cross | Move::PairCross | Move::PairTwist)
    }
}

/// A stitch: its moves in order, and where its pin stands.
///
/// Written as moves and `pin`, for example `CT pin CT`. At most one pin and at
/// most [`MAX_MOVES`] moves.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash)]
pub struct Stitch {
    moves: Vec<Move>,
    pin: Option<usize>,
}

/// Why a text is not a stitch.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum StitchError {
    /// A word that is neither a run of `C` and `T`, nor `pin`, nor another move.
    #[error(
        "`{}` is not a move: write C, T, pin, twist-left, twist-right, pair-cross or pair-twist",
        quote(word)
    )]
    NotAMove {
        /// The word as written.
        word: String,
    },
    /// A second pin.
    #[error("a stitch holds one pin at most: write a second stitch for the second pin")]
    SecondPin,
    /// More than [`MAX_MOVES`] moves.
    #[error("a stitch holds {MAX_MOVES} moves at most: write it as several stitches")]
    TooLong,
}

impl Stitch {
    /// A stitch from its moves and, if it has a pin, the number of moves made before
    /// the pin is set (0 to the number of moves).
    ///
    /// # Errors
    /// [`StitchError::TooLong`] beyond [`MAX_MOVES`] moves. A pin place past the
    /// last move is moved to the end.
    pub fn new(moves: Vec<Move>, pin: Option<usize>) -> Result<Stitch, StitchError> {
        if moves.len() > MAX_MOVES {
            return Err(StitchError::TooLong);
        }
        let pin = pin.map(|after| after.min(moves.len()));
        Ok(Stitch { moves, pin })
    }

    /// The moves in order.
    pub fn moves(&self) -> &[Move] {
        &self.moves
    }

    /// How many moves are made before the pin is set; `None` without a pin.
    pub fn pin(&self) -> Option<usize> {
        self.pin
    }

    /// The crossings of threads, in the order worked.
    pub fn crossings(&self) -> impl Iterator<Item = Crossing> + '_ {
        self.moves.iter().flat_map(|m| m.crossings().iter().copied())
    }

    /// How many crossings are made before the pin is set.
    pub fn crossings_before_pin(&self) -> Option<usize> {
        let after = self.pin?;
        Some(self.moves[..after].iter().map(|m| m.crossings().len()).sum())
    }

    /// For every crossing, in the order worked, where the weaver goes if one thread
    /// weaves through the other three there, as in a tally: single twists of either
    /// pair with a cross between them. The weaver comes from the other side.
    pub fn weaver(&self) -> Vec<Option<Side>> {
        use Move::{Cross, TwistLeft, TwistRight};
        let mut goes = vec![None; self.moves.len()];
        for (k, three) in self.moves.windows(3).enumerate() {
            let side = match three {
                [TwistLeft, Cross, TwistRight] => Side::Right,
                [TwistRight, Cross, TwistLeft] => Side::Left,
                _ => continue,
            };
            goes[k..k + 3].fill(Some(side));
        }
        let each = self.moves.iter().zip(goes);
        each.flat_map(|(m, goes)| std::iter::repeat_n(goes, m.crossings().len())).collect()
    }

    /// Whether it is a tally: one thread weaves through the other three.
    pub fn is_woven(&self) -> bool {
        self.weaver().iter().any(Option::is_some)
    }

    /// Which thread, named by its starting position, ends at each position.
    pub fn end_order(&self) -> [usize; 4] {
        let mut order = [0, 1, 2, 3];
        for c in self.crossings() {
            order.swap(c.at, c.at + 1);
        }
        order
    }

    /// Where the thread that starts at each position ends: the inverse of
    /// [`Stitch::end_order`].
    pub fn start_to_end(&self) -> [usize; 4] {
        let mut ends = [0; 4];
        for (position, thread) in self.end_order().into_iter().enumerate() {
            ends[thread] = position;
        }
        ends
    }

    /// For the thread that starts at each position, whether it lies over (`true`)
    /// or under at each crossing it makes.
    pub fn over_under(&self) -> [Vec<bool>; 4] {
        let mut seen: [Vec<bool>; 4] = Default::default();
        let mut order = [0, 1, 2, 3];
        for c in self.crossings() {
            seen[order[c.at]].push(c.left_over);
            seen[order[c.at + 1]].push(!c.left_over);
            order.swap(c.at, c.at + 1);
        }
        seen
    }

    /// What the stitch does to the two pairs.
    pub fn pair_effect(&self) -> PairEffect {
        let ends = self.start_to_end();
        let changed = |thread: usize| (ends[thread] < 2) != (thread < 2);
        match (changed(0), changed(1), changed(2), changed(3)) {
            (false, false, false, false) => PairEffect::Return,
            (true, true, true, true) => PairEffect::Swap,
            _ => PairEffect::Split,
        }
    }

    /// Whether any move passes a thread from one pair to the other.
    pub fn links_pairs(&self) -> bool {
        self.moves.iter().any(|m| m.links_pairs())
    }

    /// The stitch with left and right exchanged, while every cross stays left over
    /// right and every twist right over left, as lacemakers work both sides of a
    /// symmetrical ground.
    pub fn mirrored(&self) -> Stitch {
        let moves = self
            .moves
            .iter()
            .map(|m| match m {
                Move::TwistLeft => Move::TwistRight,
                Move::TwistRight => Move::TwistLeft,
                other => *other,
            })
            .collect();
        Stitch { moves, pin: self.pin }
    }
}

/// What a stitch does to the two pairs that enter it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PairEffect {
    /// Both pairs leave on the side they came from.
    Return,
    /// The pairs change sides, both threads together.
    Swap,
    /// The two threads of a pair leave on different sides.
    Split,
}

impl FromStr for Stitch {
    type Err = StitchError;

    fn from_str(text: &str) -> Result<Stitch, StitchError> {
        let mut moves = Vec::new();
        let mut pin = None;
        for word in text.split_whitespace() {
            if word == "pin" {
                if pin.is_some() {
                    return Err(StitchError::SecondPin);
                }
                pin = Some(moves.len());
            } else if let Some(named) = Move::ALL.into_iter().find(|m| m.word() == word) {
                moves.push(named);
            } else if word.chars().all(|c| c == 'C' || c == 'T') {
                moves.extend(word.chars().map(|c| if c == 'C' { Move::Cross } else { Move::Twist }));
            } else {
                return Err(StitchError::NotAMove { word: word.to_owned() });
            }
        }
        Stitch::new(moves, pin)
    }
}

impl fmt::Display for Stitch {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut before_letter = false;
        let mut first = true;
        let mut put = |f: &mut fmt::Formatter<'_>, word: &str| {
            let letter = word.len() == 1;
            if !(first || letter && before_letter) {
                f.write_str(" ")?;
            }
            first = false;
            before_letter = letter;
            f.write_str(word)
        };
        for (done, m) in self.moves.iter().enumerate() {
            if self.pin == Some(done) {
                put(f, "pin")?;
            }
            put(f, m.word())?;
        }
        if self.pin == Some(self.moves.len()) {
            put(f, "pin")?;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_stitch_prints_as_it_was_written() {
        for text in
            ["CT pin CT", "CTCT", "pin CT", "CTTT pin", "C twist-left T pin pair-cross pair-twist", "", "pin"]
        {
            let stitch: Stitch = text.parse().unwrap();
            assert_eq!(stitch.to_string(), text);
        }
    }

    #[test]
    fn unknown_words_are_quoted_in_the_error() {
        assert_eq!("CT pim CT".parse::<Stitch>(), Err(StitchError::NotAMove { word: "pim".into() }));
        assert_eq!("C pin T pin".parse::<Stitch>(), Err(StitchError::SecondPin));
        assert_eq!("C".repeat(257).parse::<Stitch>(), Err(StitchError::TooLong));
    }

    // Common practice: half stitch, pin, half stitch exchanges the pairs;
    // cloth stitch and twist before and after the pin brings them back.
    #[test]
    fn torchon_swaps_the_pairs_and_double_torchon_returns_them() {
        let effect = |text: &str| text.parse::<Stitch>().unwrap().pair_effect();
        assert_eq!(effect("CT pin CT"), PairEffect::Swap);
        assert_eq!(effect("CTCT pin CTCT"), PairEffect::Return);
        assert_eq!(effect("CTTT pin"), PairEffect::Split);
    }
}
