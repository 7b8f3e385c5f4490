//! Settings in, repeat out: conversion between the types of the interface and
//! the lace model.

use catalogue::text::{clean_and_cut, is_plain_word};
use catalogue::{About, Settings, Value};

use crate::error::SandboxError;
use crate::limits;
use crate::versions::wire;

/// The settings as the contribution reads them.
pub(crate) fn settings_out(settings: &Settings) -> Vec<wire::Setting> {
    settings
        .iter()
        .map(|(choice, value)| wire::Setting {
            choice: choice.clone(),
            value: match value {
                Value::Named(id) => wire::Value::Named(id.clone()),
                Value::Count(count) => wire::Value::Count(*count),
            },
        })
        .collect()
}

/// The error for a contribution's own refusal.
pub(crate) fn problem(about: &About, raw: wire::Problem) -> SandboxError {
    let sentence = clean_and_cut(&raw.sentence, limits::SENTENCE_CHARS);
    SandboxError::Problem {
        plugin: about.id.clone(),
        choice: raw.choice.filter(|id| about.choices.contains_key(id)),
        sentence: if sentence.is_empty() {
            "gives no repeat for these choices and does not say why".into()
        } else {
            sentence
        },
    }
}

/// Converts a repeat. Checks only that names are plain words, legs run between
/// existing stitches and nothing is too long; `lace::check` decides whether it
/// is a ground.
pub(crate) fn repeat_in(raw: wire::Repeat) -> Result<lace::Repeat, String> {
    few_stitches_and_legs(&raw)?;
    let stitches = raw.stitches.len();
    let repeat = lace::Repeat {
        lattice: lace::Lattice { across: point_in(raw.across), down: point_in(raw.down) },
        legs: raw.legs.into_iter().map(|leg| leg_in(leg, stitches)).collect::<Result<_, _>>()?,
        stitches: raw.stitches.into_iter().map(stitch_in).collect::<Result<_, _>>()?,
    };
    few_moves(&repeat)?;
    Ok(repeat)
}

fn few_stitches_and_legs(raw: &wire::Repeat) -> Result<(), String> {
    let (stitches, legs) = (raw.stitches.len(), raw.legs.len());
    if stitches > limits::STITCHES || legs > limits::LEGS {
        let most = limits::STITCHES;
        return Err(format!(
            "the repeat has {stitches} stitches and {legs} legs; at most {most} and twice as many are possible"
        ));
    }
    Ok(())
}

fn few_moves(repeat: &lace::Repeat) -> Result<(), String> {
    let in_stitches = repeat.stitches.iter().map(|s| s.stitch.moves().len());
    // Too many twists on one leg are reported by `lace::check`.
    let on_legs = repeat.legs.iter().map(|l| l.twists.min(lace::limits::MAX_TWISTS) as usize);
    let moves: usize = in_stitches.chain(on_legs).sum();
    if moves > limits::ALL_MOVES {
        return Err(format!(
            "the repeat has {moves} moves and twists in all; at most {} are possible",
            limits::ALL_MOVES
        ));
    }
    Ok(())
}

fn point_in(raw: wire::Point) -> lace::Point {
    lace::point(raw.x, raw.y)
}

/// Converts a leg of a repeat with this number of stitches.
fn leg_in(raw: wire::Leg, stitches: usize) -> Result<lace::Leg, String> {
    Ok(lace::Leg {
        from: end_in(raw.from, raw.from_side, stitches)?,
        to: end_in(raw.to, raw.to_side, stitches)?,
        cell: [raw.cell_across, raw.cell_down].into(),
        twists: raw.twists,
    })
}

fn end_in(stitch: u32, side: wire::Side, stitches: usize) -> Result<lace::End, String> {
    let side = match side {
        wire::Side::Left => lace::Side::Left,
        wire::Side::Right => lace::Side::Right,
    };
    if (stitch as usize) < stitches {
        Ok(lace::End::new(stitch as usize, side))
    } else {
        Err(format!("a leg names stitch {stitch}, but the last is number {}", stitches.saturating_sub(1)))
    }
}

fn stitch_in(raw: wire::Stitch) -> Result<lace::PlacedStitch, String> {
    if !is_plain_word(&raw.id) {
        let shown = clean_and_cut(&raw.id, limits::TITLE_CHARS);
        return Err(format!(
            "a stitch is called `{shown}`; its name must be a plain word: a to z, 0 to 9 and -"
        ));
    }
    let work = work_in(&raw.work).map_err(|what| format!("at `{}` {what}", raw.id))?;
    Ok(lace::PlacedStitch { id: raw.id, at: raw.at.map(point_in), stitch: work })
}

fn work_in(raw: &[wire::Move]) -> Result<lace::Stitch, String> {
    let mut moves = Vec::with_capacity(raw.len().min(limits::MOVES));
    let mut pin = None;
    for m in raw {
        moves.push(match m {
            wire::Move::Cross => lace::Move::Cross,
            wire::Move::Twist => lace::Move::Twist,
            wire::Move::TwistLeft => lace::Move::TwistLeft,
            wire::Move::TwistRight => lace::Move::TwistRight,
            wire::Move::PairCross => lace::Move::PairCross,
            wire::Move::PairTwist => lace::Move::PairTwist,
            wire::Move::Pin if pin.is_some() => return Err(lace::StitchError::SecondPin.to_string()),
            wire::Move::Pin => {
                pin = Some(moves.len());
                continue;
            }
        });
        if moves.len() > limits::MOVES {
            break;
        }
    }
    lace::Stitch::new(moves, pin).map_err(|why| why.to_string())
}
