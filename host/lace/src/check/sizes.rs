//! Whether a repeat is within the limits, and its legs name stitches that
//! exist.

use crate::check::findings::{Code, Place};
use crate::check::report::Report;
use crate::lattice::point::Point;
use crate::limits::{
    MAX_CELL, MAX_CROSSINGS, MAX_CROSSINGS_PER_STEP, MAX_LEGS, MAX_LEGS_PER_STEP, MAX_REPEAT_PAIRS,
    MAX_STITCHES, MAX_TWISTS,
};
use crate::repeat::wiring::Wired;
use crate::repeat::{End, Leg, Repeat};

pub(super) fn are_within_limits(report: &mut Report<'_>) -> bool {
    report.is_clean(|report| {
        let Repeat { stitches, legs, .. } = report.repeat;
        for (n, what, most) in
            [(stitches.len(), "stitches", MAX_STITCHES), (legs.len(), "pairs between stitches", MAX_LEGS)]
        {
            if n > most {
                let sentence = format!("the repeat has {n} {what}; at most {most} are allowed");
                report.say(Code::TooLarge, Place::Repeat, sentence);
            }
        }
        for leg in legs {
            of_leg(report, leg);
        }
        let crossings = crossings(report.repeat);
        if crossings > MAX_CROSSINGS {
            let sentence = format!(
                "threads cross {crossings} times in the repeat; at most {MAX_CROSSINGS} crossings are allowed"
            );
            report.say(Code::TooLarge, Place::Repeat, sentence);
        }
    })
}

/// The crossings of single threads in a repeat. Twists beyond the limit are
/// reported for their leg.
fn crossings(repeat: &Repeat) -> usize {
    let in_stitches = repeat.stitches.iter().map(|s| s.stitch.crossings().count());
    let on_legs = repeat.legs.iter().map(|leg| leg.twists.min(MAX_TWISTS) as usize);
    in_stitches.chain(on_legs).sum()
}

fn of_leg(report: &mut Report<'_>, leg: &Leg) {
    let stitches = report.repeat.stitches.len();
    let known = |e: End| e.stitch < stitches;
    if !known(leg.from) || !known(leg.to) {
        let number = if known(leg.from) { leg.to.stitch } else { leg.from.stitch };
        let sentence = format!(
            "a pair comes from or goes to stitch number {number}, counted from 0; there are {stitches}"
        );
        report.say(Code::LooseEnd, Place::Repeat, sentence);
        return;
    }
    if leg.twists > MAX_TWISTS {
        let sentence = format!("{} extra twists on one pair; at most {MAX_TWISTS} are allowed", leg.twists);
        report.say(Code::TooLarge, report.leg_place(leg), sentence);
    }
    let [across, down] = leg.cell.into();
    if [across, down].iter().any(|c| !(-MAX_CELL..=MAX_CELL).contains(c)) {
        let sentence = format!(
            "a pair goes to the repeat [{across}, {down}] from its own; at most {MAX_CELL} either way are allowed"
        );
        report.say(Code::TooLarge, report.leg_place(leg), sentence);
    }
}

/// A leg that leads `n` rows of repeats down crosses `n` level lines.
pub(super) fn pairs_are_within_limits(report: &mut Report<'_>, wired: Wired<'_>) -> bool {
    report.is_clean(|report| {
        let pairs: i64 = (0..wired.repeat.legs.len()).map(|leg| wired.leg_cell(leg).row).sum();
        if pairs > MAX_REPEAT_PAIRS as i64 {
            let sentence = format!(
                "{pairs} pairs hang across one upright repeat; at most {MAX_REPEAT_PAIRS} are allowed"
            );
            report.say(Code::TooLarge, Place::Repeat, sentence);
        }
    })
}

/// Whether a window of the ground can be drawn: not too many crossings on a small
/// area, and no leg that passes too many repeats.
pub(super) fn drawing_is_within_limits(report: &mut Report<'_>, places: &[Point]) -> bool {
    report.is_clean(|report| {
        let Repeat { lattice, legs, .. } = report.repeat;
        let area = lattice.area();
        let crossings = crossings(report.repeat) as f64 / area;
        if crossings > MAX_CROSSINGS_PER_STEP {
            let sentence = format!(
                "threads cross {crossings:.0} times over one square grid step; at most \
                 {MAX_CROSSINGS_PER_STEP} crossings are allowed"
            );
            report.say(Code::TooLarge, Place::Repeat, sentence);
        }
        // Every square that a leg's rectangle touches, counted for all its copies.
        let spanned = |leg: &Leg| {
            let run = places[leg.to.stitch] + lattice.place(leg.cell) - places[leg.from.stitch];
            (run.x.abs() + 1.0) * (run.y.abs() + 1.0)
        };
        let over = legs.iter().map(spanned).sum::<f64>() / area;
        if over > MAX_LEGS_PER_STEP {
            let farthest = legs.iter().max_by(|a, b| spanned(a).total_cmp(&spanned(b)));
            let sentence = format!(
                "pairs run so far that {over:.0} of them pass over one square grid step; at most \
                 {MAX_LEGS_PER_STEP} are allowed"
            );
            let place = farthest.map_or(Place::Repeat, |leg| report.leg_place(leg));
            report.say(Code::TooLarge, place, sentence);
        }
    })
}
