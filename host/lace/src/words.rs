//! Works in the words a teacher says aloud: half stitch, cloth stitch and
//! twist, pin. Names are common practice in the trade (Th. de Dillmont,
//! Encyclopedia of Needlework, calls the first two half and double passing).

use crate::moves::{Move, Work};

/// `once`, `twice`, `3 times`.
pub(crate) fn times(n: usize) -> String {
    match n {
        1 => "once".to_owned(),
        2 => "twice".to_owned(),
        n => format!("{n} times"),
    }
}

impl Work {
    /// The work in words, for example `half stitch, pin, half stitch`. A work
    /// without moves is `pin`, or `nothing`.
    pub fn words(&self) -> String {
        let (before, after) = self.moves().split_at(self.pin().unwrap_or(0));
        let mut words: Vec<String> = Vec::new();
        if !before.is_empty() {
            words.push(phrase(before));
        }
        if self.pin().is_some() {
            words.push("pin".to_owned());
        }
        if !after.is_empty() {
            words.push(phrase(after));
        }
        if words.is_empty() { "nothing".to_owned() } else { words.join(", ") }
    }
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
fn phrase(moves: &[Move]) -> String {
    for (weaver, turn) in THERE_AND_BACK.iter().enumerate() {
        if !moves.is_empty() && moves.len().is_multiple_of(6) && moves.chunks(6).all(|six| six == turn) {
            let from = if weaver == 0 { "" } else { " from the right" };
            return format!("tally{from}, {} there and back", times(moves.len() / 6));
        }
    }
    let leading = moves.iter().take_while(|&&m| m == Move::Twist).count();
    let rest = &moves[leading..];
    let trailing = rest.iter().rev().take_while(|&&m| m == Move::Twist).count();
    let core = &rest[..rest.len() - trailing];
    // Crosses with one twist between: the name counts them, and tells whether
    // the last twist belongs to the stitch.
    let woven = core.len() % 2 == 1
        && core.iter().enumerate().all(|(k, &m)| m == if k % 2 == 0 { Move::Cross } else { Move::Twist });
    let (name, named_twists) = match (woven, core.len().div_ceil(2), trailing) {
        (true, 1, 1..) => ("half stitch".to_owned(), 1),
        (true, 2, _) => ("cloth stitch".to_owned(), 0),
        (true, crosses @ 3.., 1..) => (format!("{crosses} half stitches"), 1),
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
        n => text.push_str(&format!(" and {n} twists")),
    }
    text
}

/// Move by move: a work that has no name of its own.
fn one_by_one(moves: &[Move]) -> String {
    let words = moves.iter().map(|m| match m {
        Move::Cross => "cross",
        Move::Twist => "twist",
        Move::TwistLeft => "twist the left pair",
        Move::TwistRight => "twist the right pair",
        Move::PairCross => "cross the left pair over the right, two threads as one",
        Move::PairTwist => "cross the right pair over the left, two threads as one",
    });
    words.collect::<Vec<_>>().join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;

    // Names: common practice; half and double passing in Dillmont.
    #[test]
    fn works_have_their_names() {
        for (work, words) in [
            ("CT pin CT", "half stitch, pin, half stitch"),
            ("CTC", "cloth stitch"),
            ("CTCT", "cloth stitch and twist"),
            ("CTCT pin CTCT", "cloth stitch and twist, pin, cloth stitch and twist"),
            ("CTT pin CTT", "half stitch and twist, pin, half stitch and twist"),
            ("CTTT pin", "half stitch and 2 twists, pin"),
            ("CTCTCTCT", "4 half stitches"),
            ("CTCTCTT", "3 half stitches and twist"),
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
            ("pair-cross pin", "cross the left pair over the right, two threads as one, pin"),
        ] {
            assert_eq!(work.parse::<Work>().unwrap().words(), words, "{work}");
        }
    }

    // The words say what the hands do: put back into moves they are the work.
    #[test]
    fn no_two_works_of_crosses_and_twists_sound_alike() {
        let mut heard = indexmap::IndexMap::new();
        for length in 0..9 {
            for bits in 0..1u32 << length {
                let moves = (0..length).map(|k| if bits >> k & 1 == 1 { Move::Cross } else { Move::Twist });
                let work = Work::new(moves.collect(), None).unwrap();
                let same = heard.insert(work.words(), work.clone());
                assert_eq!(same, None, "{work}");
            }
        }
    }
}
