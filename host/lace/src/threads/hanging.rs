//! Hanging pairs: in what order pairs hang at the top of an endless width of a
//! ground, and from which of them each thread anywhere in the lace comes.
//!
//! A *front* is a line across the lace that separates worked from unworked
//! stitches. Front 0 lies just above the topmost stitch of the definition;
//! front r lies r rows of repeats lower. Along a front threads are numbered
//! from left to right by *slots*, whole numbers without end; pair k holds the
//! slots 2k and 2k + 1.

use indexmap::IndexMap;
use petgraph::graph::{DiGraph, NodeIndex};

use crate::check::earliest_rows;
use crate::repeat::map::{LaceMap, Walk};
use crate::repeat::upright::UprightLattice;
use crate::repeat::{End, Point, Repeat, Side};

/// A rearrangement of endless slots that repeats every `period` slots:
/// `f(s + period) = f(s) + period`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AffinePermutation {
    images: Vec<i64>,
}

impl AffinePermutation {
    /// From the images of slots `0..images.len()`.
    pub fn new(images: Vec<i64>) -> AffinePermutation {
        AffinePermutation { images }
    }

    /// The rearrangement that moves nothing.
    pub fn identity(period: usize) -> AffinePermutation {
        AffinePermutation { images: (0..period as i64).collect() }
    }

    /// After how many slots it repeats.
    pub fn period(&self) -> usize {
        self.images.len()
    }

    /// Where slot `s` goes.
    pub fn apply(&self, s: i64) -> i64 {
        let period = self.images.len() as i64;
        self.images[s.rem_euclid(period) as usize] + s.div_euclid(period) * period
    }

    /// First `self`, then `next`. Both must have the same period.
    pub fn then(&self, next: &AffinePermutation) -> AffinePermutation {
        AffinePermutation { images: self.images.iter().map(|&s| next.apply(s)).collect() }
    }

    /// The rearrangement that undoes this one.
    pub fn inverse(&self) -> AffinePermutation {
        let period = self.images.len() as i64;
        let mut images = vec![0; self.images.len()];
        for (s, &image) in self.images.iter().enumerate() {
            images[image.rem_euclid(period) as usize] = s as i64 - image.div_euclid(period) * period;
        }
        AffinePermutation { images }
    }
}

/// A pair that hangs at front 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct HungPair {
    /// The leg on which it hangs.
    pub leg: usize,
    /// Cell of the stitch it comes from, in upright coordinates.
    pub cell: [i64; 2],
}

/// How the pairs of a ground hang, and how a row of repeats rearranges them.
#[derive(Clone, Debug)]
pub struct Hanging {
    pairs: Vec<HungPair>,
    /// Row (upright coordinate) of the first unworked copy of each stitch.
    first_row: Vec<i64>,
    /// The stitches of a row of repeats in an order in which they can be worked.
    row_order: Vec<usize>,
    /// Slot, at the front of its row, of the thread at each position 0 to 3 of
    /// the entry of each stitch in upright column 0.
    entry_slot: Vec<[i64; 4]>,
    /// Slots at front 0 to slots at front 1.
    row: AffinePermutation,
    row_inverse: AffinePermutation,
}

impl Hanging {
    pub(crate) fn new(
        repeat: &Repeat,
        places: &[Point],
        map: &LaceMap,
        leg_of_exit: &[usize],
        leg_of_entry: &[usize],
        upright: &UprightLattice,
    ) -> Hanging {
        let top = places.iter().map(|p| p.y).fold(f64::INFINITY, f64::min);
        let height = upright.step_down.y;
        let wanted: Vec<i64> = places.iter().map(|p| ((top - p.y) / height - 1e-9).ceil() as i64).collect();
        let first_row = earliest_rows(repeat, upright, &wanted);
        let cell: Vec<[i64; 2]> =
            repeat.legs.iter().map(|l| upright.from_cell(l.cell.map(i64::from))).collect();
        let pairs = hung_pairs(repeat, places, map, leg_of_exit, upright, &first_row, &cell);
        let width = 2 * pairs.len() as i64;

        // The threads on each leg that crosses the moving front, by the leg and
        // the row of its departure, for departures in upright column 0.
        let mut on_leg: IndexMap<(usize, i64), [i64; 2]> = IndexMap::new();
        for (k, pair) in pairs.iter().enumerate() {
            let first = 2 * k as i64 - pair.cell[0] * width;
            on_leg.insert((pair.leg, pair.cell[1]), [first, first + 1]);
        }
        let mut entry_slot = vec![[0; 4]; repeat.stitches.len()];
        let row_order = row_order(repeat, &first_row, &cell);
        for &stitch in &row_order {
            for side in Side::BOTH {
                let leg = leg_of_entry[End::new(stitch, side).dart()];
                let [p, q] = cell[leg];
                let [mut left, mut right] = on_leg[&(leg, first_row[stitch] - q)];
                if repeat.legs[leg].twists % 2 == 1 {
                    (left, right) = (right, left);
                }
                entry_slot[stitch][2 * side.index()] = left - p * width;
                entry_slot[stitch][2 * side.index() + 1] = right - p * width;
            }
            let order = repeat.stitches[stitch].stitch.end_order();
            for side in Side::BOTH {
                let leg = leg_of_exit[End::new(stitch, side).dart()];
                let out = [0, 1].map(|k| entry_slot[stitch][order[2 * side.index() + k]]);
                on_leg.insert((leg, first_row[stitch]), out);
            }
        }
        let mut origins = Vec::with_capacity(width as usize);
        for pair in &pairs {
            origins.extend(on_leg[&(pair.leg, pair.cell[1] + 1)].map(|s| s + pair.cell[0] * width));
        }
        let row_inverse = AffinePermutation::new(origins);
        Hanging { pairs, first_row, row_order, entry_slot, row: row_inverse.inverse(), row_inverse }
    }

