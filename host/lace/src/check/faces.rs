//! Whether legs meet only at stitches: vertices - edges + faces = 0, every face
//! closes in the cells it crosses, and all faces together cover the torus
//! exactly once.

use crate::check::findings::{Code, Place};
use crate::check::report::Report;
use crate::lattice::cell::Cell;
use crate::repeat::map::Walk;
use crate::repeat::wiring::Wiring;

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
    let how = if faces > needed {
        "the pairs close up like a bag instead of filling an area".to_owned()
    } else {
        format!("pairs pass each other without a stitch ({faces} holes where {needed} are needed)")
    };
    report.say(Code::LegsMeet, Place::Repeat, how);
    false
}

/// Twice the area of all faces together, in cells; `None` when one of them does
/// not close.
fn doubled_area(report: &mut Report<'_>, wiring: &Wiring, faces: &[Vec<Walk>]) -> Option<i64> {
    let mut doubled_area = 0;
    let closed = report.is_clean(|report| {
        for face in faces {
            let corners = corners(report, face, wiring);
            let missed = *corners.last().expect("a face has corners");
            if missed != Cell::ORIGIN {
                let place = Place::Stitches(report.ids_round(face, wiring));
                let sentence = format!(
                    "the pairs round one hole do not close it, they miss by [{}, {}] repeats: \
                     one of them goes to the wrong repeat",
                    missed.across, missed.down
                );
                report.say(Code::LegsMeet, place, sentence);
            }
            doubled_area += corners.windows(2).map(|c| c[0].cross(c[1])).sum::<i64>();
        }
    });
    closed.then_some(doubled_area)
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
