//! Every thread of a piece, from where it is hung to its end.

use super::{LegTo, Piece};
use crate::repeat::{End, Side};

/// A thread.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PieceThread {
    /// The pair in which it is hung, by its position.
    pub pair: usize,
    /// Whether it is the left or the right one of that pair when hung.
    pub side: Side,
    /// The stitches it lies in, by their positions in the order of working.
    pub stitches: Vec<usize>,
    /// The leg on which it ends, and the side of the pair on which it lies there.
    pub end: (usize, Side),
}

impl Piece {
    /// All threads: those of each pair in turn, the left one first.
    pub fn threads(&self) -> Vec<PieceThread> {
        let mut threads: Vec<PieceThread> = (0..self.pairs.len())
            .flat_map(|pair| {
                Side::BOTH.map(|side| PieceThread { pair, side, stitches: Vec::new(), end: (pair, side) })
            })
            .collect();
        let on_legs = self.threads_on_legs();
        for stitch in 0..self.stitches.len() {
            for side in Side::BOTH {
                for thread in on_legs[self.leg_to(End::new(stitch, side))] {
                    threads[thread].stitches.push(stitch);
                }
            }
        }
        for (leg, lie) in on_legs.iter().enumerate() {
            if matches!(self.legs[leg].to, LegTo::Ends(_)) {
                for (&thread, side) in lie.iter().zip(Side::BOTH) {
                    threads[thread].end = (leg, side);
                }
            }
        }
        threads
    }

    /// For every leg, the two threads of its pair as they lie when they arrive, the left
    /// one first. Threads are numbered as in [`Piece::threads`].
    pub fn threads_on_legs(&self) -> Vec<[usize; 2]> {
        let mut lie = vec![[0; 2]; self.legs.len()];
        let twisted = |mut pair: [usize; 2], twists: u32| {
            if twists % 2 == 1 {
                pair.reverse();
            }
            pair
        };
        for (pair, lie) in lie[..self.pairs.len()].iter_mut().enumerate() {
            *lie = twisted([2 * pair, 2 * pair + 1], self.legs[pair].twists);
        }
        // Stitches stand in the order of working, so both pairs are there already.
        for (s, placed) in self.stitches.iter().enumerate() {
            let [left, right] = Side::BOTH.map(|side| lie[self.leg_to(End::new(s, side))]);
            let four = [left[0], left[1], right[0], right[1]];
            let after = placed.stitch.end_order().map(|k| four[k]);
            for (side, pair) in Side::BOTH.into_iter().zip([[after[0], after[1]], [after[2], after[3]]]) {
                let leg = self.leg_from(End::new(s, side));
                lie[leg] = twisted(pair, self.legs[leg].twists);
            }
        }
        lie
    }
}
