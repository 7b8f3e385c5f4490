//! Whether the pairs connect all stitches.

use crate::check::findings::{Code, Place};
use crate::check::report::Report;
use crate::lattice::point::Point;
use crate::repeat::map::LaceMap;
use crate::words::number::number;

/// Where a stitch stands, as part of a sentence.
fn stands(at: Option<Point>) -> String {
    at.map_or_else(String::new, |at| format!(", which stands at [{}, {}]", number(at.x), number(at.y)))
}

pub(super) fn are_one(report: &mut Report<'_>, map: &LaceMap) -> bool {
    let pieces = map.pieces();
    if pieces.len() <= 1 {
        return true;
    }
    let smallest = pieces.iter().min_by_key(|p| p.len()).expect("several pieces");
    let sentence = match smallest[..] {
        [one] => format!(
            "no pair from another stitch reaches stitch {}{}",
            report.id(one),
            stands(report.repeat.stitches[one].at)
        ),
        _ => format!("the stitches fall into {} pieces that no pair connects", pieces.len()),
    };
    report.say(Code::SeveralPieces, Place::Stitches(report.ids(smallest.iter().copied())), sentence);
    false
}
