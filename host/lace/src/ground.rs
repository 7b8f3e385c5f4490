//! A ground: a repeat in which the check finds no error, with the facts about
//! its threads that are needed repeatedly.

use std::ops::Deref;
use std::sync::OnceLock;

use crate::check::findings::Finding;
use crate::check::{Sound, examine};
use crate::measures::counts::Counts;
use crate::repeat::Repeat;
use crate::repeat::map::LaceMap;
use crate::repeat::wiring::Wired;
use crate::stitch::PairEffect;
use crate::threads::courses::{Course, ThreadCourse, courses};
use crate::threads::ground_symmetry::{SlotMap, slot_symmetries};
use crate::threads::hanging::Hanging;
use crate::threads::lacework::Lacework;
use crate::threads::orbits::{Orbit, entry_orbits, orbits};
use crate::threads::routes::end_of_leg;

/// A repeat without errors: the only thing that can be traced, measured or
/// drawn. [`Ground::new`] is the only constructor.
#[derive(Clone, Debug)]
pub struct Ground {
    lacework: Lacework,
    orbits: Vec<Orbit>,
    entry_orbits: Vec<[usize; 4]>,
    slot_orbits: Vec<usize>,
    orbit_courses: Vec<ThreadCourse>,
    courses: Vec<Course>,
    hanging: Hanging,
    keeps_pairs: bool,
    counts: Counts,
    /// Computed on first use: a ground that is only drawn never needs them.
    symmetries: OnceLock<Vec<SlotMap>>,
    warnings: Vec<Finding>,
}

impl Deref for Ground {
    type Target = Lacework;

    /// Its stitches, legs and crossings.
    fn deref(&self) -> &Lacework {
        &self.lacework
    }
}

impl Ground {
    /// Checks a repeat. The limits of its size are in [`crate::limits`].
    ///
    /// # Errors
    /// All findings, warnings too, when at least one is an error.
    pub fn new(repeat: Repeat) -> Result<Ground, Vec<Finding>> {
        let examined = examine(&repeat);
        let Some(Sound { wiring, upright, routes, braid, places }) = examined.sound else {
            return Err(examined.findings);
        };
        let hanging = Hanging::new(Wired { repeat: &repeat, wiring: &wiring, upright: &upright }, &places);
        let orbits = orbits(&repeat, &routes);
        let orbit_courses: Vec<ThreadCourse> =
            orbits.iter().map(|o| ThreadCourse::new(o, &upright)).collect();
        let entry_orbits = entry_orbits(repeat.stitches.len(), &orbits);
        let slots =
            hanging.pairs().iter().flat_map(|pair| [0, 1].map(|lane| end_of_leg(&repeat, pair.leg, lane)));
        Ok(Ground {
            slot_orbits: slots.map(|entry| entry_orbits[entry.stitch][entry.position]).collect(),
            courses: courses(&orbits, &orbit_courses, &upright),
            counts: Counts::of(&repeat, hanging.pairs().len()),
            keeps_pairs: repeat.stitches.iter().all(|s| s.stitch.pair_effect() != PairEffect::Split),
            symmetries: OnceLock::new(),
            warnings: examined.findings,
            lacework: Lacework::endless(repeat, places, wiring, upright, braid),
            orbits,
            entry_orbits,
            orbit_courses,
            hanging,
        })
    }

    /// Height of the topmost stitch, in grid steps.
    pub fn top(&self) -> f64 {
        self.places().iter().map(|p| p.y).fold(f64::INFINITY, f64::min)
    }

    /// The bare map of the pairs.
    pub fn map(&self) -> &LaceMap {
        self.wiring().map()
    }

