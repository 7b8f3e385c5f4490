//! Stitches in the words a teacher says aloud: half stitch, cloth stitch and
//! twist, pin. Names are common practice in the trade (Th. de Dillmont,
//! Encyclopedia of Needlework, calls the first two half and double passing).

use thiserror::Error;

use crate::limits::MAX_MOVES;
use crate::stitch::{Move, Stitch, StitchError};
use crate::words::number::{read_spelt, spelt, times};
use crate::words::quote::quote;

/// The name of a woven stitch. The moves are the same; see [`super::leaf`].
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Woven {
    /// Square.
    Tally,
    /// Pointed.
    Leaf,
    /// Square at some places, pointed at others.
    Either,
}

impl Woven {
    const ALL: [Woven; 3] = [Woven::Tally, Woven::Leaf, Woven::Either];

    const fn name(self) -> &'static str {
        match self {
            Woven::Tally => "tally",
            Woven::Leaf => "leaf",
            Woven::Either => "tally or leaf",
        }
    }
}

impl Stitch {
    /// The stitch in words, for example `half stitch, pin, half stitch`. A stitch
    /// without moves is `pin`, or `nothing`. A woven one is a `tally`; where it stands
    /// in a ground, [`Ground::stitch_in_words`](crate::Ground::stitch_in_words) knows
    /// a leaf from a tally.
    pub fn words(&self) -> String {
        self.words_as(|| Woven::Tally)
    }

    /// The stitch in words; `woven` says what it is called if it is woven.
    pub(crate) fn words_as(&self, woven: impl Fn() -> Woven) -> String {
        let (before, after) = self.moves().split_at(self.pin().unwrap_or(0));
        let phrase = |moves: &[Move]| phrase(moves, &woven);
        let mut words: Vec<String> = Vec::new();
        match worker(before).filter(|_| self.pin().is_some()) {
            Some((through, twists)) => words.extend([phrase(through), worker_twisted(twists)]),
            None if before.is_empty() => {}
            None => words.push(phrase(before)),
        }
        if self.pin().is_some() {
            words.push("pin".to_owned());
        }
        if !after.is_empty() {
            words.push(phrase(after));
        }
        if words.is_empty() { "nothing".to_owned() } else { words.join(", ") }
    }

    /// The stitch in letters, for example `CT pin CT`. `None` if it has moves that
    /// letters are no help with, as a tally or a windmill has.
    pub fn letters(&self) -> Option<String> {
        self.moves().iter().all(|m| has_letter(*m)).then(|| self.to_string())
    }
}

/// Whether a move is a cross or a twist of both pairs.
fn has_letter(m: Move) -> bool {
    matches!(m, Move::Cross | Move::Twist)
}

/// Why words do not name a stitch.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum WordsError {
    /// A phrase that does not name a stitch.
    #[error("`{}` is no stitch", quote(phrase))]
    NoStitch {
        /// The phrase as written.
        phrase: String,
    },
    /// Words that are understood but do not make a valid stitch.
    #[error(transparent)]
    Moves(#[from] StitchError),
}

/// Phrases that are understood, for messages and help.
pub const STITCH_PHRASES: &str = "half stitch, cloth stitch, either of them with `and twist` or `and two twists`, \
                           four half stitches, twist, twist three times, cross, pin, \
                           tally or leaf three times there and back, or moves such as CT, CTCT, twist-left";

