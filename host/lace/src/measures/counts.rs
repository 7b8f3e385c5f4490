//! Counts for one repeat of a ground: pairs, stitches, pins, moves.

use crate::repeat::Repeat;
use crate::stitch::Move;

/// Counts for one repeat.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Counts {
    /// Stitches.
    pub stitches: usize,
    /// Pairs that hang across an upright repeat.
    pub pairs: usize,
    /// Pins.
    pub pins: usize,
    /// Crosses (a pair cross counts once).
    pub crosses: usize,
    /// Twists in stitches, counting each pair that twists.
    pub twists_in_stitches: usize,
    /// Extra twists on legs, counting each pair that twists.
    pub twists_on_legs: usize,
    /// Moves of the hands: C, T and other moves, extra twists.
    pub moves: usize,
}

impl Counts {
    /// Counts a repeat across which `pairs` pairs hang.
    pub(crate) fn of(repeat: &Repeat, pairs: usize) -> Counts {
        let stitches = || repeat.stitches.iter().map(|s| &s.stitch);
        let count = |amount: &dyn Fn(Move) -> usize| {
            stitches().flat_map(|s| s.moves()).map(|&m| amount(m)).sum::<usize>()
        };
        let twists_on_legs = repeat.legs.iter().map(|l| l.twists as usize).sum();
        Counts {
            stitches: repeat.stitches.len(),
            pairs,
            pins: stitches().filter(|s| s.pin().is_some()).count(),
            crosses: count(&|m| usize::from(matches!(m, Move::Cross | Move::PairCross))),
            twists_in_stitches: count(&|m| match m {
                Move::Twist => 2,
                Move::TwistLeft | Move::TwistRight | Move::PairTwist => 1,
                Move::Cross | Move::PairCross => 0,
            }),
            twists_on_legs,
            moves: count(&|_| 1) + twists_on_legs,
        }
    }
}
