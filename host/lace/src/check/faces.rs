//! Whether legs meet only at stitches: vertices - edges + faces = 0, every face
//! closes in the cells it crosses, and all faces together cover the torus
//! exactly once.

use crate::check::findings::{Code, Place};
use crate::check::passing::{Passed, pairs_that_pass};
use crate::check::report::Report;
use crate::lattice::cell::Cell;
use crate::repeat::map::Walk;
use crate::repeat::wiring::Wiring;
use crate::words::number::count;

pub(super) fn cover_the_torus_once(report: &mut Report<'_>, wiring: &Wiring, faces: &[Vec<Walk>]) -> bool {
    report.is_clean(|report| {
        if is_torus(report, wiring, faces.len())
            && let Some(doubled_area) = doubled_area(report, wiring, faces)
        {
            covered(report, doubled_area);
        }
    })
}

/// V - E + F = 0; there are twice as many edges as vertices.
fn is_torus(report: &mut Report<'_>, wiring: &Wiring, faces: usize) -> bool {
    let needed = wiring.map().vertices();
    if faces == needed {
        return true;
    }
    if faces > needed {
        let sentence = "the pairs close up like a bag instead of filling an area";
        report.say(Code::LegsMeet, Place::Repeat, sentence);
        return false;
    }
    match pairs_that_pass(report) {
        Some(Passed { place, sentence }) => report.say(Code::LegsMeet, place, sentence),
        None => {
            let sentence = "pairs pass each other where there is no stitch";
            report.say(Code::LegsMeet, Place::Repeat, sentence);
        }
    }
    false
}

/// Twice the area of all faces together, in cells; `None` when one of them does
/// not close.
fn doubled_area(report: &mut Report<'_>, wiring: &Wiring, faces: &[Vec<Walk>]) -> Option<i64> {
    let corners: Vec<Vec<Cell>> = faces.iter().map(|face| corners(report, face, wiring)).collect();
    let missed = |k: usize| *corners[k].last().expect("a face has corners");
    let open: Vec<usize> = (0..faces.len()).filter(|&k| missed(k) != Cell::ORIGIN).collect();
    // A pair that goes wrong leaves the holes on both its sides open.
    if let [one, other] = open[..]
        && let Some(leg) = only_shared(&faces[one], &faces[other], wiring)
    {
        let leg = &report.repeat.legs[leg];
        let sentence = format!(
            "the {} pair of stitch {} (to {}) goes to the wrong repeat, off by {}",
            leg.from.side.word(),
            report.id(leg.from.stitch),
            report.id(leg.to.stitch),
            how_far(missed(one))
        );
        report.say(Code::LegsMeet, report.leg_place(leg), sentence);
        return None;
    }
    for &k in &open {
        let place = Place::Stitches(report.ids_round(&faces[k], wiring));
        let far = how_far(missed(k));
        let sentence = format!(
            "the pairs round one hole do not close it: one of them goes to the wrong repeat, off by {far}"
        );
        report.say(Code::LegsMeet, place, sentence);
    }
    let doubled = |corners: &Vec<Cell>| corners.windows(2).map(|c| c[0].cross(c[1])).sum::<i64>();
    open.is_empty().then(|| corners.iter().map(doubled).sum())
}

/// The one leg that two faces share, if it is the only one.
fn only_shared(one: &[Walk], other: &[Walk], wiring: &Wiring) -> Option<usize> {
    let shared = one.iter().filter(|walk| other.iter().any(|beside| beside.edge == walk.edge));
    let legs: Vec<usize> = shared.map(|walk| wiring.leg_of_edge(walk.edge)).collect();
    match legs[..] {
        [leg] => Some(leg),
        _ => None,
    }
}

/// How many repeats a pair goes wrong by.
fn how_far(Cell { across, down }: Cell) -> String {
    let far = |n: i64, way: &str| format!("{} {way}", count(n.unsigned_abs() as usize, "repeat", "repeats"));
    match (across, down) {
        (across, 0) => far(across, "across"),
        (0, down) => far(down, "down"),
        (across, down) => format!("{} and {}", far(across, "across"), far(down, "down")),
    }
}

/// Where the corners of a face lie when every stitch is moved to the origin of
/// its cell. These are whole numbers, so nothing is rounded.
fn corners(report: &Report<'_>, face: &[Walk], wiring: &Wiring) -> Vec<Cell> {
    let mut at = Cell::ORIGIN;
    let mut corners = vec![at];
    for walk in face {
        let cell = report.repeat.legs[wiring.leg_of_edge(walk.edge)].cell;
        at += if walk.along { cell } else { -cell };
        corners.push(at);
    }
    corners
}

fn covered(report: &mut Report<'_>, doubled_area: i64) {
    let (code, sentence) = match doubled_area {
        2 => return,
        -2 => (
            Code::Mirrored,
            "going by where the pairs lead, left and right of every stitch are swapped".to_owned(),
        ),
        0 => (
            Code::LegsMeet,
            "the pairs lead on in one direction only, so the repeat fills no area".to_owned(),
        ),
        more => (
            Code::SeveralPieces,
            format!(
                "with these steps the ground lies {} times on top of itself; \
                 make the steps across and down longer",
                more.abs() / 2
            ),
        ),
    };
    report.say(code, Place::Repeat, sentence);
}
