//! Whether every entry and exit is used by exactly one leg.

use crate::check::findings::{Code, Place};
use crate::check::report::Report;
use crate::repeat::End;
use crate::repeat::wiring::{Uses, Wiring};

pub(super) fn uses_each_end_once(report: &mut Report<'_>) -> Option<Wiring> {
    let uses = Uses::of(report.repeat);
    for dart in 0..2 * report.repeat.stitches.len() {
        let end = End::from_dart(dart);
        for (one, many, legs) in
            [("leaves", "leave", &uses.leaving[dart]), ("comes into", "come into", &uses.arriving[dart])]
        {
            let (id, side) = (report.id(end.stitch), end.side.word());
            let (code, sentence) = match legs.len() {
                0 => (Code::LooseEnd, format!("no pair {one} stitch {id} on the {side}")),
                1 => continue,
                n => (Code::UsedTwice, format!("{n} pairs {many} stitch {id} on the {side}")),
            };
            report.say(code, Place::Stitches(vec![id]), sentence);
        }
    }
    Wiring::new(report.repeat, &uses)
}
