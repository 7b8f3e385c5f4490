//! Whether the pairs connect all stitches.

use crate::check::findings::{Code, Place};
use crate::check::report::Report;
use crate::repeat::map::LaceMap;

pub(super) fn are_one(report: &mut Report<'_>, map: &LaceMap) -> bool {
    let pieces = map.pieces();
    if pieces.len() <= 1 {
        return true;
    }
    let smallest = pieces.iter().min_by_key(|p| p.len()).expect("several pieces");
    report.say(
        Code::SeveralPieces,
        Place::Stitches(report.ids(smallest.iter().copied())),
        format!("the stitches fall into {} pieces that no pair connects", pieces.len()),
    );
    false
}
