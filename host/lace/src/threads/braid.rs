//! The braid of a ground: every crossing of two threads in one repeat, and how
//! threads run from one crossing to the next. It is itself a map with two in and
//! two out ([`LaceMap`]), finer than the map of the pairs. Drawings and the
//! check of cohesion start from it.

use crate::lattice::cell::Cell;
use crate::repeat::map::LaceMap;
use crate::repeat::{Repeat, Side};
use crate::stitch::Crossing;
use crate::threads::routes::{Routes, ThreadEntry};

/// The part of the definition that makes a crossing of threads.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum CrossingSource {
    /// A move of the stitch with this position in the repeat.
    Stitch(usize),
    /// An extra twist on the leg with this position in the repeat.
    Leg(usize),
}

/// Two threads that cross.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BraidNode {
    /// What makes the crossing.
    pub source: CrossingSource,
    /// How many crossings the same source makes before this one.
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
pub struct BraidSegment {
    /// The cell of the crossing at which it arrives, relative to the one it leaves.
    pub cell: Cell,
    /// The entry by which its thread came into the stitch that makes the crossing
    /// it leaves, by a move or by a twist on a leg. The stitch lies in the cell of
    /// that crossing.
    pub entry: ThreadEntry,
}

/// One copy of a segment in the lace.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SegmentCopy {
    /// The segment, by its out dart.
    pub segment: usize,
    /// The cell of the crossing it leaves.
    pub cell: Cell,
}

/// Where a pin stands among the threads.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PinPlace {
    /// The stitch whose pin it is.
    pub stitch: usize,
    /// The segment just to the left of the pin (the thread at position 1), with
    /// its cell relative to the stitch's.
    pub left: SegmentCopy,
    /// The segment just to the right of the pin (the thread at position 2).
    pub right: SegmentCopy,
}

/// All crossings of one repeat and the segments of thread between them.
#[derive(Clone, Debug)]
pub struct Braid {
    /// The crossings; those of one stitch or leg stand together in the order worked.
    pub nodes: Vec<BraidNode>,
    /// The segments, by out dart; two for every crossing.
    pub segments: Vec<BraidSegment>,
    /// The wiring: out darts to in darts.
    pub map: LaceMap,
    /// One for every stitch with a pin whose two inner threads both cross some other
    /// thread, in the order of the stitches.
    pub pins: Vec<PinPlace>,
    /// First node of every stitch (as many as the stitch has crossings).
    pub stitch_nodes: Vec<usize>,
    /// First node of every leg (as many as its twists).
    pub leg_nodes: Vec<usize>,
    /// Entries of closed threads that cross nothing.
    pub loose_threads: Vec<ThreadEntry>,
}

/// A crossing from the point of view of one of its two threads, which comes in
/// on this side and leaves on the other.
#[derive(Clone, Copy)]
struct Meeting {
    node: usize,
    into: Side,
}

impl Meeting {
    fn in_dart(self) -> usize {
        2 * self.node + self.into.index()
    }

    fn out_dart(self) -> usize {
        2 * self.node + self.into.other().index()
    }
}

/// The crossings that the thread at each entry meets before the next entry, in
/// order.
struct Meetings {
    nodes: Vec<BraidNode>,
    stitch_nodes: Vec<usize>,
    leg_nodes: Vec<usize>,
    of_entry: Vec<[Vec<Meeting>; 4]>,
}