    /// The repeat with its wiring and its upright lattice.
    pub(crate) fn wired(&self) -> Wired<'_> {
        Wired { repeat: self.repeat(), wiring: self.wiring(), upright: self.upright() }
    }

    /// The closed threads of the repeat.
    pub fn orbits(&self) -> &[Orbit] {
        &self.orbits
    }

    /// For each stitch and each position of its entry, the number of the closed
    /// thread that enters there.
    pub fn entry_orbits(&self) -> &[[usize; 4]] {
        &self.entry_orbits
    }

    /// For each slot of one repeat, the number of the closed thread that hangs
    /// there.
    pub fn slot_orbits(&self) -> &[usize] {
        &self.slot_orbits
    }

    /// The courses of the threads of an upright repeat, leftmost first.
    pub fn courses(&self) -> &[Course] {
        &self.courses
    }

    /// Where the thread in a slot goes; slots continue to the right without end.
    pub fn slot_course(&self, slot: usize) -> &ThreadCourse {
        &self.orbit_courses[self.slot_orbits[slot % self.slot_orbits.len()]]
    }

    /// How pairs hang at the top and where each thread comes from.
    pub fn hanging(&self) -> &Hanging {
        &self.hanging
    }

    /// Pairs, stitches, pins and moves of one repeat.
    pub fn counts(&self) -> &Counts {
        &self.counts
    }

    /// Whether every stitch keeps its pairs: no stitch sends the two threads
    /// of a pair different ways.
    pub fn keeps_pairs(&self) -> bool {
        self.keeps_pairs
    }

    /// Generators of the symmetries, as they act on the hanging threads: the
    /// shift by an upright repeat, the shift by a row of repeats, shifts inside
    /// the repeat, and a mirror if the ground has one.
    pub fn slot_symmetries(&self) -> &[SlotMap] {
        self.symmetries.get_or_init(|| slot_symmetries(self.wired(), &self.hanging))
    }

    /// Whether the ground is its own mirror image, ignoring over and under.
    pub fn is_mirror_symmetric(&self) -> bool {
        self.slot_symmetries().iter().any(SlotMap::mirrors)
    }

    /// The warnings of the check.
    pub fn warnings(&self) -> &[Finding] {
        &self.warnings
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lattice::cell::UprightCell;
    use crate::repeat::samples::{rose, torchon};
    use crate::threads::courses::Travel;

    // Common practice, no source: half stitch, pin, half stitch sends every
    // pair along its diagonal; cloth stitch and twist either side keeps it.
    #[test]
    fn torchon_travels_and_double_torchon_stays() {
        let travels = |work: &str| {
            let ground = Ground::new(torchon(work, 0)).unwrap();
            ground.courses().iter().map(|c| (c.travel, c.threads)).collect::<Vec<_>>()
        };
        assert_eq!(travels("CT pin CT"), [(Travel::Left, 2), (Travel::Right, 2)]);
        assert_eq!(travels("CTCT pin CTCT"), [(Travel::Stays, 4)]);
        // In `CTTT pin` of each pair one thread runs on and one zigzags.
        assert_eq!(travels("CTTT pin"), [(Travel::Left, 1), (Travel::Stays, 2), (Travel::Right, 1)]);
    }

    #[test]
    fn the_rose_ground_has_four_pairs_and_no_findings() {
        let ground = Ground::new(rose("CTCT", "CT pin CT")).unwrap();
        assert_eq!(ground.warnings(), []);
        assert_eq!(ground.hanging().pairs().len(), 4);
        assert_eq!(ground.map().faces().len(), 6);
    }

    #[test]
    fn each_stitch_of_a_repeat_is_met_once_with_its_places() {
        let ground = Ground::new(rose("CTCT", "CT pin CT")).unwrap();
        let distinct = ground.distinct_stitches();
        assert_eq!(distinct.keys().map(ToString::to_string).collect::<Vec<_>>(), ["CTCT", "CT pin CT"]);
        for (stitch, places) in &distinct {
            assert!(places.iter().all(|&k| ground.stitches()[k].stitch == **stitch), "{stitch}");
        }
        assert_eq!(distinct.values().map(Vec::len).sum::<usize>(), ground.stitches().len());
    }

    #[test]
    fn a_thread_keeps_its_origin_from_stitch_to_stitch() {
        for repeat in [torchon("CTCTT pin CT", 1), rose("CTT", "CT pin CTCT"), rose("CT", "CT pin")] {
            let ground = Ground::new(repeat).unwrap();
            let upright = ground.upright();
            for node in 0..ground.braid().nodes.len() {
                for out in [2 * node, 2 * node + 1] {
                    let segment = ground.braid().segments[out];
                    let next = ground.braid().map.arrival(out) ^ 1;
                    let after = ground.braid().segments[next];
                    for cell in [[0, 0], [3, -2], [-1, 4]].map(UprightCell::from) {
                        let here = ground.hanging().origin(segment.entry, cell);
                        let there = cell + upright.to_upright(segment.cell);
                        let then = ground.hanging().origin(after.entry, there);
                        assert_eq!(here, then, "segment {out} in cell {cell:?}");
                    }
                }
            }
        }
    }
}
