//! Symmetries of a ground that keep the lace growing down: shifts, including
//! those within the repeat, and mirrors that swap left and right. Over and under
//! are ignored, as a mirror always exchanges them.

use petgraph::graph::{NodeIndex, UnGraph};
use petgraph::visit::Bfs;

use crate::lattice::cell::UprightCell;
use crate::repeat::wiring::Wired;
use crate::repeat::{End, Side};
use crate::threads::hanging::Hanging;
use crate::threads::routes::ThreadEntry;

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

/// The copy of a stitch that is the image of a given stitch.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct StitchImage {
    stitch: usize,
    cell: UprightCell,
}

/// A map of the repeat onto itself.
struct Automorphism {
    /// The image of each stitch of the repeat in the cell of the origin.
    images: Vec<StitchImage>,
    mirror: bool,
}

/// Generators of the symmetries, as they act on the hanging threads: the shift
/// by an upright repeat, the shift by a row of repeats, shifts within the
/// repeat, and a mirror if the ground has one.
pub(crate) fn slot_symmetries(wired: Wired<'_>, hanging: &Hanging) -> Vec<SlotMap> {
    let period = 2 * hanging.pairs().len() as i64;
    let shift = SlotMap { images: (0..period).map(|s| s + period).collect(), direction: 1 };
    let row_inverse = hanging.row_inverse();
    let down = SlotMap { images: (0..period).map(|s| row_inverse.apply(s)).collect(), direction: 1 };
    let legs = leg_graph(wired);
    let mirror = (0..wired.repeat.stitches.len()).find_map(|image| automorphism(wired, &legs, image, true));
    let mut maps = vec![shift, down];
    maps.extend(shifts_inside(wired, &legs).into_iter().chain(mirror).map(|a| a.slot_map(wired, hanging)));
    maps
}

/// Shifts inside the repeat that generate all others. A shift is known by where it
/// takes the first stitch, so one that others together take there adds nothing.
fn shifts_inside(wired: Wired<'_>, legs: &UnGraph<(), usize>) -> Vec<Automorphism> {
    let mut shifts: Vec<Automorphism> = Vec::new();
    let stitches = wired.repeat.stitches.len();
    let mut reached = vec![false; stitches];
    reached[0] = true;
    for image in 1..stitches {
        if reached[image] {
            continue;
        }
        let Some(shift) = automorphism(wired, legs, image, false) else { continue };
        shifts.push(shift);
        let mut open: Vec<usize> = (0..stitches).filter(|&s| reached[s]).collect();
        while let Some(stitch) = open.pop() {
            for there in shifts.iter().map(|shift| shift.images[stitch].stitch) {
                if !std::mem::replace(&mut reached[there], true) {
                    open.push(there);
                }
            }
        }
    }
    shifts
}

/// The stitches and the legs between them, each with its position in the repeat.
fn leg_graph(wired: Wired<'_>) -> UnGraph<(), usize> {
    let mut graph = UnGraph::new_undirected();
    let nodes: Vec<_> = wired.repeat.stitches.iter().map(|_| graph.add_node(())).collect();
    for (l, leg) in wired.repeat.legs.iter().enumerate() {
        graph.add_edge(nodes[leg.from.stitch], nodes[leg.to.stitch], l);
    }
    graph
}

/// The image of a cell, mirrored or unchanged; `None` when the lattice has no
/// mirror.
fn seen(wired: Wired<'_>, cell: UprightCell, mirror: bool) -> Option<UprightCell> {
    if mirror { wired.upright.mirrored(cell) } else { Some(cell) }
}

/// The symmetry that takes the first stitch to `image` (in the cell of the
/// origin), if there is one. It is unique: the legs determine the rest.
fn automorphism(
    wired: Wired<'_>,
    graph: &UnGraph<(), usize>,
    image: usize,
    mirror: bool,
) -> Option<Automorphism> {
    let Wired { repeat, .. } = wired;
    let mut found: Vec<Option<StitchImage>> = vec![None; repeat.stitches.len()];
    found[0] = Some(StitchImage { stitch: image, cell: UprightCell::ORIGIN });
    let mut visit = Bfs::new(graph, NodeIndex::new(0));
    while let Some(node) = visit.next(graph) {
        let stitch = node.index();
        let image = found[stitch]?;
        let expected = &repeat.stitches[image.stitch].stitch;
        let own = &repeat.stitches[stitch].stitch;
        if *expected != if mirror { own.mirrored() } else { own.clone() } {
            return None;
        }
        for edge in graph.edges(node) {
            for forward in [true, false] {
                let leg = wired.leg(*edge.weight());
                let (here, there) = if forward { (leg.from, leg.to) } else { (leg.to, leg.from) };
                if here.stitch != stitch {
                    continue;
                }
                let reached = along_leg(wired, *edge.weight(), forward, image, mirror)?;
                if *found[there.stitch].get_or_insert(reached) != reached {
                    return None;
                }
            }
        }
    }
    Some(Automorphism { images: found.into_iter().collect::<Option<_>>()?, mirror })
}

