//! Symmetries of a ground that keep the lace growing down: shifts, also inside
//! the repeat, and mirrors left to right. Over and under are left out of
//! account, as a mirror always exchanges them.

use crate::ground::Ground;
use crate::repeat::{End, Side};

/// How a symmetry acts on the slots of the hanging threads: slot `s` goes to
/// `images[s]` for the slots of one upright repeat, and to
/// `images[s mod p] + direction * (s - s mod p)` for the others, where p is the
/// number of slots in a repeat.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SlotMap {
    images: Vec<i64>,
    direction: i64,
}

impl SlotMap {
    /// Where slot `s` goes.
    pub fn apply(&self, s: i64) -> i64 {
        let period = self.images.len() as i64;
        let inside = s.rem_euclid(period);
        self.images[inside as usize] + self.direction * (s - inside)
    }

    /// Whether it exchanges left and right.
    pub fn mirrors(&self) -> bool {
        self.direction < 0
    }
}

/// A map of the repeat onto itself: for each stitch, its image and that
/// image's cell.
type Automorphism = Vec<(usize, [i64; 2])>;

impl Ground {
    /// Generators of the symmetries, as they act on the hanging threads: the
    /// shift by an upright repeat, the shift by a row of repeats, shifts inside
    /// the repeat, and a mirror if the ground has one.
    pub fn slot_symmetries(&self) -> Vec<SlotMap> {
        let period = 2 * self.hanging().pairs().len() as i64;
        let shift = SlotMap { images: (0..period).map(|s| s + period).collect(), direction: 1 };
        let row_inverse = self.hanging().row().inverse();
        let down = SlotMap { images: (0..period).map(|s| row_inverse.apply(s)).collect(), direction: 1 };
        let mut maps = vec![shift, down];
        for image in 1..self.stitches().len() {
            maps.extend(self.automorphism(image, false).map(|a| self.slot_map(&a, false)));
        }
        maps.extend(self.mirror().map(|a| self.slot_map(&a, true)));
        maps
    }

    /// Whether the ground is its own mirror image, over and under apart.
    pub fn is_mirror_symmetric(&self) -> bool {
        self.mirror().is_some()
    }

    fn mirror(&self) -> Option<Automorphism> {
        (0..self.stitches().len()).find_map(|image| self.automorphism(image, true))
    }

    /// How cells are reflected when left and right are exchanged; `None` when
    /// the lattice has no upright mirror.
    fn mirrored_cells(&self) -> Option<[[i64; 2]; 2]> {
        let lattice = self.lattice();
        let area = lattice.area();
        let mut rows = [[0; 2]; 2];
        for (column, step) in [lattice.across, lattice.down].into_iter().enumerate() {
            // Coordinates of the reflected step in the lattice (Cramer's rule).
            let (x, y) = (-step.x, step.y);
            let i = (x * lattice.down.y - y * lattice.down.x) / area;
            let j = (lattice.across.x * y - lattice.across.y * x) / area;
            for (row, value) in [i, j].into_iter().enumerate() {
                if (value - value.round()).abs() > 1e-6 {
                    return None;
                }
                rows[row][column] = value.round() as i64;
            }
        }
        Some(rows)
    }

    /// The symmetry that takes the first stitch to `image` (in cell 0, 0), if
    /// there is one. It is unique: everything else follows along the legs.
    fn automorphism(&self, image: usize, mirror: bool) -> Option<Automorphism> {
        let cells = if mirror { self.mirrored_cells()? } else { [[1, 0], [0, 1]] };
        let turn = |side: Side| if mirror { side.other() } else { side };
        let mut found: Vec<Option<(usize, [i64; 2])>> = vec![None; self.stitches().len()];
        found[0] = Some((image, [0, 0]));
        let mut graph = petgraph::graph::UnGraph::<(), usize>::new_undirected();
        let nodes: Vec<_> = self.stitches().iter().map(|_| graph.add_node(())).collect();
        for (l, leg) in self.legs().iter().enumerate() {
            graph.add_edge(nodes[leg.from.stitch], nodes[leg.to.stitch], l);
        }
        let mut visit = petgraph::visit::Bfs::new(&graph, nodes[0]);
        while let Some(node) = visit.next(&graph) {
            let s = node.index();
            let (t, _) = found[s]?;
            let work = &self.stitches()[s].stitch;
            let same = if mirror {
                work.mirrored() == self.stitches()[t].stitch
            } else {
                *work == self.stitches()[t].stitch
            };
            if !same {
                return None;
            }
            for edge in graph.edges(node) {
                let leg = &self.legs()[*edge.weight()];
                for forward in [true, false] {
                    let (here, there) = if forward { (leg.from, leg.to) } else { (leg.to, leg.from) };
                    if here.stitch != s {
                        continue;
                    }
                    let end = End::new(t, turn(here.side));
                    let other = &self.legs()[if forward { self.leg_from(end) } else { self.leg_to(end) }];
                    let (landing, sign) = if forward { (other.to, 1) } else { (other.from, -1) };
                    if other.twists != leg.twists || landing.side != turn(there.side) {
                        return None;
                    }
                    let [i, j] = leg.cell.map(i64::from);
                    // The cell of `there`, seen from `here`'s, reflected.
                    let reflected = [cells[0][0] * i + cells[0][1] * j, cells[1][0] * i + cells[1][1] * j];
                    let base = found[s]?.1;
                    let at = |k: usize| base[k] + sign * (i64::from(other.cell[k]) - reflected[k]);
                    let place = (landing.stitch, [at(0), at(1)]);
                    match found[there.stitch] {
                        None => found[there.stitch] = Some(place),
                        Some(known) if known == place => {}
                        Some(_) => return None,
                    }
                }
            }
        }
        found.into_iter().collect()
    }

