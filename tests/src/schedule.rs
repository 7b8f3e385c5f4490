//! Schedules: stitches worked one after the other with pairs hung round a
//! cylinder. This is an easy way to write any ground: every schedule that joins
//! each pair to its neighbour is a repeat.

use lace::{End, Lattice, Leg, PlacedStitch, Repeat, Side, Stitch, point};
use serde::de::Error;
use serde::{Deserialize, Deserializer};

/// A period of work with pairs `0..pairs_around`.
#[derive(Clone, Debug, Deserialize)]
pub struct Schedule {
    /// Number of pairs round the cylinder; at least 2.
    pub pairs_around: usize,
    /// Each step works pairs `i` and `i + 1` (the last with the first).
    #[serde(deserialize_with = "steps")]
    pub steps: Vec<(usize, Stitch)>,
}

/// A step as written: a number and a stitch, `[0, "CT pin CT"]`.
fn steps<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Vec<(usize, Stitch)>, D::Error> {
    let steps: Vec<(usize, String)> = Vec::deserialize(deserializer)?;
    steps.into_iter().map(|(pair, work)| Ok((pair, work.parse().map_err(D::Error::custom)?))).collect()
}

/// A pair on its way: the exit it left by, and the column of that stitch
/// relative to the pair's own column.
type Held = Option<(End, i32)>;

impl Schedule {
    /// Whether each pair is worked with both its neighbours.
    pub fn is_closed(&self) -> bool {
        (0..self.pairs_around).all(|i| self.steps.iter().any(|step| step.0 == i))
    }

    /// For a step: its two sides with the pair each works and the column of
    /// the stitch relative to that pair's column.
    fn sides(&self, left: usize) -> [(Side, usize, i32); 2] {
        let wraps = left + 1 == self.pairs_around;
        [(Side::Left, left, 0), (Side::Right, if wraps { 0 } else { left + 1 }, if wraps { -1 } else { 0 })]
    }

    /// The pairs at the end of the period, each with the exit it left by.
    fn last(&self) -> Vec<Held> {
        let mut held = vec![None; self.pairs_around];
        for (s, (left, _)) in self.steps.iter().enumerate() {
            for (side, pair, column) in self.sides(*left) {
                held[pair] = Some((End::new(s, side), column));
            }
        }
        held
    }

    /// The schedule as a repeat: as wide as its pairs, one period high. Pairs
    /// that no step works are left out.
    pub fn repeat(&self) -> Repeat {
        let mut held: Vec<(Held, i32)> = self.last().into_iter().map(|h| (h, 1)).collect();
        let mut legs = Vec::new();
        for (s, (left, _)) in self.steps.iter().enumerate() {
            for (side, pair, column) in self.sides(*left) {
                let (Some((from, from_column)), down) = held[pair] else {
                    unreachable!("the step itself works the pair");
                };
                let cell = [column - from_column, down].into();
                legs.push(Leg { from, to: End::new(s, side), cell, twists: 0 });
                held[pair] = (Some((End::new(s, side), column)), 0);
            }
        }
        let stitches = self.steps.iter().enumerate().map(|(s, (left, work))| PlacedStitch {
            id: format!("s{s}"),
            at: Some(point(*left as f64, s as f64)),
            stitch: work.clone(),
        });
        Repeat {
            lattice: Lattice {
                across: point(self.pairs_around as f64, 0.0),
                down: point(0.0, self.steps.len() as f64),
            },
            stitches: stitches.collect(),
            legs,
        }
    }

    /// The pair, numbered without end from left to right, that hangs at the
    /// top on a leg which leaves `exit` in a column.
    pub fn pair_of(&self, exit: End, column: i64) -> i64 {
        let (pair, of_stitch) = self
            .last()
            .iter()
            .enumerate()
            .find_map(|(pair, held)| held.filter(|h| h.0 == exit).map(|h| (pair, h.1)))
            .expect("the exit is the last of a pair");
        pair as i64 + (column - i64::from(of_stitch)) * self.pairs_around as i64
    }

    /// Where the thread in each slot is after one period, without end.
    pub fn trace(&self) -> Vec<i64> {
        let around = 2 * self.pairs_around as i64;
        // The thread in each slot of one turn, by its first slot.
        let mut holds: Vec<i64> = (0..around).collect();
        for (left, work) in &self.steps {
            let slots: [i64; 4] = std::array::from_fn(|k| 2 * *left as i64 + k as i64);
            let order = work.end_order();
            let read = |slot: i64| holds[slot.rem_euclid(around) as usize] + slot.div_euclid(around) * around;
            let before = slots.map(read);
            for (k, slot) in slots.into_iter().enumerate() {
                holds[slot.rem_euclid(around) as usize] = before[order[k]] - slot.div_euclid(around) * around;
            }
        }
        let mut ends = vec![0; holds.len()];
        for (slot, thread) in holds.into_iter().enumerate() {
            ends[thread.rem_euclid(around) as usize] = slot as i64 - thread.div_euclid(around) * around;
        }
        ends
    }
}
