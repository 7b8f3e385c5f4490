//! How firmly worked thread lies: what every stretch of thread pulls with, and how
//! every stitch is held where it was worked.
//!
//! On the pillow thread does not run freely from pin to pin. A stitch is drawn up
//! when it is made, and the friction of its crossings keeps what lies between them
//! (persistent contacts with friction, as in the yarn models of J. Kaldor, D. James,
//! S. Marschner, "Simulating knitted cloth at the yarn level", 2008, and of G. Cirio,
//! J. Lopez-Moreno, M. Otaduy, "Yarn-level simulation of woven cloth", 2014). Here a
//! stretch of thread between two crossings is a spring that reaches the tension of
//! the thread at the length it had when it was worked; slip beyond that is left to
//! the energy.

use lace::{BraidNode, Cell, CrossingSource, End, Lacework, Move, Point, Side};

use super::holes::Hole;
use super::start::{Start, pointed};
use super::tension::Anchor;

/// Pull of a thread inside a stitch that is closed by twists.
const CLOSED: f64 = 1.8;
/// Pull of passives that are beaten up in a tally.
const BEATEN: f64 = 1.5;
/// Pull of the pairs that hold a plait straight between them.
const DRAWN_UP: f64 = 1.4;
/// A thread that goes round a pin is drawn close: the length it is given there.
const ROUND_PIN: f64 = 0.6;
/// How tight the turn of a worker round its pin is drawn, compared with a stitch that
/// is closed by twists.
const TURNED: f64 = 0.6;
/// Shortest stretch between two crossings as worked.
const SHORTEST: f64 = 1.2;
/// Least distance between two crossings on one thread; and inside a stitch that is
/// closed, where threads turn sharply.
const CROSSINGS: f64 = 1.2;
const KNOT: f64 = 1.5;
/// The same for two crossings of a twist: half a turn of a cord, if there is room.
const TWIST: f64 = 1.6;
/// The same in cloth that is woven on from stitch to stitch: its crossings stay as far
/// apart as they were beaten up, so far at most.
const BEATEN_UP: f64 = 1.65;
/// The same for two passes of the weaver of a tally along a passive, and of a leaf.
const PASS: f64 = 1.3;
const LEAF_PASS: f64 = 1.35;

/// How strongly a stitch is held where it was worked: by its pin; as a plait or a tally,
/// or as cloth, by its neighbours, less so where these are cloth too and can move with
/// it; else only by the threads. In tensions per thread diameter.
const HELD: f64 = 10.0;
const CORD: f64 = 3.0;
const FIRM: f64 = 1.5;
const WOVEN: f64 = 0.27;
const LOOSE: f64 = 0.2;

/// Stiffness of a segment in which no thread lies.
const OPEN: f64 = 1e-9;

/// A stretch of thread between two crossings.
#[derive(Clone, Copy, Debug)]
pub(super) struct Spring {
    /// Pull for every thread diameter of length.
    pub stiffness: f64,
    /// Pull at any length.
    pub tight: f64,
    /// Distance to be kept between the two crossings.
    pub keep: f64,
}

/// What a stitch is for the thread in it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Make {
    /// Drawn together in one place.
    Knot,
    /// Part of a cloth: nothing draws it together.
    Cloth,
    /// Where the worker of a cloth turns round its pin.
    Turn,
    /// A cord of four threads, worked until it reaches the next stitch.
    Plait,
    /// Woven through by one thread.
    Tally,
}

/// Fewest crossings between the pairs, one after another, that make a plait.
const PLAITED: usize = 3;

/// What the stitches of a ground are.
pub(super) fn makes(ground: &Lacework) -> Vec<Make> {
    let closed = closed(ground);
    let make = |(s, placed): (usize, &lace::PlacedStitch)| {
        let stitch = &placed.stitch;
        let links = |range: std::ops::Range<usize>| {
            stitch.crossings().enumerate().filter(|(k, c)| range.contains(k) && c.at == 1).count()
        };
        let all = stitch.crossings().count();
        let pin = stitch.crossings_before_pin().unwrap_or(all);
        if stitch.is_woven() {
            Make::Tally
        } else if links(0..pin) >= PLAITED || links(pin..all) >= PLAITED {
            Make::Plait
        } else if closed[s] < 0.5 && stitch.pin().is_some() && stitch.moves().iter().any(|m| alone(*m)) {
            Make::Turn
        } else if closed[s] < 0.5 || closed[s] == 0.5 && is_woven_on(ground, s) {
            Make::Cloth
        } else {
            Make::Knot
        }
    };
    ground.stitches().iter().enumerate().map(make).collect()
}