    fn slot_map(&self, automorphism: &Automorphism, mirror: bool) -> SlotMap {
        let cells =
            if mirror { self.mirrored_cells().expect("a mirror was found") } else { [[1, 0], [0, 1]] };
        let mut images = Vec::new();
        for pair in self.hanging().pairs() {
            let exit = self.legs()[pair.leg].from;
            let [i, j] = self.upright().to_cell(pair.cell);
            let (stitch, offset) = automorphism[exit.stitch];
            let cell = [
                offset[0] + cells[0][0] * i + cells[0][1] * j,
                offset[1] + cells[1][0] * i + cells[1][1] * j,
            ];
            let order = self.stitches()[stitch].stitch.end_order();
            for thread in 0..2 {
                let position = 2 * exit.side.index() + thread;
                let position = if mirror { 3 - position } else { position };
                images.push(self.hanging().origin(stitch, order[position], self.upright().from_cell(cell)));
            }
        }
        SlotMap { images, direction: if mirror { -1 } else { 1 } }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::repeat::samples::{rose, torchon};

    #[test]
    fn grounds_known_to_be_symmetrical_are() {
        for repeat in [torchon("CT pin CT", 0), torchon("CTTT pin", 1), rose("CTCT", "CT pin CT")] {
            assert!(Ground::new(repeat).unwrap().is_mirror_symmetric());
        }
        let mut uneven = torchon("CT pin CT", 0);
        uneven.legs[0].twists = 1;
        assert!(!Ground::new(uneven).unwrap().is_mirror_symmetric());
        assert!(!Ground::new(torchon("CT twist-left", 0)).unwrap().is_mirror_symmetric());
    }

    #[test]
    fn the_mirror_exchanges_outer_slots() {
        let ground = Ground::new(rose("CTCT", "CT pin CT")).unwrap();
        let mirror = ground.slot_symmetries().into_iter().find(SlotMap::mirrors).unwrap();
        let images: Vec<i64> = (0..8).map(|s| mirror.apply(s)).collect();
        // Doing it twice is a shift by whole repeats (or rows).
        let twice: Vec<i64> = (0..8).map(|s| mirror.apply(mirror.apply(s)) - s).collect();
        assert!(images.windows(2).all(|w| w[1] == w[0] - 1), "{images:?}");
        assert!(twice.iter().all(|d| d % 8 == 0), "{twice:?}");
    }

    #[test]
    fn a_doubled_repeat_has_a_shift_inside() {
        // Torchon over two rows: the second stitch is the first one again.
        let mut repeat = torchon("CT pin CT", 0);
        repeat.lattice.across = crate::repeat::point(2.0, 0.0);
        repeat.lattice.down = crate::repeat::point(0.0, 2.0);
        let mut second = repeat.stitches[0].clone();
        second.id = "second".into();
        second.at = Some(crate::repeat::point(1.0, 1.0));
        repeat.stitches.push(second);
        let leg = |from: usize, a, to: usize, b, cell| crate::repeat::Leg {
            from: End::new(from, a),
            to: End::new(to, b),
            cell,
            twists: 0,
        };
        let (l, r) = (Side::Left, Side::Right);
        repeat.legs = vec![
            leg(0, l, 1, r, [-1, 0]),
            leg(0, r, 1, l, [0, 0]),
            leg(1, l, 0, r, [0, 1]),
            leg(1, r, 0, l, [1, 1]),
        ];
        let ground = Ground::new(repeat).unwrap();
        // Two whole shifts, one inside, one mirror.
        assert_eq!(ground.slot_symmetries().len(), 4);
    }
}
