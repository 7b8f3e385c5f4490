//! Where two pairs pass each other without a stitch, going by the places given and
//! straight lines between them: what explains holes that do not add up.

use std::ops::RangeInclusive;

use crate::check::findings::Place;
use crate::check::report::Report;
use crate::lattice::cell::Cell;
use crate::lattice::point::Point;
use crate::repeat::{End, Leg, Repeat, Side};
use crate::words::number::number;

/// Most legs for which this is looked for, and most copies of one that are compared
/// with another: more take long, and their list helps nobody.
const MOST_LEGS: usize = 600;
const MOST_COPIES: i64 = 64;

/// Two pairs that pass each other.
struct Passing {
    legs: [usize; 2],
    at: Point,
}

/// What is said about pairs that pass each other.
pub(super) struct Passed {
    pub place: Place,
    pub sentence: String,
}

/// The first two pairs that pass each other, and how many places there are in a
/// repeat where pairs do; `None` if no lines cross, or not all places are known.
pub(super) fn pairs_that_pass(report: &Report<'_>) -> Option<Passed> {
    let repeat = report.repeat;
    let places: Vec<Point> = repeat.stitches.iter().map(|s| s.at).collect::<Option<_>>()?;
    if repeat.legs.len() > MOST_LEGS {
        return None;
    }
    let crossings = crossings(repeat, &places);
    let Some(first) = crossings.first() else { return exchanged(report, &places) };
    let [one, other] = first.legs.map(|leg| pair(report, &repeat.legs[leg]));
    let at = format!("[{}, {}]", number(first.at.x), number(first.at.y));
    let sentence = match crossings.len() {
        1 => format!(
            "{one} and {other} pass each other at {at}, where no stitch stands: one may be missing there"
        ),
        n => format!(
            "pairs pass each other in {n} places of the repeat where no stitch stands: at {at}, {one} and {other}; \
             the steps across and down may be wrong"
        ),
    };
    let ends = first.legs.map(|leg| repeat.legs[leg].from);
    let ends = ends.map(|end| (report.id(end.stitch), end.side)).to_vec();
    Some(Passed { place: Place::Pairs(ends), sentence })
}

/// Two pairs that pass each other as they leave a stitch, the left one to the right
/// of the right one, or as they come into one.
fn exchanged(report: &Report<'_>, places: &[Point]) -> Option<Passed> {
    let repeat = report.repeat;
    let run = |leg: &Leg| places[leg.to.stitch] + repeat.lattice.place(leg.cell) - places[leg.from.stitch];
    let found = |end: fn(&Leg) -> End, towards: f64, how: &str| {
        (0..repeat.stitches.len()).find_map(|stitch| {
            let at = |side| repeat.legs.iter().find(|leg| end(leg) == End::new(stitch, side));
            let (left, right) = (at(Side::Left)?, at(Side::Right)?);
            if !are_exchanged(run(left) * towards, run(right) * towards, towards) {
                return None;
            }
            let ends = [left, right].map(|leg| (report.id(leg.from.stitch), leg.from.side)).to_vec();
            let [one, other] = [left, right].map(|leg| pair(report, leg));
            let sentence = format!("{one} and {other} pass each other: {how}");
            Some(Passed { place: Place::Pairs(ends), sentence })
        })
    };
    found(|leg| leg.from, 1.0, "the left one goes to the right, the right one to the left").or_else(|| {
        found(
            |leg| leg.to,
            -1.0,
            "the one from the right comes in on the left, the one from the left on the right",
        )
    })
}

/// Whether lines from a stitch to its left and right neighbours are exchanged, below
/// it (`down` is 1) or above it (-1). Lines in one direction tell nothing.
fn are_exchanged(left: Point, right: Point, down: f64) -> bool {
    let turn = left.cross(right) * down;
    if turn.abs() < 1e-9 { left.x > 1e-9 && right.x < -1e-9 } else { turn > 0.0 }
}

/// A pair by the stitches it goes between.
fn pair(report: &Report<'_>, leg: &Leg) -> String {
    let side = leg.from.side.word();
    format!("the {side} pair of stitch {} (to {})", report.id(leg.from.stitch), report.id(leg.to.stitch))
}

/// Every place of a repeat where two lines cross, once, in the order of the legs.
fn crossings(repeat: &Repeat, places: &[Point]) -> Vec<Passing> {
    let line = |leg: &Leg| [places[leg.from.stitch], places[leg.to.stitch] + repeat.lattice.place(leg.cell)];
    let lines: Vec<[Point; 2]> = repeat.legs.iter().map(line).collect();
    let mut found: Vec<Passing> = Vec::new();
    for one in 0..lines.len() {
        for other in one..lines.len() {
            for cell in copies_near(repeat, lines[one], lines[other]) {
                let moved = lines[other].map(|end| end + repeat.lattice.place(cell));
                let Some(at) = crossing(lines[one], moved) else { continue };
                let same = |place: Point| {
                    let apart = repeat.lattice.coordinates(at - place);
                    apart.iter().all(|step| (step - step.round()).abs() < 1e-6)
                };
                let known = places.iter().any(|&place| same(place)) || found.iter().any(|p| same(p.at));
                if !known {
                    found.push(Passing { legs: [one, other], at });
                }
            }
        }
    }
    found
}

/// The cells by which a line must be moved to come near another.
fn copies_near(repeat: &Repeat, one: [Point; 2], other: [Point; 2]) -> Vec<Cell> {
    let ends = one.iter().flat_map(|a| other.iter().map(move |b| repeat.lattice.coordinates(*a - *b)));
    let ends: Vec<[f64; 2]> = ends.collect();
    let range = |k: usize| {
        let all = ends.iter().map(|steps| steps[k]);
        // Lines that span a parallelogram meet within the steps of its corners.
        let least = all.clone().fold(f64::INFINITY, f64::min).ceil() as i64;
        least..=all.fold(f64::NEG_INFINITY, f64::max).floor() as i64
    };
    let (across, down) = (range(0), range(1));
    let count = |range: &RangeInclusive<i64>| range.end().saturating_sub(*range.start()).saturating_add(1);
    if count(&across).saturating_mul(count(&down)) > MOST_COPIES {
        return Vec::new();
    }
    across.flat_map(|i| down.clone().map(move |j| Cell::new(i, j))).collect()
}

/// Where two lines cross, ends left out.
fn crossing([a, b]: [Point; 2], [c, d]: [Point; 2]) -> Option<Point> {
    let (along, over) = (b - a, d - c);
    let turn = along.cross(over);
    if turn.abs() < 1e-9 {
        return None;
    }
    let [t, u] = [(c - a).cross(over) / turn, (c - a).cross(along) / turn];
    let inside = |part: f64| part > 1e-6 && part < 1.0 - 1e-6;
    (inside(t) && inside(u)).then(|| a + along * t)
}