impl Stitch {
    /// Parses a stitch in words, as [`Stitch::words`] writes it: phrases separated
    /// by commas, for example `half stitch, pin, half stitch and twist`. Numbers up
    /// to twelve may be words. Moves (`CT`, `pair-cross`) may be mixed in. A `leaf` has
    /// the moves of a `tally`.
    ///
    /// # Errors
    /// The first phrase that is not a stitch, or an error as for a stitch written in
    /// moves.
    pub fn from_words(text: &str) -> Result<Stitch, WordsError> {
        let mut moves: Vec<String> = Vec::new();
        let mut tally = None;
        for phrase in text.split(',').map(|p| p.split_whitespace().collect::<Vec<_>>()) {
            match (tally.take(), phrase.as_slice()) {
                // `tally, three times there and back` is two phrases, and so is a leaf.
                (Some(weaver), [how_often @ .., "there", "and", "back"]) => {
                    let turns = number_of_times(how_often).ok_or_else(|| no_stitch(&phrase))?;
                    moves.push(tally_of(weaver, turns));
                    continue;
                }
                (Some(weaver), _) => moves.push(tally_of(weaver, 3)),
                (None, _) => {}
            }
            match (woven(&phrase), phrase.as_slice()) {
                (Some((weaver, [])), _) => tally = Some(weaver),
                (Some((weaver, [how_often @ .., "there", "and", "back"])), _) => {
                    let turns = number_of_times(how_often).ok_or_else(|| no_stitch(&phrase))?;
                    moves.push(tally_of(weaver, turns));
                }
                (_, [] | ["nothing"] | ["two", "threads", "as", "one"]) => {}
                (_, _) => moves.push(phrase_moves(&phrase)?),
            }
        }
        if let Some(weaver) = tally {
            moves.push(tally_of(weaver, 3));
        }
        Ok(moves.join(" ").parse()?)
    }
}

fn no_stitch(phrase: &[&str]) -> WordsError {
    WordsError::NoStitch { phrase: phrase.join(" ") }
}

/// The weaver of a tally or leaf, and what follows its name.
fn woven<'a, 'b>(phrase: &'a [&'b str]) -> Option<(usize, &'a [&'b str])> {
    // The longest name first.
    let rest = Woven::ALL.into_iter().rev().find_map(|woven| {
        let name: Vec<&str> = woven.name().split(' ').collect();
        phrase.strip_prefix(name.as_slice())
    })?;
    Some(match rest {
        ["from", "the", "right", rest @ ..] => (1, rest),
        _ => (0, rest),
    })
}

fn tally_of(weaver: usize, turns: usize) -> String {
    let turn: Vec<&str> = THERE_AND_BACK[weaver].iter().map(|m| m.word()).collect();
    vec![turn.join(" "); turns].join(" ")
}

/// A number of moves or turns: `3`, `three`, `a`.
fn number(word: &str) -> Option<usize> {
    read_spelt(word).filter(|&n| n <= MAX_MOVES)
}

/// `once`, `twice`, `three times`, `3 times`.
fn number_of_times(words: &[&str]) -> Option<usize> {
    match words {
        ["once"] => Some(1),
        ["twice"] => Some(2),
        [n, "times"] => number(n),
        _ => None,
    }
}

/// The moves of one phrase.
fn phrase_moves(phrase: &[&str]) -> Result<String, WordsError> {
    let (stitch, twists) = match phrase {
        [stitch @ .., "and", "twist"] => (stitch, 1),
        [stitch @ .., "and", n, "twist" | "twists"] => (stitch, number(n).ok_or_else(|| no_stitch(phrase))?),
        _ => (phrase, 0),
    };
    let moves = match stitch {
        ["half", "stitch"] => "CT".to_owned(),
        ["cloth", "stitch"] => "CTC".to_owned(),
        ["half", "stitches", n, "times"] | [n, "half", "stitches"] => {
            "CT".repeat(number(n).ok_or_else(|| no_stitch(phrase))?)
        }
        ["cross"] => "C".to_owned(),
        ["twist"] => "T".to_owned(),
        ["twist", how_often @ ..] if number_of_times(how_often).is_some() => {
            "T".repeat(number_of_times(how_often).unwrap_or(1))
        }
        ["twist", "the", side @ ("left" | "right"), "pair", how_often @ ..]
        | ["twist", "the", "worker", side @ ("(left" | "(right"), "pair)", how_often @ ..] => {
            let turns = if how_often.is_empty() { Some(1) } else { number_of_times(how_often) };
            let twist = format!("twist-{} ", side.trim_start_matches('('));
            twist.repeat(turns.ok_or_else(|| no_stitch(phrase))?).trim_end().to_owned()
        }
        ["windmill:", "left", "pair", "over", "right"]
        | ["cross", "the", "left", "pair", "over", "the", "right"] => "pair-cross".to_owned(),
        ["windmill:", "right", "pair", "over", "left"]
        | ["cross", "the", "right", "pair", "over", "the", "left"] => "pair-twist".to_owned(),
        // Moves as they are written.
        _ => {
            let text = stitch.join(" ");
            match text.parse::<Stitch>() {
                Ok(_) => text,
                Err(StitchError::NotAMove { .. }) => return Err(no_stitch(phrase)),
                Err(why) => return Err(why.into()),
            }
        }
    };
    Ok(format!("{moves}{}{}", if twists > 0 { " " } else { "" }, "T".repeat(twists)))
}

