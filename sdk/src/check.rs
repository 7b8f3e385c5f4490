//! The host's check of a contribution, run natively for a contributor's unit
//! tests.

use std::fmt::Write as _;

use crate::{Contribution, Move, Point, Problem, Repeat, Settings, Side, Value};

/// Runs the host's check on every variety of `T`, and on every option of every
/// choice with the other choices at their defaults.
///
/// Warnings do not make it fail; they are returned, one line each.
///
/// # Panics
/// When a finding is an error, with its sentence and remedy; when a variety gives
/// no repeat, with the problem; when a default or a variety sets a value that
/// does not exist. An option that no variety uses may give a [`Problem`].
///
/// # Examples
/// ```
/// # use pairwise_sdk::{About, Contribution, Grid, Problem, Repeat, Settings, Variety};
/// # struct Plain;
/// # impl Contribution for Plain {
/// #     fn about() -> About {
/// #         About::ground("plain", "Plain ground").variety(Variety::new("plain", "Plain ground"))
/// #     }
/// #     fn define(_: &Settings) -> Result<Repeat, Problem> {
/// #         Grid::new((1, 1), (-1, 1)).dot("pin", (0, 0), "CT pin CT").repeat()
/// #     }
/// # }
/// // In a unit test of torchon ground:
/// assert_eq!(pairwise_sdk::check::<Plain>(), Vec::<String>::new());
/// ```
pub fn check<T: Contribution>() -> Vec<String> {
    let about = T::about();
    assert!(
        !about.varieties.is_empty(),
        "`{}` names no variety: one is needed, the usual one first",
        about.id
    );
    let mut told = String::new();
    let mut warnings = Vec::new();
    let mut look = |what: &str, settings: &Settings, must_define: bool| match T::define(settings) {
        Ok(repeat) => findings(what, &repeat, &mut told, &mut warnings),
        Err(problem) if must_define => _ = writeln!(told, "{what}: {}", problem.sentence),
        Err(_) => {}
    };
    for variety in &about.varieties {
        let what = format!("variety `{}`", variety.id);
        look(&what, &Settings::variety(&about, &variety.id), true);
    }
    let defaults = Settings::defaults(&about);
    for choice in &about.choices {
        let values: Vec<Value> = match &choice.range {
            crate::Range::Named(options) => options.iter().map(|o| Value::Named(o.id.clone())).collect(),
            crate::Range::Count((least, most)) => [*least, *most].into_iter().map(Value::Count).collect(),
        };
        assert!(in_range(choice), "choice `{}`: the default is not among what may be chosen", choice.id);
        for value in values {
            let what = match &value {
                Value::Named(option) => format!("with {}={option}", choice.id),
                Value::Count(count) => format!("with {}={count}", choice.id),
            };
            look(&what, &defaults.clone().with(&choice.id, value), false);
        }
    }
    assert!(told.is_empty(), "`{}` cannot be worked as written\n{told}", about.id);
    warnings
}

/// Where the threads of every variety go, in the order of the varieties: how many
/// threads of one repeat travel left, stay in their column, travel right. For
/// tests of what the notes say about colours.
///
/// # Panics
/// When a variety gives no repeat, or one with errors; see [`check`].
///
/// # Examples
/// ```
/// # use pairwise_sdk::{About, Contribution, Grid, Problem, Repeat, Settings, Variety};
/// # struct Plain;
/// # impl Contribution for Plain {
/// #     fn about() -> About {
/// #         About::ground("plain", "Plain ground").variety(Variety::new("plain", "Plain ground"))
/// #     }
/// #     fn define(_: &Settings) -> Result<Repeat, Problem> {
/// #         Grid::new((1, 1), (-1, 1)).dot("pin", (0, 0), "CT pin CT").repeat()
/// #     }
/// # }
/// // In torchon ground half of the four threads travel to the left, half to the right.
/// assert_eq!(pairwise_sdk::travels::<Plain>(), [("plain".to_owned(), [2, 0, 2])]);
/// ```
pub fn travels<T: Contribution>() -> Vec<(String, [usize; 3])> {
    let about = T::about();
    let varieties = about.varieties.iter();
    varieties
        .map(|variety| {
            let repeat =
                T::define(&Settings::variety(&about, &variety.id)).expect("the variety gives a repeat");
            let repeat = to_lace(&repeat).expect("its stitches are short enough");
            let ground = lace::Ground::new(repeat).expect("it can be worked");
            let mut threads = [0; 3];
            for course in ground.courses() {
                threads[course.travel as usize] += course.threads;
            }
            (variety.id.clone(), threads)
        })
        .collect()
}

fn in_range(choice: &crate::Choice) -> bool {
    match (&choice.range, &choice.default) {
        (crate::Range::Named(options), Value::Named(id)) => options.iter().any(|o| o.id == *id),
        (crate::Range::Count((least, most)), Value::Count(count)) => (least..=most).contains(&count),
        _ => false,
    }
}

fn findings(what: &str, repeat: &Repeat, told: &mut String, warnings: &mut Vec<String>) {
    let repeat = match to_lace(repeat) {
        Ok(repeat) => repeat,
        Err(problem) => {
            _ = writeln!(told, "{what}: {}", problem.sentence);
            return;
        }
    };
    for finding in lace::check(&repeat) {
        let line = format!("{what}: {}: {} {}", finding.place, finding.sentence, finding.code.remedy());
        if finding.is_error() {
            _ = writeln!(told, "{line}");
        } else {
            warnings.push(line);
        }
    }
}

/// The repeat as the host sees it.
///
/// # Errors
/// A second pin in a stitch, or more than 256 moves.
///
/// # Examples
/// ```
/// let repeat = pairwise_sdk::Grid::new((1, 1), (-1, 1)).dot("pin", (0, 0), "CT pin CT").repeat().unwrap();
/// let repeat = pairwise_sdk::to_lace(&repeat).unwrap();
/// assert_eq!(repeat.stitches[0].stitch.to_string(), "CT pin CT");
/// ```
pub fn to_lace(repeat: &Repeat) -> Result<lace::Repeat, Problem> {
    let point = |p: &Point| lace::point(p.x, p.y);
    let side = |s: Side| match s {
        Side::Left => lace::Side::Left,
        Side::Right => lace::Side::Right,
    };
    let stitch = |s: &crate::Stitch| {
        let work = to_work(&s.work).map_err(|why| Problem::new(format!("`{}`: {why}", s.id)))?;
        Ok(lace::PlacedStitch { id: s.id.clone(), at: s.at.as_ref().map(point), stitch: work })
    };
    Ok(lace::Repeat {
        lattice: lace::Lattice { across: point(&repeat.across), down: point(&repeat.down) },
        stitches: repeat.stitches.iter().map(stitch).collect::<Result<_, Problem>>()?,
        legs: repeat
            .legs
            .iter()
            .map(|l| lace::Leg {
                from: lace::End::new(l.from as usize, side(l.from_side)),
                to: lace::End::new(l.to as usize, side(l.to_side)),
                cell: [l.cell_across, l.cell_down].into(),
                twists: l.twists,
            })
            .collect(),
    })
}

fn to_work(moves: &[Move]) -> Result<lace::Stitch, lace::StitchError> {
    let words = moves.iter().map(|m| match m {
        Move::Cross => "C",
        Move::Twist => "T",
        Move::TwistLeft => "twist-left",
        Move::TwistRight => "twist-right",
        Move::PairCross => "pair-cross",
        Move::PairTwist => "pair-twist",
        Move::Pin => "pin",
    });
    words.collect::<Vec<_>>().join(" ").parse()
}
