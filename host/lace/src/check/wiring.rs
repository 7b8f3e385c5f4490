//! Whether every entry and exit is used by exactly one leg.

use crate::check::findings::{Code, Place};
use crate::check::report::Report;
use crate::repeat::End;
use crate::repeat::wiring::{Uses, Wiring};
use crate::words::number::listed;

pub(super) fn uses_each_end_once(report: &mut Report<'_>) -> Option<Wiring> {
    let uses = Uses::of(report.repeat);
    for dart in 0..2 * report.repeat.stitches.len() {
        let end = End::from_dart(dart);
        let (id, side) = (report.id(end.stitch), end.side.word());
        match &uses.leaving[dart][..] {
            [] => loose(report, end, format!("a pair has nowhere to go: the {side} pair of stitch {id}")),
            [_] => {}
            legs => doubled(report, end, legs, Way::Leaving),
        }
        match &uses.arriving[dart][..] {
            [] => loose(report, end, format!("stitch {id} waits for a pair: none comes in on the {side}")),
            [_] => {}
            legs => doubled(report, end, legs, Way::Arriving),
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
