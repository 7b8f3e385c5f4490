//! A windmill in one step: a cloth stitch of four pairs, each used as one thread, which
//! a definition makes of four stitches.

use crate::ground::Ground;
use crate::stitch::Move;
use crate::working::order::Step;

/// Whether steps that follow each other are one windmill: the middle two of four pairs
/// cross, the outer ones twist on either side in any order, and the middle ones cross
/// again. Nothing is worked between, and no pair is twisted on the way.
pub(super) fn is_windmill(ground: &Ground, steps: &[Step]) -> bool {
    let [top, one, other, bottom] = steps else { return false };
    let makes = |step: &Step, the: Move| ground.stitches()[step.stitch].stitch.moves() == [the];
    let sides = [one.left_pair.min(other.left_pair), one.left_pair.max(other.left_pair)];
    let middle = top.left_pair;
    makes(top, Move::PairCross)
        && makes(one, Move::PairTwist)
        && makes(other, Move::PairTwist)
        && makes(bottom, Move::PairCross)
        && bottom.left_pair == middle
        && [sides[0] + 1, sides[1]] == [middle, middle + 1]
        && steps.iter().all(|step| step.twists == [0, 0])
}

impl Ground {
    /// The steps of a windmill in one line: its pairs, which pair goes over which, and
    /// where the pin is set.
    pub(super) fn windmill_in_words(&self, steps: &[Step]) -> String {
        let first = steps.iter().map(|step| step.left_pair).min().unwrap_or(0) + 1;
        let moves: Vec<String> = steps.iter().map(|step| self.over_in_words(step)).collect();
        format!(
            "windmill with pairs {first} and {} and pairs {} and {}, each pair used as one thread: {}",
            first + 1,
            first + 2,
            first + 3,
            moves.join(", ")
        )
    }

    /// One stitch of a windmill: `2 over 3`, with its pin before or after.
    fn over_in_words(&self, step: &Step) -> String {
        let stitch = &self.stitches()[step.stitch].stitch;
        let (left, right) = (step.left_pair + 1, step.left_pair + 2);
        let over = match stitch.moves() {
            [Move::PairTwist] => format!("{right} over {left}"),
            _ => format!("{left} over {right}"),
        };
        match stitch.pin() {
            None => over,
            Some(0) => format!("pin, {over}"),
            Some(_) => format!("{over}, pin"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lattice::Lattice;
    use crate::lattice::point::point;
    use crate::repeat::Repeat;
    use crate::repeat::Side::{Left, Right};
    use crate::repeat::samples::{leg, stitch};

    /// A windmill and plaits to the next ones, with what is worked last in it.
    fn plaited(last: &str) -> Repeat {
        Repeat {
            lattice: Lattice { across: point(2.0, 2.0), down: point(-2.0, 2.0) },
            stitches: vec![
                stitch("top", point(0.0, -0.25), "pair-cross"),
                stitch("left", point(-0.25, 0.0), "pair-twist"),
                stitch("right", point(0.25, 0.0), "pair-twist"),
                stitch("bottom", point(0.0, 0.25), last),
                stitch("side-left", point(-1.0, 1.0), "CTCTCTCT"),
                stitch("side-right", point(1.0, 1.0), "CTCTCTCT"),
            ],
            legs: vec![
                leg((0, Left), (1, Right), [0, 0]),
                leg((0, Right), (2, Left), [0, 0]),
                leg((1, Right), (3, Left), [0, 0]),
                leg((2, Left), (3, Right), [0, 0]),
                leg((1, Left), (4, Left), [0, 0]),
                leg((3, Left), (4, Right), [0, 0]),
                leg((3, Right), (5, Left), [0, 0]),
                leg((2, Right), (5, Right), [0, 0]),
                leg((4, Left), (0, Right), [0, 1]),
                leg((4, Right), (2, Right), [0, 1]),
                leg((5, Left), (1, Left), [1, 0]),
                leg((5, Right), (0, Left), [1, 0]),
            ],
        }
    }

    fn steps(repeat: Repeat) -> Vec<String> {
        let ground = Ground::new(repeat).unwrap();
        let order = ground.order_of_working();
        let (steps, numbers) = (ground.steps_in_words(&order), ground.step_numbers(&order));
        assert_eq!(numbers.len(), order.steps.len());
        assert_eq!(numbers.last(), Some(&steps.len()));
        assert!(numbers.is_sorted() && numbers[0] == 1);
        steps
    }

    // Common practice, no source: cross, twist, pin, cross, with pairs as threads.
    #[test]
    fn a_windmill_is_one_step() {
        let windmill = "windmill with pairs 1 and 2 and pairs 3 and 4, each pair used as one thread: 2 over 3, \
                        2 over 1, 4 over 3";
        for (last, told) in [
            ("pin pair-cross", "pin, 2 over 3"),
            ("pair-cross", "2 over 3"),
            ("pair-cross pin", "2 over 3, pin"),
        ] {
            assert_eq!(
                steps(plaited(last)),
                [
                    format!("{windmill}, {told}"),
                    "four half stitches with pairs 1 and 2".to_owned(),
                    "four half stitches with pairs 3 and 4".to_owned(),
                ]
            );
        }
    }

    #[test]
    fn what_is_no_windmill_is_told_stitch_by_stitch() {
        // Twisted on the way, or crossed the other way at the end.
        let mut twisted = plaited("pin pair-cross");
        twisted.legs[2].twists = 1;
        for repeat in [twisted, plaited("pin pair-twist"), plaited("pin CT")] {
            let steps = steps(repeat);
            assert_eq!(steps.len(), 6, "{steps:?}");
            assert_eq!(steps[0], "windmill: left pair over right with pairs 2 and 3");
        }
    }
}
