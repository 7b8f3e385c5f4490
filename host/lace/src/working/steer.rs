//! Steering: which single stitch to work otherwise so that a hanging pair
//! stays, or travels to one side.

use crate::ground::Ground;
use crate::repeat::Repeat;
use crate::stitch::{Move, Stitch};
use crate::threads::orbits::{Travel, orbits};

/// A stitch worked otherwise.
#[derive(Clone, Debug)]
pub struct StitchChange {
    /// Position of the stitch in the repeat.
    pub position: usize,
    /// What is worked there.
    pub stitch: Stitch,
    /// How many moves are added, left out or exchanged for it (Levenshtein's
    /// distance).
    pub moves: usize,
    /// The ground worked so.
    pub ground: Ground,
}

/// Longest work that is tried.
pub const LONGEST_TRIED: usize = 10;

impl Ground {
    /// Whether a pair, counted from 0 at the left as they hang, travels or
    /// stays; `None` when its two threads go different ways.
    pub fn travel_of_pair(&self, pair: usize) -> Option<Travel> {
        let courses = self.slot_courses();
        let first = 2 * pair % courses.len();
        let [a, b] = [courses[first], courses[first + 1]];
        let together = a.travel == b.travel && (a.slope - b.slope).abs() < 1e-9;
        together.then_some(a.travel)
    }

    /// Every stitch that, worked otherwise with crosses and twists alone, makes
    /// a pair go as wished, with the work nearest to the one it has; the
    /// smallest changes first.
    ///
    /// Works of up to `longest` moves ([`LONGEST_TRIED`] at the most) are
    /// tried. A pin stays a pin: at the same end of the work, or in its middle.
    pub fn works_that_steer(&self, pair: usize, wish: Travel, longest: usize) -> Vec<StitchChange> {
        let words = words(longest.min(LONGEST_TRIED));
        let mut found: Vec<StitchChange> = (0..self.stitches().len())
            .filter_map(|stitch| self.nearest_work(stitch, pair, wish, &words))
            .collect();
        found.sort_by_key(|change| (change.moves, change.stitch.moves().len(), change.position));
        found
    }

    fn nearest_work(
        &self,
        stitch: usize,
        pair: usize,
        wish: Travel,
        words: &[Vec<Move>],
    ) -> Option<StitchChange> {
        let own = &self.stitches()[stitch].stitch;
        let own_moves = own.moves().to_vec();
        let far = |word: &Vec<Move>| strsim::generic_levenshtein(&own_moves, word);
        let mut words: Vec<(usize, &Vec<Move>)> =
            words.iter().map(|word| (far(word), word)).filter(|(far, _)| *far > 0).collect();
        words.sort_by_key(|&(far, word)| (far, word.len()));
        // Where threads end is all that decides; there are but 24 ways.
        let mut useless: Vec<[usize; 4]> = Vec::new();
        words.into_iter().find_map(|(moves, word)| {
            let pin = own.pin().map(|at| match at {
                0 => 0,
                at if at == own.moves().len() => word.len(),
                _ => word.len().div_ceil(2),
            });
            let work = Stitch::new(word.clone(), pin).ok()?;
            if useless.contains(&work.end_order()) {
                return None;
            }
            let mut repeat = self.repeat().clone();
            repeat.stitches[stitch].stitch = work.clone();
            if !self.would_go(&repeat, pair, wish) {
                useless.push(work.end_order());
                return None;
            }
            let ground = Ground::new(repeat).ok()?;
            (ground.travel_of_pair(pair) == Some(wish)).then_some(StitchChange {
                position: stitch,
                stitch: work,
                moves,
                ground,
            })
        })
    }

    /// Whether both threads of a pair go as wished in a repeat with the wiring
    /// of this one.
    fn would_go(&self, repeat: &Repeat, pair: usize, wish: Travel) -> bool {
        let exits: Vec<usize> =
            (0..2 * repeat.stitches.len()).map(|d| self.leg_from(crate::repeat::End::from_dart(d))).collect();
        let orbits = orbits(repeat, &exits);
        let hung = &self.hanging().pairs()[pair % self.hanging().pairs().len()];
        let leg = &repeat.legs[hung.leg];
        (0..2).all(|thread| {
            let entry = (leg.to.stitch, 2 * leg.to.side.index() + thread);
            let orbit = orbits.iter().find(|o| o.entries.contains(&entry));
            orbit.is_some_and(|o| self.travel(o) == wish)
        })
    }
}

/// All words of crosses and twists of 1 to `longest` moves in which, as on the
/// pillow, no cross follows a cross.
fn words(longest: usize) -> Vec<Vec<Move>> {
    let mut all: Vec<Vec<Move>> = vec![Vec::new()];
    let mut from = 0;
    for _ in 0..longest {
        let to = all.len();
        for k in from..to {
            for next in [Move::Cross, Move::Twist] {
                if next == Move::Cross && all[k].last() == Some(&Move::Cross) {
                    continue;
                }
                let mut word = all[k].clone();
                word.push(next);
                all.push(word);
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
    fn words_are_all_there() {
        // Fibonacci's numbers: none with two crosses running.
        assert_eq!(words(3).len(), 2 + 3 + 5);
        assert_eq!(words(6).len(), 2 + 3 + 5 + 8 + 13 + 21);
    }

    // Common practice, no source: half stitches on either side of the pin let
    // the pairs travel, cloth stitches and twists keep them.
    #[test]
    fn torchon_is_steered_by_its_one_stitch() {
        let ground = Ground::new(torchon("CT pin CT", 0)).unwrap();
        let pair = (0..2).find(|&p| ground.travel_of_pair(p) == Some(Travel::Right)).unwrap();
        let stay = ground.works_that_steer(pair, Travel::Stays, 8);
        assert_eq!(stay.len(), 1);
        assert_eq!(stay[0].ground.travel_of_pair(pair), Some(Travel::Stays));
        assert!(stay[0].moves <= 4 && stay[0].stitch.pin().is_some(), "{}", stay[0].stitch);
        // It cannot be sent to the other side: the wiring leads to the right.
        assert!(ground.works_that_steer(pair, Travel::Left, 8).is_empty());
        let double = Ground::new(torchon("CTCT pin CTCT", 0)).unwrap();
        assert_eq!(double.travel_of_pair(0), Some(Travel::Stays));
        let go = double.works_that_steer(0, ground.travel_of_pair(0).unwrap(), 8);
        assert_eq!(go.len(), 1);
    }

    #[test]
    fn every_change_does_what_it_says() {
        let ground = Ground::new(rose("CTCT", "CT pin CT")).unwrap();
        for wish in [Travel::Left, Travel::Stays, Travel::Right] {
            for pair in 0..4 {
                for change in ground.works_that_steer(pair, wish, 6) {
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