/// Whether a stitch is cloth stitch, and one before or after it too.
fn is_woven_on(ground: &Lacework, s: usize) -> bool {
    let cloth = |s: usize| {
        let stitch = &ground.stitches()[s].stitch;
        stitch.pin().is_none() && stitch.moves() == [Move::Cross, Move::Twist, Move::Cross]
    };
    let ends = Side::BOTH.map(|side| End::new(s, side));
    cloth(s)
        && ends.iter().any(|&end| {
            cloth(ground.legs()[ground.leg_from(end)].to.stitch)
                || cloth(ground.legs()[ground.leg_to(end)].from.stitch)
        })
}

/// Whether a move twists one pair.
fn alone(m: Move) -> bool {
    matches!(m, Move::TwistLeft | Move::TwistRight)
}

/// Whether each crossing belongs to the heart of its stitch: from its first
/// crossing between the pairs to its last. Twists before and after, and those of
/// legs, do not.
pub(super) fn hearts(ground: &Lacework) -> Vec<bool> {
    let braid = ground.braid();
    let mut heart = vec![false; braid.nodes.len()];
    for &first in &braid.stitch_nodes {
        let Some(stitch) = braid.nodes.get(first).map(|n| n.source) else { continue };
        let links: Vec<usize> = (first..braid.nodes.len())
            .take_while(|&v| braid.nodes[v].source == stitch)
            .filter(|&v| braid.nodes[v].at == 1)
            .collect();
        if let (Some(&from), Some(&to)) = (links.first(), links.last()) {
            heart[from..=to].fill(true);
        }
    }
    heart
}

/// How closed each stitch is, 0 to 1: the more of its pairs are twisted before the
/// next stitch, the more. Twists keep a stitch closed, while in plain cloth nothing
/// holds its threads together and they spread evenly.
fn closed(ground: &Lacework) -> Vec<f64> {
    let braid = ground.braid();
    // Twists of a pair in its stitch before the first or after the last link.
    let twists = |s: usize, side: Side, after: bool| {
        let first = braid.stitch_nodes[s];
        let nodes = &braid.nodes[first..first + ground.stitches()[s].stitch.crossings().count()];
        let own = |n: &&BraidNode| n.at == 2 * side.index();
        let link = |n: &BraidNode| n.at == 1;
        if after {
            nodes.iter().rev().take_while(|n| !link(n)).filter(own).count()
        } else {
            nodes.iter().take_while(|n| !link(n)).filter(own).count()
        }
    };
    let twisted = |s: usize| {
        Side::BOTH.map(|side| {
            let out = &ground.legs()[ground.leg_from(End::new(s, side))];
            let into = &ground.legs()[ground.leg_to(End::new(s, side))];
            let after =
                twists(s, side, true) + out.twists as usize + twists(out.to.stitch, out.to.side, false);
            let before = twists(s, side, false)
                + into.twists as usize
                + twists(into.from.stitch, into.from.side, true);
            f64::from(u8::from(after > 0)) + f64::from(u8::from(before > 0))
        })
    };
    (0..ground.stitches().len()).map(|s| twisted(s).iter().sum::<f64>() / 4.0).collect()
}

/// Where the weaver of a tally goes at each crossing of the braid, if one thread
/// weaves there.
pub(crate) fn weavers(ground: &Lacework) -> Vec<Option<Side>> {
    let each: Vec<Vec<Option<Side>>> = ground.stitches().iter().map(|s| s.stitch.weaver()).collect();
    let goes = |node: &BraidNode| match node.source {
        CrossingSource::Stitch(stitch) => each[stitch][node.order],
        CrossingSource::Leg(_) => None,
    };
    ground.braid().nodes.iter().map(goes).collect()
}