/// The moves of a weaver in a tally, there and back: the first thread weaves
/// through the other three, or the last one does.
const THERE_AND_BACK: [[Move; 6]; 2] = {
    use Move::{Cross, TwistLeft, TwistRight};
    [
        [TwistLeft, Cross, TwistRight, TwistRight, Cross, TwistLeft],
        [TwistRight, Cross, TwistLeft, TwistLeft, Cross, TwistRight],
    ]
};

/// Moves without a pin among them, as a stitch with a name if they have one.
fn phrase(moves: &[Move], woven: &impl Fn() -> Woven) -> String {
    for (weaver, turn) in THERE_AND_BACK.iter().enumerate() {
        if !moves.is_empty() && moves.len().is_multiple_of(6) && moves.chunks(6).all(|six| six == turn) {
            let from = if weaver == 0 { "" } else { " from the right" };
            return format!("{}{from}, {} there and back", woven().name(), times(moves.len() / 6));
        }
    }
    let parts = moves.chunk_by(|a, b| a == b || has_letter(*a) && has_letter(*b));
    let words = parts.map(|part| match part[0] {
        Move::Cross | Move::Twist => crosses_and_twists(part),
        Move::TwistLeft => format!("twist the left pair{}", if_several(part.len())),
        Move::TwistRight => format!("twist the right pair{}", if_several(part.len())),
        Move::PairCross => vec!["windmill: left pair over right"; part.len()].join(", "),
        Move::PairTwist => vec!["windmill: right pair over left"; part.len()].join(", "),
    });
    words.collect::<Vec<_>>().join(", ")
}

/// The moves before a pin, cut before the twists of the pair that goes round it
/// alone, if there is one: that pair is the worker.
fn worker(before: &[Move]) -> Option<(&[Move], &[Move])> {
    let last = before.chunk_by(|a, b| a == b).next_back()?;
    let (woven, twists) = before.split_at(before.len() - last.len());
    let alone = matches!(twists[0], Move::TwistLeft | Move::TwistRight);
    (alone && woven.contains(&Move::Cross) && woven.iter().all(|m| has_letter(*m))).then_some((woven, twists))
}

fn worker_twisted(twists: &[Move]) -> String {
    let side = if twists[0] == Move::TwistLeft { "left" } else { "right" };
    format!("twist the worker ({side} pair){}", if_several(twists.len()))
}

/// ` twice`, ` three times`; nothing for once.
fn if_several(n: usize) -> String {
    if n == 1 { String::new() } else { format!(" {}", times(n)) }
}

