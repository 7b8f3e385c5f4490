//! Whether every stitch links its pairs, and some stitch has a pin.

use crate::check::findings::{Code, Place};
use crate::check::report::Report;
use crate::words::quote::quote;

pub(super) fn do_something(report: &mut Report<'_>) {
    let stitches = &report.repeat.stitches;
    for (s, stitch) in stitches.iter().enumerate() {
        if !stitch.stitch.links_pairs() {
            let id = report.id(s);
            let moves = quote(&stitch.stitch.to_string());
            let sentence = format!("stitch {id} (`{moves}`) passes no thread between its pairs");
            report.say(Code::PairsUnlinked, Place::Stitches(vec![id]), sentence);
        }
    }
    if stitches.iter().all(|s| s.stitch.pin().is_none()) {
        report.say(Code::NoPin, Place::Repeat, "no stitch has a pin");
    }
}
