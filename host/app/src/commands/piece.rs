//! `piece`: everything about a whole piece, or the way of one pair.

use piece::Followed;
use report::piece::Piece;

use crate::cli::PieceArgs;
use crate::commands::{Outcome, report_failures};
use crate::failure::Failure;
use crate::output::{print, warn};
use crate::request::piece::{Made, PieceFile};
use crate::request::sources::Sources;
use crate::sources::Grounds;

/// Prints what comes of a piece.
pub fn run(args: &PieceArgs, sources: &Sources) -> Result<Outcome, Failure> {
    let followed = args.trace.as_deref().map(followed).transpose()?;
    let file = PieceFile::open(&args.file)?;
    let grounds = Grounds::new(sources);
    let made = file.made(&grounds)?;
    let outcome = match made {
        Made::Faulty(faults) => return Err(faults.into()),
        Made::Unworkable { title, found } => {
            warn(&format!("{:?}", miette::Report::new(file.show(&found))));
            if args.json {
                print(&report::pretty(&Piece::unworkable(&title, &found))?)?;
            }
            Outcome::Findings
        }
        Made::Worked(worked) => {
            print(&match &followed {
                Some(followed) => worked
                    .follow(followed)
                    .map_err(|why| Failure::Value { what: why.sentence, help: why.remedy })?,
                None if args.json => report::pretty(&Piece::new(&worked))?,
                None => worked.in_words(),
            })?;
            Outcome::Done
        }
    };
    Ok(report_failures(grounds.catalogue()?.left_out()).and(outcome))
}

/// What `--trace` names.
fn followed(text: &str) -> Result<Followed, Failure> {
    text.parse().map_err(|why: piece::FollowedError| Failure::Value {
        what: format!("`{}` is no pair", lace::quote(text)),
        help: why.to_string(),
    })
}
