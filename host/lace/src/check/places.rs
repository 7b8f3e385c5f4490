//! Whether the lattice steps and the places of the stitches are finite numbers
//! within the limits, and places are given for all stitches or for none.

use crate::check::findings::{Code, Place};
use crate::check::report::Report;
use crate::lattice::point::Point;
use crate::limits::MAX_PLACE;
use crate::repeat::Repeat;

pub(super) fn are_good(report: &mut Report<'_>) -> bool {
    report.is_clean(|report| {
        let Repeat { lattice, stitches, .. } = report.repeat;
        let good = |p: Point| p.x.abs() <= MAX_PLACE && p.y.abs() <= MAX_PLACE;
        for (name, step) in [("across", lattice.across), ("down", lattice.down)] {
            if !good(step) {
                let sentence = format!("the step {name} is ({}, {})", step.x, step.y);
                report.say(Code::BadNumber, Place::Repeat, sentence);
            }
        }
        for (s, stitch) in stitches.iter().enumerate() {
            if let Some(at) = stitch.at.filter(|&at| !good(at)) {
                let id = report.id(s);
                let sentence = format!("stitch {id} lies at ({}, {})", at.x, at.y);
                report.say(Code::BadNumber, Place::Stitches(vec![id]), sentence);
            }
        }
        let placeless: Vec<usize> = (0..stitches.len()).filter(|&s| stitches[s].at.is_none()).collect();
        if !placeless.is_empty() && placeless.len() < stitches.len() {
            let sentence = format!("{} of {} stitches have no place", placeless.len(), stitches.len());
            let place = Place::Stitches(report.ids(placeless));
            report.say(Code::PlacesMissing, place, sentence);
        }
    })
}
