//! Whether every entry and exit is used by exactly one leg.

use crate::check::findings::{Code, Place};
use crate::check::report::Report;
use crate::repeat::End;
use crate::repeat::wiring::{Uses, Wiring};
use crate::words::number::listed;

pub(super) fn uses_each_end_once(report: &mut Report<'_>) -> Option<Wiring> {
    let uses = Uses::of(report.repeat);
    let ends = (0..2 * report.repeat.stitches.len()).map(|dart| (dart, End::from_dart(dart)));
    // Where two pairs share a side, another side is left free because of it.
    for (dart, end) in ends.clone() {
        for (legs, way) in [(&uses.leaving[dart], Way::Leaving), (&uses.arriving[dart], Way::Arriving)] {
            if legs.len() > 1 {
                doubled(report, end, legs, way);
            }
        }
    }
    for (dart, end) in ends {
        let (id, side) = (report.id(end.stitch), end.side.word());
        if uses.leaving[dart].is_empty() {
            loose(report, end, format!("a pair has nowhere to go: the {side} pair of stitch {id}"));
        }
        if uses.arriving[dart].is_empty() {
            loose(report, end, format!("stitch {id} waits for a pair: none comes in on the {side}"));
        }
    }
    Wiring::new(report.repeat, &uses)
}

fn loose(report: &mut Report<'_>, end: End, sentence: String) {
    report.say(Code::LooseEnd, Place::Stitches(vec![report.id(end.stitch)]), sentence);
}

/// Most pairs named that share a side of a stitch; the others are counted.
const NAMED: usize = 8;

/// Whether pairs leave a stitch or come into it.
#[derive(Clone, Copy)]
enum Way {
    Leaving,
    Arriving,
}

/// Says which pairs share a side of a stitch. The stitches at their other ends
/// are named too, so that a chart shows both lines.
fn doubled(report: &mut Report<'_>, end: End, legs: &[usize], way: Way) {
    let others = legs.iter().map(|&leg| match way {
        Way::Leaving => report.repeat.legs[leg].to,
        Way::Arriving => report.repeat.legs[leg].from,
    });
    let others: Vec<End> = others.collect();
    let (id, side, count) = (report.id(end.stitch), end.side.word(), legs.len());
    let of = |other: &End| {
        let (other, its) = (report.id(other.stitch), other.side.word());
        match way {
            Way::Leaving => format!("the one to stitch {other} on its {its}"),
            Way::Arriving => format!("the {its} pair of stitch {other}"),
        }
    };
    let mut pairs: Vec<String> = others.iter().take(NAMED).map(of).collect();
    if count > NAMED {
        pairs.push(format!("{} more", count - NAMED));
    }
    let pairs = listed(&pairs);
    let sentence = match way {
        Way::Leaving => format!("{count} pairs leave stitch {id} on the {side}: {pairs}"),
        Way::Arriving => format!("{count} pairs come into stitch {id} on the {side}: {pairs}"),
    };
    let ids = report.ids(std::iter::once(end.stitch).chain(others.iter().map(|other| other.stitch)));
    report.say(Code::UsedTwice, Place::Stitches(ids), sentence);
}