/// Crosses and twists of both pairs, as a stitch with a name if they have one.
fn crosses_and_twists(moves: &[Move]) -> String {
    let leading = moves.iter().take_while(|&&m| m == Move::Twist).count();
    let rest = &moves[leading..];
    let trailing = rest.iter().rev().take_while(|&&m| m == Move::Twist).count();
    let core = &rest[..rest.len() - trailing];
    // Crosses with one twist between: their number gives the name, and decides
    // whether the last twist belongs to the stitch.
    let woven = core.len() % 2 == 1
        && core.iter().enumerate().all(|(k, &m)| m == if k % 2 == 0 { Move::Cross } else { Move::Twist });
    let (name, named_twists) = match (woven, core.len().div_ceil(2), trailing) {
        (true, 1, 1..) => ("half stitch".to_owned(), 1),
        (true, 2, _) => ("cloth stitch".to_owned(), 0),
        (true, crosses @ 3.., 1..) => (format!("{} half stitches", spelt(crosses)), 1),
        _ => return one_by_one(moves),
    };
    let mut text = String::new();
    match leading {
        0 => {}
        1 => text.push_str("twist, "),
        n => text.push_str(&format!("twist {}, ", times(n))),
    }
    text.push_str(&name);
    match trailing - named_twists {
        0 => {}
        1 => text.push_str(" and twist"),
        n => text.push_str(&format!(" and {} twists", spelt(n))),
    }
    text
}

