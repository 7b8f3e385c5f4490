//! The commands, one module each.

pub mod build;
pub mod check;
pub mod completions;
pub mod explain;
pub mod facts;
pub mod gallery;
pub mod grid;
pub mod grounds;
pub mod handout;
pub mod man;
pub mod new;
pub mod pack;
pub mod piece;
pub mod sheet;
pub mod trace;
pub mod unpack;

use catalogue::LeftOut;

use compare::note::Note;

use crate::failure::Failure;
use crate::output::{note, warn};
use crate::remedy::with_remedy;

/// How a command ended that ran to its end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// Everything was done.
    Done,
    /// All that could be done was done, and what is wrong has been reported.
    Findings,
}

impl Outcome {
    /// Whether anything is wrong.
    pub fn findings(found: bool) -> Outcome {
        if found { Outcome::Findings } else { Outcome::Done }
    }

    /// The combined outcome of two steps.
    pub fn and(self, other: Outcome) -> Outcome {
        if self == Outcome::Done { other } else { self }
    }
}

/// Prints a note, which is no fault, to standard error.
pub fn note_all(notes: impl IntoIterator<Item = Note>) {
    for one in notes {
        note(&with_remedy(&one));
    }
}

/// Prints to standard error which contributions failed and why.
pub fn report_failures(left_out: &[LeftOut]) -> Outcome {
    for LeftOut { file, why } in left_out {
        warn(&format!("left out {file}: {why}"));
    }
    if !left_out.is_empty() {
        let n = left_out.len();
        warn(&format!(
            "{n} {} could not be used; everything else is done.",
            if n == 1 { "contribution" } else { "contributions" }
        ));
    }
    Outcome::findings(!left_out.is_empty())
}

/// Prints to standard error the failure that ended a command, after any
/// contributions that it could not use.
pub fn report(failure: Failure) {
    report_failures(failure.left_out());
    warn(&format!("{:?}", miette::Report::new(failure)));
}
