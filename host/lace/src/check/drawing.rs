//! Whether consecutive stitches are really two, and whether the places given
//! make an even drawing.

use crate::check::findings::{Code, Place};
use crate::check::report::Report;
use crate::lattice::point::{Point, point};
use crate::limits::LOPSIDED;
use crate::repeat::map::Walk;
use crate::repeat::wiring::Wiring;
use crate::repeat::{Leg, Repeat};

pub(super) fn is_even(report: &mut Report<'_>, wiring: &Wiring, faces: &[Vec<Walk>]) {
    long_stitches(report, wiring, faces);
    let given: Option<Vec<Point>> = report.repeat.stitches.iter().map(|s| s.at).collect();
    if let Some(places) = given {
        let runs: Vec<Point> =
            report.repeat.legs.iter().map(|leg| run(report.repeat, &places, leg)).collect();
        lopsided(report, &runs);
        uphill(report, &runs);
        crossing(report, wiring, faces, &runs);
    }
}

/// The step from one end of a leg to the other.
fn run(repeat: &Repeat, places: &[Point], leg: &Leg) -> Point {
    places[leg.to.stitch] + repeat.lattice.place(leg.cell) - places[leg.from.stitch]
}

/// Holes with two corners: the same two pairs go on to the next stitch.
fn long_stitches(report: &mut Report<'_>, wiring: &Wiring, faces: &[Vec<Walk>]) {
    let Repeat { stitches, legs, .. } = report.repeat;
    for face in faces.iter().filter(|f| f.len() == 2) {
        let first = face.iter().find(|w| w.along).expect("such a hole has one leg on either side");
        let leg = &legs[wiring.leg_of_edge(first.edge)];
        // A stitch holds one pin at most, and a tally is always its own stitch.
        let both = [leg.from, leg.to].map(|end| &stitches[end.stitch].stitch);
        if both.iter().all(|s| s.pin().is_some()) || both.iter().any(|s| s.is_woven()) {
            continue;
        }
        let [a, b] = [report.id(leg.from.stitch), report.id(leg.to.stitch)];
        let sentence = format!("both pairs go straight on from stitch {a} to stitch {b}");
        report.say(Code::OneLongStitch, Place::Stitches(vec![a, b]), sentence);
    }
}

fn lopsided(report: &mut Report<'_>, runs: &[Point]) {
    let lengths: Vec<f64> = runs.iter().map(|run| run.length()).collect();
    let shortest = lengths.iter().copied().fold(f64::INFINITY, f64::min);
    let longest = lengths.iter().copied().fold(0.0, f64::max);
    if longest > LOPSIDED * shortest {
        let l = lengths.iter().position(|&d| d == longest).expect("the longest is among them");
        let place = report.leg_place(&report.repeat.legs[l]);
        let sentence = format!(
            "the longest way from stitch to stitch is {longest:.2} grid steps, the shortest {shortest:.2}"
        );
        report.say(Code::Lopsided, place, sentence);
    }
}

fn uphill(report: &mut Report<'_>, runs: &[Point]) {
    for (leg, run) in report.repeat.legs.iter().zip(runs) {
        if run.y < -1e-9 {
            let to = report.id(leg.to.stitch);
            let sentence = format!("this pair climbs {:.2} grid steps to stitch {to}", -run.y);
            report.say(Code::RunsUphill, report.leg_place(leg), sentence);
        }
    }
}

fn crossing(report: &mut Report<'_>, wiring: &Wiring, faces: &[Vec<Walk>], runs: &[Point]) {
    // Faces with two corners are flat.
    for face in faces.iter().filter(|f| f.len() > 2) {
        let mut at = point(0.0, 0.0);
        let corners: Vec<Point> = face
            .iter()
            .map(|w| {
                let run = runs[wiring.leg_of_edge(w.edge)];
                at += if w.along { run } else { -run };
                at
            })
            .collect();
        if !turns_once(&corners) {
            let place = Place::Stitches(report.ids_round(face, wiring));
            let sentence = "straight lines for the pairs round this hole cross each other";
            report.say(Code::LegsDrawnCrossing, place, sentence);
        }
    }
}

/// Whether a polygon is simple and wound clockwise on the pillow.
fn turns_once(corners: &[Point]) -> bool {
    let n = corners.len();
    let area: f64 = (0..n).map(|k| corners[k].cross(corners[(k + 1) % n])).sum();
    let crosses = |i: usize, j: usize| {
        let [a, b, c, d] = [i, i + 1, j, (j + 1) % n].map(|k| corners[k]);
        let turn = |a: Point, b: Point, c: Point| (b - a).cross(c - a);
        let straddle = |p: f64, q: f64| (p > 1e-9 && q < -1e-9) || (p < -1e-9 && q > 1e-9);
        straddle(turn(a, b, c), turn(a, b, d)) && straddle(turn(c, d, a), turn(c, d, b))
    };
    let neighbours = |i: usize, j: usize| i == 0 && j == n - 1;
    area > 1e-9 && (0..n).all(|i| (i + 2..n).all(|j| neighbours(i, j) || !crosses(i, j)))
}