    /// The pairs that hang across one upright repeat, left to right.
    pub fn pairs(&self) -> &[HungPair] {
        &self.pairs
    }

    /// Where the thread in each slot at one front is at the next.
    pub fn row(&self) -> &AffinePermutation {
        &self.row
    }

    /// The slot at front 0 of the thread that enters the copy of a stitch in a
    /// upright cell at a position 0 to 3.
    pub fn origin(&self, stitch: usize, position: usize, [p, q]: [i64; 2]) -> i64 {
        let mut slot = self.entry_slot[stitch][position] + p * 2 * self.pairs.len() as i64;
        let row = q - self.first_row[stitch];
        for _ in 0..row {
            slot = self.row_inverse.apply(slot);
        }
        for _ in row..0 {
            slot = self.row.apply(slot);
        }
        slot
    }

    /// The stitches of one row of repeats in an order in which they can be
    /// worked, if each is worked in all repeats before the next.
    pub(crate) fn row_order(&self) -> &[usize] {
        &self.row_order
    }

    /// Row of repeats, counted from front 0, to which the copy of a stitch in
    /// upright row `q` belongs.
    pub fn row_of(&self, stitch: usize, q: i64) -> i64 {
        q - self.first_row[stitch]
    }
}

/// The stitches of one row of repeats in an order in which they can be worked.
fn row_order(repeat: &Repeat, first_row: &[i64], cell: &[[i64; 2]]) -> Vec<usize> {
    let mut graph = DiGraph::<(), ()>::new();
    let nodes: Vec<NodeIndex> = repeat.stitches.iter().map(|_| graph.add_node(())).collect();
    for (leg, cell) in repeat.legs.iter().zip(cell) {
        let (from, to) = (leg.from.stitch, leg.to.stitch);
        if first_row[from] + cell[1] == first_row[to] {
            graph.add_edge(nodes[from], nodes[to], ());
        }
    }
    petgraph::algo::toposort(&graph, None)
        .expect("every circuit of legs comes lower, so none lies within a row")
        .into_iter()
        .map(NodeIndex::index)
        .collect()
}

/// The legs that cross front 0 within one upright repeat, left to right.
fn hung_pairs(
    repeat: &Repeat,
    places: &[Point],
    map: &LaceMap,
    leg_of_exit: &[usize],
    upright: &UprightLattice,
    first_row: &[i64],
    cell: &[[i64; 2]],
) -> Vec<HungPair> {
    let crosses = |leg: usize, q: i64| {
        let l = &repeat.legs[leg];
        q < first_row[l.from.stitch] && q + cell[leg][1] >= first_row[l.to.stitch]
    };
    let middle = |pair: &HungPair| {
        let l = &repeat.legs[pair.leg];
        let [p, q] = pair.cell;
        let from = places[l.from.stitch] + upright.place(pair.cell);
        let to = places[l.to.stitch] + upright.place([p + cell[pair.leg][0], q + cell[pair.leg][1]]);
        (from.x + to.x) / 2.0
    };
    // Every crossing leg once, moved by whole repeats into the first.
    let mut hung: Vec<HungPair> = Vec::new();
    for (leg, l) in repeat.legs.iter().enumerate() {
        for q in first_row[l.to.stitch] - cell[leg][1]..first_row[l.from.stitch] {
            let mut pair = HungPair { leg, cell: [0, q] };
            pair.cell[0] = -((middle(&pair) / upright.width + 1e-9).floor() as i64);
            hung.push(pair);
        }
    }
    let first = *hung
        .iter()
        .min_by(|a, b| middle(a).total_cmp(&middle(b)))
        .expect("legs run down, so some cross any front");
    // Go right from hole to hole: the legs that cross a front follow each other
    // round the holes it passes through.
    let mut ordered = vec![first];
    let mut pair = first;
    while ordered.len() < hung.len() {
        let exit = repeat.legs[pair.leg].from.dart();
        // Walking up a leg, the hole to the right of it is on the right hand.
        let mut walk = Walk { edge: exit, along: false };
        let mut at = pair.cell;
        loop {
            walk = map.next_on_face(walk);
            let leg = leg_of_exit[walk.edge];
            let [p, q] = cell[leg];
            let departure = if walk.along { at } else { [at[0] - p, at[1] - q] };
            at = if walk.along { [at[0] + p, at[1] + q] } else { departure };
            if crosses(leg, departure[1]) && (leg, departure) != (pair.leg, pair.cell) {
                pair = HungPair { leg, cell: departure };
                break;
            }
        }
        ordered.push(pair);
    }
    ordered
}
