//! The braid of a ground: every crossing of two threads in one repeat, and how
//! threads run from one crossing to the next. It is itself a map of two in,
//! two out ([`LaceMap`]), finer than the map of the pairs, and it is what is
//! drawn and what hangs together.

use crate::repeat::map::LaceMap;
use crate::repeat::{End, Repeat, Side};
use crate::stitch::Crossing;

/// Where in the definition a crossing of threads is made.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum CrossingSource {
    /// A move of the stitch with this position in the repeat.
    Stitch(usize),
    /// An extra twist on the leg with this position in the repeat.
    Leg(usize),
}

/// Two threads that cross.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Node {
    /// What makes the crossing.
    pub source: CrossingSource,
    /// How many crossings the same source makes before it.
    pub order: usize,
    /// Position of its left thread within the source: 0 to 2 in a stitch, 0 on a leg.
    pub at: usize,
    /// Whether the thread that comes from the upper left lies on top. It
    /// leaves to the lower right.
    pub left_over: bool,
}

/// A thread between two crossings. The segment is named by its out dart,
/// `2 * crossing + side` ([`LaceMap`]).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Segment {
    /// Repeats across and down, in cells of the definition, from the crossing
    /// it leaves to the one it arrives at.
    pub cell: [i64; 2],
    /// The entry, `(stitch, position 0 to 3)`, by which its thread came into
    /// the stitch whose work, or whose leg, makes the crossing it leaves. The
    /// stitch lies in the cell of that crossing.
    pub entry: (usize, usize),
}

/// Where a pin stands among the threads.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PinPlace {
    /// The stitch whose pin it is.
    pub stitch: usize,
    /// The segment just to the left of the pin (the thread at position 1).
    pub left: usize,
    /// Cell of that segment's departure, relative to the stitch's cell.
    pub left_cell: [i64; 2],
    /// The segment just to the right of the pin (the thread at position 2).
    pub right: usize,
    /// Cell of that segment's departure, relative to the stitch's cell.
    pub right_cell: [i64; 2],
}

/// All crossings of one repeat and the segments of thread between them.
#[derive(Clone, Debug)]
pub struct Braid {
    /// The crossings; those of one stitch or leg stand together in the order worked.
    pub nodes: Vec<Node>,
    /// The segments, by out dart; two for every crossing.
    pub segments: Vec<Segment>,
    /// The wiring: out darts to in darts.
    pub map: LaceMap,
    /// One for every stitch with a pin whose two inner threads both cross
    /// something somewhere, in the order of the stitches.
    pub pins: Vec<PinPlace>,
    /// First node of every stitch (as many as the stitch's work has crossings).
    pub stitch_nodes: Vec<usize>,
    /// First node of every leg (as many as its twists).
    pub leg_nodes: Vec<usize>,
    /// PlacedStitch entries (stitch, position) of closed threads that cross nothing.
    pub loose_threads: Vec<(usize, usize)>,
}

/// A thread at the entry of a stitch: position 0 to 3 before its first move.
pub(crate) type Entry = (usize, usize);

/// A segment by its out dart, with a cell relative to its departure or of its
/// departure.
type Reach = (usize, [i64; 2]);

/// What a thread meets from one stitch entry to the next.
pub(crate) struct ThreadRun {
    /// `(node, in side)` in order; the thread leaves each on the other side.
    pub crossings: Vec<(usize, Side)>,
    /// The entry it comes to.
    pub next: Entry,
    /// The leg it runs along.
    pub leg: usize,
}

/// Follows each thread of a correctly wired repeat through each stitch and leg.
pub(crate) fn thread_runs(
    repeat: &Repeat,
    leg_of_exit: &[usize],
) -> (Vec<Node>, Vec<usize>, Vec<usize>, Vec<[ThreadRun; 4]>) {
    let mut nodes = Vec::new();
    let mut stitch_nodes = Vec::new();
    let mut leg_nodes = Vec::new();
    for (s, stitch) in repeat.stitches.iter().enumerate() {
        stitch_nodes.push(nodes.len());
        for (order, Crossing { at, left_over }) in stitch.stitch.crossings().enumerate() {
            nodes.push(Node { source: CrossingSource::Stitch(s), order, at, left_over });
        }
    }
    for (l, leg) in repeat.legs.iter().enumerate() {
        leg_nodes.push(nodes.len());
        for order in 0..leg.twists as usize {
            nodes.push(Node { source: CrossingSource::Leg(l), order, at: 0, left_over: false });
        }
    }
    let mut all = Vec::with_capacity(repeat.stitches.len());
    for (s, stitch) in repeat.stitches.iter().enumerate() {
        let mut met: [Vec<(usize, Side)>; 4] = Default::default();
        let mut order = [0usize, 1, 2, 3];
        for (k, c) in stitch.stitch.crossings().enumerate() {
            met[order[c.at]].push((stitch_nodes[s] + k, Side::Left));
            met[order[c.at + 1]].push((stitch_nodes[s] + k, Side::Right));
            order.swap(c.at, c.at + 1);
        }
        let mut ends = [0; 4];
        for (position, thread) in order.into_iter().enumerate() {
            ends[thread] = position;
        }
        all.push(std::array::from_fn(|thread| {
            let mut crossings = std::mem::take(&mut met[thread]);
            let exit = Side::BOTH[ends[thread] / 2];
            let l = leg_of_exit[End::new(s, exit).dart()];
            let leg = &repeat.legs[l];
            let mut place = ends[thread] % 2;
            for k in 0..leg.twists as usize {
                crossings.push((leg_nodes[l] + k, Side::BOTH[place]));
                place = 1 - place;
            }
            ThreadRun { crossings, next: (leg.to.stitch, 2 * leg.to.side.index() + place), leg: l }
        }));
    }
    (nodes, stitch_nodes, leg_nodes, all)
}

