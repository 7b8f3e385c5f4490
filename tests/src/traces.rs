//! Grounds traced thread by thread outside this program.
//!
//! Source: `ground_thread_traces.json`. Orders of stitches and pairs read in
//! Th. de Dillmont, Encyclopedia of Needlework (Project Gutenberg 20776), and
//! J. Edkins, online lace tutorial; traces computed with sympy 1.14.0.

use std::collections::BTreeMap;

use serde::Deserialize;

use crate::data;
use crate::schedule::Schedule;

#[derive(Deserialize)]
struct Traces {
    grounds: BTreeMap<String, Trace>,
}

/// A schedule and where its threads go. Slots are the threads of the pairs
/// round the cylinder, counted from 0.
#[derive(Deserialize)]
pub struct Trace {
    /// The schedule.
    #[serde(flatten)]
    pub schedule: Schedule,
    /// The slot in which the thread of each slot is after one period.
    pub permutation_after_one_period: Vec<i64>,
    /// How often it has gone round the cylinder then.
    pub turns_after_one_period: Vec<i64>,
    /// Periods after which all threads are back in their slots.
    pub order: usize,
    /// The cycles of the slots.
    pub cycles: Vec<Cycle>,
    /// Number of different threads in a repeat.
    pub distinct_threads_per_repeat: usize,
    /// Whether the two threads of each pair are together again after a period.
    pub pairs_reunited_after_period: bool,
    /// Whether no stitch parts the threads of a pair.
    pub every_stitch_keeps_pairs: bool,
    /// Whether every thread goes alternately over and under.
    pub alternating: bool,
    /// Crossings of two threads in one period.
    pub crossings_per_period: usize,
}

/// Slots through which one thread goes.
#[derive(Deserialize)]
pub struct Cycle {
    /// The slots, in the order in which it comes to them.
    pub slots: Vec<usize>,
    /// Periods until it is back in the first.
    pub periods: i64,
    /// How often it has gone round the cylinder then.
    pub net_turns: i64,
}

impl Trace {
    /// Where each slot goes, without end.
    pub fn images(&self) -> Vec<i64> {
        let around = 2 * self.schedule.pairs_around as i64;
        let images = self.permutation_after_one_period.iter().zip(&self.turns_after_one_period);
        images.map(|(slot, turns)| slot + turns * around).collect()
    }
}

/// All traces, by name.
///
/// # Panics
/// If there are fewer than there should be.
pub fn traces() -> BTreeMap<String, Trace> {
    let traces: Traces = data::json("ground_thread_traces.json");
    assert!(traces.grounds.len() >= 28);
    traces.grounds
}
