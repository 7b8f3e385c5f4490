//! Steering: which single stitch to change so that a hanging pair stays, or
//! travels to one side.

use crate::ground::Ground;
use crate::lattice::upright::Direction;
use crate::limits::MAX_TRIED_MOVES;
use crate::repeat::Repeat;
use crate::stitch::{Move, Stitch};
use crate::threads::courses::Travel;
use crate::threads::orbits::orbits;
use crate::threads::routes::{Routes, end_of_leg};

/// A changed stitch.
#[derive(Clone, Debug)]
pub struct StitchChange {
    /// Position of the stitch in the repeat.
    pub position: usize,
    /// The stitch to work there instead.
    pub stitch: Stitch,
    /// How many moves are added, left out or replaced (Levenshtein distance).
    pub moves: usize,
    /// The ground with the changed stitch.
    pub ground: Ground,
}

/// Where a pair should go.
#[derive(Clone, Copy)]
struct Wish {
    /// The pair, counted from 0 at the left as they hang.
    pair: usize,
    travel: Travel,
}

impl Ground {
    /// Whether a pair, counted from 0 at the left as they hang, travels or
    /// stays; `None` when its two threads go different ways.
    pub fn travel_of_pair(&self, pair: usize) -> Option<Travel> {
        let [left, right] = [2 * pair, 2 * pair + 1].map(|slot| self.slot_course(slot));
        (left.direction == right.direction).then_some(left.travel)
    }

    /// Every single stitch that can be changed, with crosses and twists alone, to
    /// send a pair where it should go. Each has the change nearest to its present
    /// moves; the smallest changes come first.
    ///
    /// Stitches of up to `longest` moves ([`MAX_TRIED_MOVES`] at the most) are
    /// tried. A pin stays a pin: at the same end of the stitch, or in its middle.
    pub fn steering_changes(&self, pair: usize, travel: Travel, longest: usize) -> Vec<StitchChange> {
        let sequences = sequences(longest.min(MAX_TRIED_MOVES));
        let wish = Wish { pair, travel };
        let mut found: Vec<StitchChange> = (0..self.stitches().len())
            .filter_map(|stitch| self.nearest_change(stitch, wish, &sequences))
            .collect();
        found.sort_by_key(|change| (change.moves, change.stitch.moves().len(), change.position));
        found
    }

    fn nearest_change(&self, position: usize, wish: Wish, sequences: &[Vec<Move>]) -> Option<StitchChange> {
        let own = &self.stitches()[position].stitch;
        let own_moves = own.moves().to_vec();
        let distance = |moves: &Vec<Move>| strsim::generic_levenshtein(&own_moves, moves);
        let mut tried: Vec<(usize, &Vec<Move>)> = sequences
            .iter()
            .map(|moves| (distance(moves), moves))
            .filter(|(distance, _)| *distance > 0)
            .collect();
        tried.sort_by_key(|&(distance, moves)| (distance, moves.len()));
        // Only where the threads end matters, and there are only 24 possibilities.
        let mut useless: Vec<[usize; 4]> = Vec::new();
        tried.into_iter().find_map(|(distance, moves)| {
            let stitch = Stitch::new(moves.clone(), own.pin().map(|at| moved_pin(at, own, moves))).ok()?;
            if useless.contains(&stitch.end_order()) {
                return None;
            }
            let mut repeat = self.repeat().clone();
            repeat.stitches[position].stitch = stitch.clone();
            if !self.would_go(&repeat, wish) {
                useless.push(stitch.end_order());
                return None;
            }
            let ground = Ground::new(repeat).ok()?;
            (ground.travel_of_pair(wish.pair) == Some(wish.travel)).then_some(StitchChange {
                position,
                stitch,
                moves: distance,
                ground,
            })
        })
    }