impl Meetings {
    fn new(repeat: &Repeat, routes: &Routes) -> Meetings {
        let (mut nodes, mut stitch_nodes, mut leg_nodes) = (Vec::new(), Vec::new(), Vec::new());
        for (s, stitch) in repeat.stitches.iter().enumerate() {
            stitch_nodes.push(nodes.len());
            for (order, Crossing { at, left_over }) in stitch.stitch.crossings().enumerate() {
                nodes.push(BraidNode { source: CrossingSource::Stitch(s), order, at, left_over });
            }
        }
        for (l, leg) in repeat.legs.iter().enumerate() {
            leg_nodes.push(nodes.len());
            for order in 0..leg.twists as usize {
                nodes.push(BraidNode { source: CrossingSource::Leg(l), order, at: 0, left_over: false });
            }
        }
        let mut of_entry: Vec<[Vec<Meeting>; 4]> = vec![Default::default(); repeat.stitches.len()];
        for (s, stitch) in repeat.stitches.iter().enumerate() {
            let mut order = [0usize, 1, 2, 3];
            for (node, c) in (stitch_nodes[s]..).zip(stitch.stitch.crossings()) {
                of_entry[s][order[c.at]].push(Meeting { node, into: Side::Left });
                of_entry[s][order[c.at + 1]].push(Meeting { node, into: Side::Right });
                order.swap(c.at, c.at + 1);
            }
        }
        for entry in routes.entries() {
            let route = routes.from(entry);
            let first = leg_nodes[route.leg];
            for k in 0..repeat.legs[route.leg].twists as usize {
                let into = Side::BOTH[(route.lane + k) % 2];
                of_entry[entry.stitch][entry.position].push(Meeting { node: first + k, into });
            }
        }
        Meetings { nodes, stitch_nodes, leg_nodes, of_entry }
    }

    fn at(&self, entry: ThreadEntry) -> &[Meeting] {
        &self.of_entry[entry.stitch][entry.position]
    }
}

/// By stitch and position: the segment by which a thread comes to the entry, with
/// its cell relative to the stitch's; `None` for a thread that crosses nothing.
type Arrivals = Vec<[Option<SegmentCopy>; 4]>;

impl Braid {
    /// The braid of a wired repeat.
    pub(crate) fn new(repeat: &Repeat, routes: &Routes) -> Braid {
        let meetings = Meetings::new(repeat, routes);
        let darts = 2 * meetings.nodes.len();
        let mut arrives = vec![usize::MAX; darts];
        let mut segments = vec![BraidSegment { cell: Cell::ORIGIN, entry: ThreadEntry::new(0, 0) }; darts];
        let mut arrivals: Arrivals = vec![[None; 4]; repeat.stitches.len()];
        for entry in routes.entries() {
            let met = meetings.at(entry);
            for meeting in met {
                segments[meeting.out_dart()].entry = entry;
            }
            for pair in met.windows(2) {
                arrives[pair[0].out_dart()] = pair[1].in_dart();
            }
            let Some(last) = met.last() else {
                continue;
            };
            let out = last.out_dart();
            // Skip stitches in which this thread crosses nothing.
            let (mut cell, mut here) = (Cell::ORIGIN, entry);
            loop {
                let route = routes.from(here);
                cell += repeat.legs[route.leg].cell;
                here = route.next;
                arrivals[here.stitch][here.position] = Some(SegmentCopy { segment: out, cell: -cell });
                if let Some(first) = meetings.at(here).first() {
                    arrives[out] = first.in_dart();
                    segments[out].cell = cell;
                    break;
                }
            }
        }
        let loose_threads = routes.entries().filter(|e| arrivals[e.stitch][e.position].is_none()).collect();
        let Meetings { nodes, stitch_nodes, leg_nodes, .. } = meetings;
        let pins = pins(repeat, &stitch_nodes, &arrivals);
        let map = LaceMap::new(arrives).expect("each crossing has two threads in and two out");
        Braid { nodes, segments, map, pins, stitch_nodes, leg_nodes, loose_threads }
    }
}

/// Finds the two segments between which each pin stands.
fn pins(repeat: &Repeat, stitch_nodes: &[usize], arrivals: &Arrivals) -> Vec<PinPlace> {
    let mut places = Vec::new();
    for (s, stitch) in repeat.stitches.iter().enumerate() {
        let Some(before) = stitch.stitch.crossings_before_pin() else {
            continue;
        };
        // What lies at each position when the pin is set: the segment that came
        // in, or the out dart of the last crossing made there.
        let mut holds = arrivals[s];
        for (node, c) in (stitch_nodes[s]..).zip(stitch.stitch.crossings()).take(before) {
            for side in [0, 1] {
                holds[c.at + side] = Some(SegmentCopy { segment: 2 * node + side, cell: Cell::ORIGIN });
            }
        }
        if let [_, Some(left), Some(right), _] = holds {
            places.push(PinPlace { stitch: s, left, right });
        }
    }
    places
}