impl Braid {
    /// The braid of a repeat whose entries and exits are each used once.
    ///
    /// `leg_of_exit[2 * stitch + side]` is the leg that leaves there.
    pub(crate) fn new(repeat: &Repeat, leg_of_exit: &[usize]) -> Braid {
        let (nodes, stitch_nodes, leg_nodes, thread_runs) = thread_runs(repeat, leg_of_exit);
        let mut arrives = vec![usize::MAX; 2 * nodes.len()];
        let mut segments = vec![Segment { cell: [0, 0], entry: (0, 0) }; 2 * nodes.len()];
        // The segment by which a thread comes to an entry, with the cell of
        // the entry relative to the segment's departure.
        let mut reaches: Vec<[Option<Reach>; 4]> = vec![[None; 4]; repeat.stitches.len()];
        for (s, four) in thread_runs.iter().enumerate() {
            for (position, stage) in four.iter().enumerate() {
                for &(node, into) in &stage.crossings {
                    segments[2 * node + into.other().index()].entry = (s, position);
                }
                for pair in stage.crossings.windows(2) {
                    arrives[2 * pair[0].0 + pair[0].1.other().index()] = 2 * pair[1].0 + pair[1].1.index();
                }
                let Some(&(node, into)) = stage.crossings.last() else {
                    continue;
                };
                let out = 2 * node + into.other().index();
                // Walk on over stitches in which this thread crosses nothing.
                let mut cell = [0i64, 0];
                let mut here = stage;
                loop {
                    let leg = repeat.legs[here.leg].cell;
                    cell = [cell[0] + i64::from(leg[0]), cell[1] + i64::from(leg[1])];
                    let (stitch, position) = here.next;
                    reaches[stitch][position] = Some((out, cell));
                    here = &thread_runs[stitch][position];
                    if let Some(&(first, into)) = here.crossings.first() {
                        arrives[out] = 2 * first + into.index();
                        segments[out].cell = cell;
                        break;
                    }
                }
            }
        }
        let loose_threads = (0..repeat.stitches.len())
            .flat_map(|s| (0..4).map(move |p| (s, p)))
            .filter(|&(s, p)| reaches[s][p].is_none())
            .collect();
        let pins = pins(repeat, &stitch_nodes, &reaches);
        let map = LaceMap::new(arrives).expect("each crossing has two threads in and two out");
        Braid { nodes, segments, map, pins, stitch_nodes, leg_nodes, loose_threads }
    }
}

/// Finds the two segments between which each pin stands.
fn pins(repeat: &Repeat, stitch_nodes: &[usize], reaches: &[[Option<Reach>; 4]]) -> Vec<PinPlace> {
    let mut places = Vec::new();
    for (s, stitch) in repeat.stitches.iter().enumerate() {
        let Some(before) = stitch.stitch.crossings_before_pin() else {
            continue;
        };
        // What each position holds when the pin is set: the segment that came
        // in, or the out dart of the last crossing made there.
        let mut holds: [Option<Reach>; 4] =
            std::array::from_fn(|p| reaches[s][p].map(|(out, cell)| (out, [-cell[0], -cell[1]])));
        for (k, c) in stitch.stitch.crossings().enumerate().take(before) {
            let node = stitch_nodes[s] + k;
            holds[c.at] = Some((2 * node, [0, 0]));
            holds[c.at + 1] = Some((2 * node + 1, [0, 0]));
        }
        if let (Some((left, left_cell)), Some((right, right_cell))) = (holds[1], holds[2]) {
            places.push(PinPlace { stitch: s, left, left_cell, right, right_cell });
        }
    }
    places
}