    /// Whether both threads of the pair go where they should in a repeat with the
    /// wiring of this one.
    fn would_go(&self, repeat: &Repeat, wish: Wish) -> bool {
        let orbits = orbits(repeat, &Routes::new(repeat, self.wiring()));
        let hung = &self.hanging().pairs()[wish.pair % self.hanging().pairs().len()];
        [0, 1].into_iter().all(|lane| {
            let entry = end_of_leg(repeat, hung.leg, lane);
            let orbit = orbits.iter().find(|o| o.entries.contains(&entry));
            let direction = orbit.map(|o| Direction::of(self.upright().to_upright(o.cells)));
            direction.is_some_and(|d| Travel::of(self.upright(), d) == wish.travel)
        })
    }
}

/// Where the pin stands when a stitch is worked with other moves.
fn moved_pin(at: usize, own: &Stitch, moves: &[Move]) -> usize {
    match at {
        0 => 0,
        at if at == own.moves().len() => moves.len(),
        _ => moves.len().div_ceil(2),
    }
}

/// All sequences of 1 to `longest` crosses and twists in which, as on the
/// pillow, no cross follows a cross.
fn sequences(longest: usize) -> Vec<Vec<Move>> {
    let mut all: Vec<Vec<Move>> = vec![Vec::new()];
    let mut from = 0;
    for _ in 0..longest {
        let to = all.len();
        for k in from..to {
            for next in [Move::Cross, Move::Twist] {
                if next == Move::Cross && all[k].last() == Some(&Move::Cross) {
                    continue;
                }
                let mut moves = all[k].clone();
                moves.push(next);
                all.push(moves);
            }
        }
        from = to;
    }
    all.remove(0);
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::repeat::samples::{rose, torchon};

    #[test]
    fn sequences_are_all_there() {
        // Fibonacci numbers: no two crosses in succession.
        assert_eq!(sequences(3).len(), 2 + 3 + 5);
        assert_eq!(sequences(6).len(), 2 + 3 + 5 + 8 + 13 + 21);
    }

    // Common practice, no source: half stitches on either side of the pin let
    // the pairs travel, cloth stitches and twists keep them.
    #[test]
    fn torchon_is_steered_by_its_one_stitch() {
        let ground = Ground::new(torchon("CT pin CT", 0)).unwrap();
        let pair = (0..2).find(|&p| ground.travel_of_pair(p) == Some(Travel::Right)).unwrap();
        let stay = ground.steering_changes(pair, Travel::Stays, 8);
        assert_eq!(stay.len(), 1);
        assert_eq!(stay[0].ground.travel_of_pair(pair), Some(Travel::Stays));
        assert!(stay[0].moves <= 4 && stay[0].stitch.pin().is_some(), "{}", stay[0].stitch);
        // It cannot be sent to the other side: the wiring leads to the right.
        assert!(ground.steering_changes(pair, Travel::Left, 8).is_empty());
        let double = Ground::new(torchon("CTCT pin CTCT", 0)).unwrap();
        assert_eq!(double.travel_of_pair(0), Some(Travel::Stays));
        let go = double.steering_changes(0, ground.travel_of_pair(0).unwrap(), 8);
        assert_eq!(go.len(), 1);
    }

    #[test]
    fn every_change_does_what_it_says() {
        let ground = Ground::new(rose("CTCT", "CT pin CT")).unwrap();
        for wish in [Travel::Left, Travel::Stays, Travel::Right] {
            for pair in 0..4 {
                for change in ground.steering_changes(pair, wish, 6) {
                    assert_eq!(change.ground.travel_of_pair(pair), Some(wish));
                    let changed: Vec<usize> = (0..6)
                        .filter(|&s| change.ground.stitches()[s].stitch != ground.stitches()[s].stitch)
                        .collect();
                    assert_eq!(changed, [change.position]);
                    let pin = |g: &Ground| g.stitches()[change.position].stitch.pin().is_some();
                    assert_eq!(pin(&change.ground), pin(&ground));
                }
            }
        }
    }
}