/// The spring of every segment of the braid, from crossings as they were worked.
pub(super) fn springs(
    ground: &Lacework,
    holes: &[Hole],
    start: &Start,
    shift: &dyn Fn(Cell) -> Point,
) -> Vec<Spring> {
    let braid = ground.braid();
    let (heart, makes, closed) = (hearts(ground), makes(ground), closed(ground));
    let woven: Vec<bool> =
        makes.iter().enumerate().map(|(s, make)| *make == Make::Cloth && is_woven_on(ground, s)).collect();
    let weavers = weavers(ground);
    let ends = |s: usize| [s / 2, braid.map.arrival(s) / 2];
    let mut rests = rests(ground, &start.nodes, shift);
    // What goes round a pin is drawn close to it.
    for pin in &braid.pins {
        for segment in [pin.left.segment, pin.right.segment] {
            rests[segment] = (rests[segment] * ROUND_PIN).max(SHORTEST);
        }
    }
    let mut springs: Vec<Spring> = (0..braid.segments.len())
        .map(|s| {
            let [from, to] = ends(s);
            let (a, b) = (braid.nodes[from], braid.nodes[to]);
            let inside = a.source == b.source && braid.segments[s].cell == Cell::ORIGIN;
            let rest = rests[s];
            let plain = |tight: f64| Spring {
                stiffness: (1.0 - tight) / rest,
                tight: CLOSED * tight,
                keep: CROSSINGS,
            };
            let of = |node: &BraidNode| match node.source {
                CrossingSource::Stitch(stitch) => Some(makes[stitch]),
                CrossingSource::Leg(_) => None,
            };
            let in_cloth = |node: &BraidNode| match node.source {
                CrossingSource::Stitch(stitch) => woven[stitch],
                CrossingSource::Leg(_) => false,
            };
            match (a.source, of(&a)) {
                (CrossingSource::Stitch(stitch), Some(Make::Tally)) if inside && weavers[to].is_some() => {
                    let keep = if pointed(ground, stitch) { LEAF_PASS } else { PASS };
                    match weavers[from] {
                        Some(side) if side.index() == s % 2 => plain(0.0),
                        Some(_) => Spring { stiffness: 0.0, tight: BEATEN, keep },
                        None => plain(0.0),
                    }
                }
                (CrossingSource::Stitch(_), Some(Make::Plait)) if inside => plain(0.0),
                (CrossingSource::Stitch(_), Some(Make::Turn)) if inside && heart[from] && heart[to] => {
                    Spring { keep: KNOT.min(rest), ..plain(TURNED) }
                }
                (CrossingSource::Stitch(stitch), _) if in_cloth(&a) && in_cloth(&b) => {
                    let tight = if inside { closed[stitch] } else { 0.0 };
                    Spring { keep: BEATEN_UP.min(rest), ..plain(tight) }
                }
                (CrossingSource::Stitch(stitch), _) if inside && heart[from] && heart[to] => Spring {
                    keep: (CROSSINGS + (KNOT - CROSSINGS) * closed[stitch]).min(rest),
                    ..plain(closed[stitch])
                },
                _ if [of(&a), of(&b)].contains(&Some(Make::Plait)) => {
                    Spring { stiffness: DRAWN_UP / rest, tight: 0.0, keep: CROSSINGS }
                }
                _ => plain(0.0),
            }
        })
        .collect();
    // No thread lies in an open segment.
    for (segment, spring) in springs.iter_mut().enumerate() {
        if ground.is_open_segment(segment) {
            *spring = Spring { stiffness: OPEN, tight: 0.0, keep: 0.0 };
        }
    }
    for hole in holes.iter().filter(|h| h.border.len() == 2) {
        for b in &hole.border {
            springs[b.segment].keep = rests[b.segment].clamp(CROSSINGS, TWIST);
        }
    }
    springs
}

/// The length of every segment as it was worked. Twists between two crossings of
/// pairs are spread evenly.
fn rests(ground: &Lacework, nodes: &[Point], shift: &dyn Fn(Cell) -> Point) -> Vec<f64> {
    let braid = ground.braid();
    let length = |s: usize| {
        (nodes[braid.map.arrival(s) / 2] + shift(braid.segments[s].cell) - nodes[s / 2])
            .length()
            .max(SHORTEST)
    };
    let mut rests: Vec<f64> = (0..braid.segments.len()).map(length).collect();
    let link = |v: usize| braid.nodes[v].at == 1;
    for first in (0..rests.len()).filter(|&s| link(s / 2) && !ground.is_open_segment(s)) {
        // Along the thread to the next link.
        let mut run = vec![first];
        let mut at = first;
        while !link(braid.map.arrival(at) / 2) && run.len() <= rests.len() {
            at = braid.map.arrival(at) ^ 1;
            if ground.is_open_segment(at) {
                break;
            }
            run.push(at);
        }
        let even = run.iter().map(|&s| rests[s]).sum::<f64>() / run.len() as f64;
        for s in run {
            rests[s] = even;
        }
    }
    rests
}

/// How every stitch is held at the place where it was worked.
pub(super) fn anchors(ground: &Lacework, start: &Start) -> Vec<Anchor> {
    let heart = hearts(ground);
    let makes = makes(ground);
    let mut anchors = Vec::new();
    for (s, (placed, &first)) in ground.stitches().iter().zip(&ground.braid().stitch_nodes).enumerate() {
        let own = first..first + placed.stitch.crossings().count();
        let hearts: Vec<usize> = own.clone().filter(|&v| heart[v]).collect();
        let pinned = placed.stitch.pin().is_some();
        if !pinned && makes[s] != Make::Knot {
            let stiffness = match makes[s] {
                Make::Cloth if is_woven_on(ground, s) => WOVEN,
                Make::Cloth => FIRM,
                _ => CORD,
            };
            anchors.extend(own.map(|v| Anchor { nodes: vec![v], at: start.nodes[v], stiffness }));
        } else if !hearts.is_empty() {
            let sum = hearts.iter().fold(lace::point(0.0, 0.0), |sum, &v| sum + start.nodes[v]);
            let at = sum * (1.0 / hearts.len() as f64);
            anchors.push(Anchor { nodes: hearts, at, stiffness: if pinned { HELD } else { LOOSE } });
        }
    }
    anchors
}