/// The image of the stitch at the far end of a leg, given that of the stitch at
/// the near end; `None` when no matching leg leaves the image.
fn along_leg(
    wired: Wired<'_>,
    leg: usize,
    forward: bool,
    near: StitchImage,
    mirror: bool,
) -> Option<StitchImage> {
    let turn = |side: Side| if mirror { side.other() } else { side };
    let own = wired.leg(leg);
    let (here, there) = if forward { (own.from, own.to) } else { (own.to, own.from) };
    let end = End::new(near.stitch, turn(here.side));
    let image = if forward { wired.wiring.leg_from(end) } else { wired.wiring.leg_to(end) };
    let other = wired.leg(image);
    let landing = if forward { other.to } else { other.from };
    if other.twists != own.twists || landing.side != turn(there.side) {
        return None;
    }
    // How far the image of the far stitch lies from its place under the map of
    // the cells alone.
    let more = wired.leg_cell(image) - seen(wired, wired.leg_cell(leg), mirror)?;
    let cell = if forward { near.cell + more } else { near.cell - more };
    Some(StitchImage { stitch: landing.stitch, cell })
}

impl Automorphism {
    fn slot_map(&self, wired: Wired<'_>, hanging: &Hanging) -> SlotMap {
        let mut images = Vec::with_capacity(2 * hanging.pairs().len());
        for pair in hanging.pairs() {
            let exit = wired.leg(pair.leg).from;
            let image = self.images[exit.stitch];
            let cell = seen(wired, pair.cell, self.mirror).expect("a mirror was found") + image.cell;
            let order = wired.repeat.stitches[image.stitch].stitch.end_order();
            for thread in 0..2 {
                let position = 2 * exit.side.index() + thread;
                let position = if self.mirror { 3 - position } else { position };
                images.push(hanging.origin(ThreadEntry::new(image.stitch, order[position]), cell));
            }
        }
        SlotMap { images, direction: if self.mirror { -1 } else { 1 } }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ground::Ground;
    use crate::lattice::point::point;
    use crate::repeat::samples::{leg, rose, torchon};

    #[test]
    fn symmetrical_grounds_are_recognised() {
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
        let mirror = ground.slot_symmetries().iter().find(|map| map.mirrors()).unwrap();
        let images: Vec<i64> = (0..8).map(|s| mirror.apply(s)).collect();
        // Applied twice, it is a shift by whole repeats (or rows).
        let twice: Vec<i64> = (0..8).map(|s| mirror.apply(mirror.apply(s)) - s).collect();
        assert!(images.windows(2).all(|w| w[1] == w[0] - 1), "{images:?}");
        assert!(twice.iter().all(|d| d % 8 == 0), "{twice:?}");
    }

    #[test]
    fn a_doubled_repeat_has_a_shift_inside() {
        // Torchon over two rows: the second stitch repeats the first.
        let mut repeat = torchon("CT pin CT", 0);
        repeat.lattice.across = point(2.0, 0.0);
        repeat.lattice.down = point(0.0, 2.0);
        let mut second = repeat.stitches[0].clone();
        second.id = "second".into();
        second.at = Some(point(1.0, 1.0));
        repeat.stitches.push(second);
        let (l, r) = (Side::Left, Side::Right);
        repeat.legs = vec![
            leg((0, l), (1, r), [-1, 0]),
            leg((0, r), (1, l), [0, 0]),
            leg((1, l), (0, r), [0, 1]),
            leg((1, r), (0, l), [1, 1]),
        ];
        let ground = Ground::new(repeat).unwrap();
        // Two shifts by whole repeats, one within the repeat, one mirror.
        assert_eq!(ground.slot_symmetries().len(), 4);
    }
}
