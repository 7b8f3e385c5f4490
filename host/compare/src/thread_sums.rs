//! Facts about the threads of a ground that do not depend on colours: how long
//! each is, and which of them cross. The figures for an arrangement are sums of
//! these.

use indexmap::IndexMap;
use lace::limits::MAX_CROSSINGS_COUNTED;
use lace::{Arrangement, Ground, UprightCell};
use picture::layout::Layout;

/// The threads of a ground for arrangements of one length.
#[derive(Clone, Debug)]
pub struct ThreadSums {
    /// Pairs until ground and arrangement both repeat.
    pairs: usize,
    /// Mean length of the thread in each slot of a repeat along one row of
    /// repeats, in mm.
    lengths: Vec<f64>,
    /// Slots until ground and arrangement both repeat, and slots of one repeat.
    slots: [usize; 2],
    /// How often the threads of two slots cross in the first repeat of every row;
    /// farther right the same threads cross, shifted by whole repeats.
    crossings: Vec<(usize, usize, usize)>,
}

/// How often the colours of an arrangement meet on a ground.
#[derive(Clone, Debug, PartialEq)]
pub struct Meeting {
    /// The share of all crossings at which two colours meet.
    pub mixing: f64,
    /// For each two different colours, the smaller number first, the share of all
    /// crossings at which they meet.
    pub pairs: Vec<(u8, u8, f64)>,
}

impl ThreadSums {
    /// The threads for arrangements of `length` pairs.
    pub fn new(ground: &Ground, layout: &Layout, length: usize) -> ThreadSums {
        let pairs = ground.pairs_until_both_repeat(length);
        let slots = [2 * pairs, 2 * ground.hanging().pairs().len()];
        ThreadSums { pairs, lengths: lengths(ground, layout), slots, crossings: crossings(ground, slots) }
    }

    /// Whether these threads suit arrangements of `length` pairs.
    pub fn suit(&self, ground: &Ground, length: usize) -> bool {
        ground.pairs_until_both_repeat(length) == self.pairs
    }

    /// Each colour's share of all thread, by length, averaged over the lace.
    pub fn length_shares(&self, arrangement: &Arrangement, count: usize) -> Vec<f64> {
        let threads = arrangement.extended(self.pairs).threads();
        let mut shares = vec![0.0; count];
        let mut all = 0.0;
        for (slot, colour) in threads.iter().enumerate() {
            let length = self.lengths[slot % self.lengths.len()];
            all += length;
            if let Some(share) = shares.get_mut(*colour as usize) {
                *share += length;
            }
        }
        shares.iter().map(|share| if all > 0.0 { share / all } else { 0.0 }).collect()
    }

    /// How often threads of different colours cross.
    pub fn meeting(&self, arrangement: &Arrangement) -> Meeting {
        let threads = arrangement.extended(self.pairs).threads();
        let mut counts: IndexMap<(u8, u8), usize> = IndexMap::new();
        let mut all = 0;
        let [slots, own] = self.slots;
        for &(a, b, times) in &self.crossings {
            for by in (0..slots).step_by(own) {
                all += times;
                let [a, b] = [a, b].map(|slot| threads[(slot + by) % slots]);
                if a != b {
                    *counts.entry((a.min(b), a.max(b))).or_default() += times;
                }
            }
        }
        counts.sort_unstable_keys();
        let share = |times: usize| if all > 0 { times as f64 / all as f64 } else { 0.0 };
        Meeting {
            mixing: share(counts.values().sum()),
            pairs: counts.into_iter().map(|((a, b), times)| (a, b, share(times))).collect(),
        }
    }
}

/// Length of the thread of each slot along one row of repeats: the length of its
/// closed line divided by the number of rows it covers.
fn lengths(ground: &Ground, layout: &Layout) -> Vec<f64> {
    let orbit_of = ground.entry_orbits();
    let mut around = vec![0.0; ground.orbits().len()];
    for (segment, line) in ground.braid().segments.iter().zip(&layout.lines) {
        let orbit = orbit_of[segment.entry.stitch][segment.entry.position];
        around[orbit] += line.windows(2).map(|w| (w[1] - w[0]).length()).sum::<f64>();
    }
    let rows = |orbit: usize| ground.upright().to_upright(ground.orbits()[orbit].cells).row;
    ground.slot_orbits().iter().map(|&orbit| around[orbit] / rows(orbit) as f64).collect()
}

/// How often the threads of each two slots cross in the first repeat of every row,
/// until all threads have returned; in fewer rows where there are more than
/// [`MAX_CROSSINGS_COUNTED`].
fn crossings(ground: &Ground, [slots, own]: [usize; 2]) -> Vec<(usize, usize, usize)> {
    let nodes = ground.braid().nodes.len().max(1);
    let [in_one, in_all] = MAX_CROSSINGS_COUNTED;
    let most = (in_one / nodes).min(in_all / (nodes * (slots / own))).max(1);
    let rows = ground.hanging().rows_until_threads_return(slots).min(most);
    let mut counts: IndexMap<(usize, usize), usize> = IndexMap::new();
    let segments = &ground.braid().segments;
    for node in 0..ground.braid().nodes.len() {
        let mut crossing = [segments[2 * node], segments[2 * node + 1]]
            .map(|s| ground.hanging().origin(s.entry, UprightCell::ORIGIN));
        for _ in 0..rows {
            let [a, b] = crossing.map(|slot| slot.rem_euclid(slots as i64) as usize);
            *counts.entry((a.min(b), a.max(b))).or_default() += 1;
            crossing = crossing.map(|slot| ground.hanging().row_inverse().apply(slot));
        }
    }
    counts.into_iter().map(|((a, b), times)| (a, b, times)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use lace::Grid;
    use lace::samples::torchon;
    use picture::layout::lay_out;

    fn threads(work: &str, length: usize) -> ThreadSums {
        let ground = Ground::new(torchon(work, 0)).unwrap();
        let layout = lay_out(&ground, &Grid::new(4.0, 45.0).unwrap(), 4.0 / 12.0);
        ThreadSums::new(&ground, &layout, length)
    }

    #[test]
    fn lengths_are_shared_as_the_colours_hang() {
        // All threads of the torchon ground are of one length, by symmetry.
        let threads = threads("CT pin CT", 4);
        let shares = threads.length_shares(&"A A A B".parse().unwrap(), 2);
        assert!((shares[0] - 0.75).abs() < 0.02 && (shares[0] + shares[1] - 1.0).abs() < 1e-12, "{shares:?}");
    }

    // By hand: two pairs, a a b b, cross and twist: the first cross brings a and
    // b together, and so do both threads' twists after it and the second cross;
    // only the last two twists lie within a pair. So 4 of 6 crossings are
    // between pairs, and in the double torchon ground, where pairs stay, every
    // stitch is worked with a neighbour in the other colour.
    #[test]
    fn colours_meet_where_their_threads_cross() {
        let threads = threads("CTCT pin CTCT", 2);
        let one = threads.meeting(&"A A".parse().unwrap());
        assert_eq!((one.mixing, one.pairs.len()), (0.0, 0));
        let two = threads.meeting(&"A B".parse().unwrap());
        assert_eq!(two.pairs.len(), 1);
        assert!((two.mixing - 4.0 / 6.0).abs() < 1e-12, "{}", two.mixing);
    }
}
