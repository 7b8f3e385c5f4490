//! A ground: a repeat in which the check finds no error.

use crate::check::findings::Finding;
use crate::check::{Sound, examine};
use crate::repeat::balanced::balanced_places;
use crate::repeat::map::LaceMap;
use crate::repeat::upright::UprightLattice;
use crate::repeat::{End, Lattice, Leg, PlacedStitch, Point, Repeat};
use crate::threads::braid::Braid;
use crate::threads::hanging::Hanging;
use crate::threads::orbits::{Orbit, orbits};

/// A repeat without errors: the only thing that can be traced, measured or
/// drawn. There is no way to make one but [`Ground::new`].
#[derive(Clone, Debug)]
pub struct Ground {
    repeat: Repeat,
    places: Vec<Point>,
    map: LaceMap,
    leg_of_exit: Vec<usize>,
    leg_of_entry: Vec<usize>,
    upright: UprightLattice,
    braid: Braid,
    orbits: Vec<Orbit>,
    hanging: Hanging,
    warnings: Vec<Finding>,
}

impl Ground {
    /// Checks a repeat.
    ///
    /// # Errors
    /// All findings, warnings too, when at least one is an error.
    pub fn new(repeat: Repeat) -> Result<Ground, Vec<Finding>> {
        let (findings, sound) = examine(&repeat);
        let Some(Sound { map, leg_of_exit, leg_of_entry, upright, braid }) = sound else {
            return Err(findings);
        };
        let given: Option<Vec<Point>> = repeat.stitches.iter().map(|s| s.at).collect();
        let places = given.unwrap_or_else(|| balanced_places(&repeat));
        let orbits = orbits(&repeat, &leg_of_exit);
        let hanging = Hanging::new(&repeat, &places, &map, &leg_of_exit, &leg_of_entry, &upright);
        Ok(Ground {
            repeat,
            places,
            map,
            leg_of_exit,
            leg_of_entry,
            upright,
            braid,
            orbits,
            hanging,
            warnings: findings,
        })
    }

    /// The repeat as defined.
    pub fn repeat(&self) -> &Repeat {
        &self.repeat
    }

    /// The lattice of the repeat.
    pub fn lattice(&self) -> &Lattice {
        &self.repeat.lattice
    }

    /// The stitches of one repeat.
    pub fn stitches(&self) -> &[PlacedStitch] {
        &self.repeat.stitches
    }

    /// The legs that leave the stitches of one repeat.
    pub fn legs(&self) -> &[Leg] {
        &self.repeat.legs
    }

    /// Where each stitch lies, in grid steps: as defined, or balanced.
    pub fn places(&self) -> &[Point] {
        &self.places
    }

    /// Height of the topmost stitch, in grid steps.
    pub fn top(&self) -> f64 {
        self.places.iter().map(|p| p.y).fold(f64::INFINITY, f64::min)
    }

    /// The wiring of the pairs.
    pub fn map(&self) -> &LaceMap {
        &self.map
    }

    /// Position in [`Ground::legs`] of the leg that leaves by an exit.
    pub fn leg_from(&self, exit: End) -> usize {
        self.leg_of_exit[exit.dart()]
    }

    /// Position in [`Ground::legs`] of the leg that arrives at an entry.
    pub fn leg_to(&self, entry: End) -> usize {
        self.leg_of_entry[entry.dart()]
    }

    /// The lattice seen upright.
    pub fn upright(&self) -> &UprightLattice {
        &self.upright
    }

    /// The crossings of single threads.
    pub fn braid(&self) -> &Braid {
        &self.braid
    }

    /// The closed threads of the repeat.
    pub fn orbits(&self) -> &[Orbit] {
        &self.orbits
    }

    /// How pairs hang at the top and where each thread comes from.
    pub fn hanging(&self) -> &Hanging {
        &self.hanging
    }

    /// What the check warned of.
    pub fn warnings(&self) -> &[Finding] {
        &self.warnings
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::repeat::samples::{rose, torchon};
    use crate::threads::orbits::Travel;

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
    fn a_thread_keeps_its_origin_from_stitch_to_stitch() {
        for repeat in [torchon("CTCTT pin CT", 1), rose("CTT", "CT pin CTCT"), rose("CT", "CT pin")] {
            let ground = Ground::new(repeat).unwrap();
            let upright = ground.upright();
            for node in 0..ground.braid().nodes.len() {
                for out in [2 * node, 2 * node + 1] {
                    let segment = ground.braid().segments[out];
                    let next = ground.braid().map.arrival(out) ^ 1;
                    let after = ground.braid().segments[next];
                    for cell in [[0, 0], [3, -2], [-1, 4]] {
                        let there = [cell[0] + segment.cell[0], cell[1] + segment.cell[1]];
                        let here = ground.hanging().origin(
                            segment.entry.0,
                            segment.entry.1,
                            upright.from_cell(cell),
                        );
                        let then =
                            ground.hanging().origin(after.entry.0, after.entry.1, upright.from_cell(there));
                        assert_eq!(here, then, "segment {out} in cell {cell:?}");
                    }
                }
            }
        }
    }
}
