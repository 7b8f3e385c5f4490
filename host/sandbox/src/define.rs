//! Settings in, repeat out: between the words of the interface and the model.

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

/// The contribution's own refusal.
pub(crate) fn problem(about: &About, said: wire::Problem) -> SandboxError {
    let sentence = clean_and_cut(&said.sentence, limits::SENTENCE_CHARS);
    SandboxError::Problem {
        plugin: about.id.clone(),
        choice: said.choice.filter(|id| about.choices.contains_key(id)),
        sentence: if sentence.is_empty() {
            "gives no repeat for these choices and does not say why".into()
        } else {
            sentence
        },
    }
}

/// The repeat, as far as it can be told one: names are plain words, legs run
/// between stitches that are there, nothing is too long. Whether it is a ground
/// is for the check of the model to say.
pub(crate) fn repeat_in(said: wire::Repeat) -> Result<lace::Repeat, String> {
    let (stitches, legs) = (said.stitches.len(), said.legs.len());
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
        lattice: lace::Lattice { across: point(said.across), down: point(said.down) },
        legs: said
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
        stitches: said
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
    // More twists on one leg than are possible are for the check to tell.
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

fn work_in(said: &[wire::Move]) -> Result<lace::Stitch, String> {
    let mut moves = Vec::with_capacity(said.len().min(limits::MOVES));
    let mut pin = None;
    for m in said {
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
