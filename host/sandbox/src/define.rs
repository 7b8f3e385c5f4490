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
    let (stitches, legs) = (raw.stitches.len(), raw.legs.len());
    if stitches > limits::STITCHES || legs > limits::LEGS {
        let most = limits::STITCHES;
        return Err(format!(
            "the repeat has {stitches} stitches and {legs} legs; at most {most} and twice as many are possible"
        ));
    }
    let point = |p: wire::Point| lace::point(p.x, p.y);
    let end = |stitch: u32, side: wire::Side| {
        let side = match side {
            wire::Side::Left => lace::Side::Left,
            wire::Side::Right => lace::Side::Right,
        };
        if (stitch as usize) < stitches {
            Ok(lace::End::new(stitch as usize, side))
        } else {
            Err(format!("a leg names stitch {stitch}, but the last is number {}", stitches.saturating_sub(1)))
        }
    };
    let repeat = lace::Repeat {
        lattice: lace::Lattice { across: point(raw.across), down: point(raw.down) },
        legs: raw
            .legs
            .iter()
            .map(|l| {
                Ok(lace::Leg {
                    from: end(l.from, l.from_side)?,
                    to: end(l.to, l.to_side)?,
                    cell: [l.cell_across, l.cell_down].into(),
                    twists: l.twists,
                })
            })
            .collect::<Result<_, String>>()?,
        stitches: raw
            .stitches
            .into_iter()
            .map(|s| {
                if !is_plain_word(&s.id) {
                    let shown = clean_and_cut(&s.id, limits::TITLE_CHARS);
                    return Err(format!(
                        "a stitch is called `{shown}`; its name must be a plain word: a to z, 0 to 9 and -"
                    ));
                }
                let work = work_in(&s.work).map_err(|what| format!("at `{}` {what}", s.id))?;
                Ok(lace::PlacedStitch { id: s.id, at: s.at.map(point), stitch: work })
            })
            .collect::<Result<_, String>>()?,
    };
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
    Ok(repeat)
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