/// A stitch without a name of its own, move by move.
fn one_by_one(moves: &[Move]) -> String {
    let words = moves.iter().map(|m| if *m == Move::Cross { "cross" } else { "twist" });
    words.collect::<Vec<_>>().join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;

    // Names: common practice; half and double passing in Dillmont.
    #[test]
    fn stitches_have_their_names() {
        for (moves, words) in [
            ("CT pin CT", "half stitch, pin, half stitch"),
            ("CTC", "cloth stitch"),
            ("CTCT", "cloth stitch and twist"),
            ("CTCT pin CTCT", "cloth stitch and twist, pin, cloth stitch and twist"),
            ("CTT pin CTT", "half stitch and twist, pin, half stitch and twist"),
            ("CTTT pin", "half stitch and two twists, pin"),
            ("CTCTCTCT", "four half stitches"),
            ("CTCTCTT", "three half stitches and twist"),
            ("CTCTCTCTCTCTCTCTCTCTCTCT", "twelve half stitches"),
            ("CTCTCTCTCTCTCTCTCTCTCTCTCT", "13 half stitches"),
            (
                "CTC twist-left twist-left twist-left pin",
                "cloth stitch, twist the worker (left pair) three times, pin",
            ),
            ("TCTC", "twist, cloth stitch"),
            ("TTCT", "twist twice, half stitch"),
            ("TC", "twist, cross"),
            ("C", "cross"),
            ("CCT", "cross, cross, twist"),
            ("CTCTC", "cross, twist, cross, twist, cross"),
            ("pin", "pin"),
            ("", "nothing"),
            ("pin CT", "pin, half stitch"),
            ("twist-left C twist-right", "twist the left pair, cross, twist the right pair"),
            ("twist-left C twist-right twist-right C twist-left", "tally, once there and back"),
            (
                "twist-right C twist-left twist-left C twist-right twist-right C twist-left twist-left C twist-right",
                "tally from the right, twice there and back",
            ),
            ("pair-cross pin", "windmill: left pair over right, pin"),
            ("pair-twist", "windmill: right pair over left"),
            ("CTC twist-left pin CTC", "cloth stitch, twist the worker (left pair), pin, cloth stitch"),
            (
                "CTC twist-right twist-right pin CTC",
                "cloth stitch, twist the worker (right pair) twice, pin, cloth stitch",
            ),
            ("CT twist-right pin CT", "half stitch, twist the worker (right pair), pin, half stitch"),
            // Nobody works through the others here.
            ("CTC twist-left", "cloth stitch, twist the left pair"),
            ("TT twist-left pin", "twist, twist, twist the left pair, pin"),
            (
                "CTC twist-left twist-right pin",
                "cloth stitch, twist the left pair, twist the right pair, pin",
            ),
        ] {
            let stitch: Stitch = moves.parse().unwrap();
            assert_eq!(stitch.words(), words, "{moves}");
            assert_eq!(Stitch::from_words(words), Ok(stitch), "{words}");
        }
    }

    #[test]
    fn letters_are_given_where_they_say_all() {
        for (moves, letters) in [
            ("CT pin CT", Some("CT pin CT")),
            ("pin", Some("pin")),
            ("CTC twist-left pin CTC", None),
            ("pair-cross", None),
            (&tally_of(0, 2), None),
        ] {
            assert_eq!(moves.parse::<Stitch>().unwrap().letters().as_deref(), letters, "{moves}");
        }
    }

    #[test]
    fn stitches_are_understood_as_teachers_say_them() {
        for (words, moves) in [
            ("half stitch, pin, half stitch", "CT pin CT"),
            ("  cloth stitch   and  twist ", "CTCT"),
            ("half stitch and two twists, pin", "CTTT pin"),
            ("half stitch and 2 twists, pin", "CTTT pin"),
            ("4 half stitches", "CTCTCTCT"),
            ("twist 3 times, cross", "TTTC"),
            ("twist three times, cross", "TTTC"),
            ("cloth stitch and a twist", "CTCT"),
            ("six half stitches", "CTCTCTCTCTCT"),
            ("CT, pin, CTT", "CT pin CTT"),
            ("CT pin CT", "CT pin CT"),
            ("twist twice, half stitch", "TTCT"),
            ("tally, twice there and back, pin", &format!("{} pin", tally_of(0, 2))),
            ("tally, pin", &format!("{} pin", tally_of(0, 3))),
            ("tally four times there and back", &tally_of(0, 4)),
            ("tally from the right", &tally_of(1, 3)),
            ("tally from the right twice there and back", &tally_of(1, 2)),
            // A leaf has the moves of a tally.
            ("leaf, 3 times there and back", &tally_of(0, 3)),
            ("leaf, three times there and back", &tally_of(0, 3)),
            ("leaf from the right, twice there and back, pin", &format!("{} pin", tally_of(1, 2))),
            ("leaf", &tally_of(0, 3)),
            ("leaf four times there and back, pin", &format!("{} pin", tally_of(0, 4))),
            ("tally or leaf, once there and back", &tally_of(0, 1)),
            ("cross the left pair over the right, two threads as one, pin", "pair-cross pin"),
            ("twist the left pair twice", "twist-left twist-left"),
            ("nothing", ""),
        ] {
            assert_eq!(Stitch::from_words(words), Ok(moves.parse().unwrap()), "{words}");
        }
        for (words, phrase) in [
            ("half stitsch, pin", "half stitsch"),
            ("half stitch and many twists", "half stitch and many twists"),
            ("tally, now and then there and back", "now and then there and back"),
            ("leaf now and then there and back", "leaf now and then there and back"),
            ("leafy", "leafy"),
            ("twist the worker (left pair) often", "twist the worker (left pair) often"),
        ] {
            let message = Stitch::from_words(words).unwrap_err().to_string();
            assert!(message.contains("is no stitch") && message.contains(phrase), "{message}");
        }
        assert_eq!(Stitch::from_words("pin, pin"), Err(WordsError::Moves(StitchError::SecondPin)));
        assert_eq!(Stitch::from_words("200 half stitches"), Err(WordsError::Moves(StitchError::TooLong)));
    }

    // The words say what the hands do: put back into moves they are the stitch.
    #[test]
    fn no_two_stitches_of_crosses_and_twists_sound_alike() {
        let mut heard = indexmap::IndexMap::new();
        for length in 0..9 {
            for bits in 0..1u32 << length {
                let moves = (0..length).map(|k| if bits >> k & 1 == 1 { Move::Cross } else { Move::Twist });
                let stitch = Stitch::new(moves.collect(), None).unwrap();
                let same = heard.insert(stitch.words(), stitch.clone());
                assert_eq!(same, None, "{stitch}");
                assert_eq!(Stitch::from_words(&stitch.words()), Ok(stitch));
            }
        }
    }
}
