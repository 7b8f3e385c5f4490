//! `piece`: everything about a whole piece, or the way of one pair.

use std::path::Path;

use piece::{Followed, Wish, Worked};
use report::piece::Piece;

use crate::cli::{PieceArgs, Show};
use crate::commands::{Outcome, report_failures};
use crate::export::{Format, export};
use crate::failure::Failure;
use crate::output::{print, warn};
use crate::request::piece::{Made, PieceFile};
use crate::request::sources::Sources;
use crate::sources::Grounds;

/// Prints what comes of a piece.
pub fn run(args: &PieceArgs, sources: &Sources) -> Result<Outcome, Failure> {
    let followed = args.trace.as_deref().map(followed).transpose()?;
    let wish = args.wish.as_deref().map(wished).transpose()?;
    // Refuse an unusable file name before doing any work.
    let format = args.out.as_deref().map(Format::of).transpose()?;
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
            let fulfilled = match &wish {
                Some(wish) => worked.fulfil(wish).map_err(not_there)?,
                None => None,
            };
            print(&match (&wish, &followed) {
                (Some(wish), _) => worked.answer(wish, fulfilled.as_ref()),
                (None, Some(followed)) => worked.follow(followed).map_err(not_there)?,
                (None, None) if args.json => report::pretty(&Piece::new(&worked))?,
                (None, None) => worked.in_words(),
            })?;
            if let (Some(out), Some(format)) = (&args.out, format) {
                let changed = fulfilled.as_ref().and_then(|fulfilled| fulfilled.worked.as_deref());
                draw(changed.unwrap_or(&worked), args, out, format)?;
            }
            Outcome::Done
        }
    };
    Ok(report_failures(grounds.catalogue()?.left_out()).and(outcome))
}

/// Writes the pictures asked for.
fn draw(worked: &Worked, args: &PieceArgs, out: &Path, format: Format) -> Result<(), Failure> {
    let picture = || {
        let laid_out = worked.lay_out();
        let report = laid_out.layout.report;
        if report.gave_up {
            warn(
                "the threads were left as they lay when all the work allowed was done; a smaller piece settles",
            );
        } else if !report.converged {
            warn("the threads did not come to rest, so the picture shows them rougher than they would lie");
        }
        laid_out.picture(f64::from(args.px) / laid_out.width(), args.pins)
    };
    let pricking =
        || worked.pricking(args.paper.0).map_err(|why| Failure::from(compare::error::Error::from(why)));
    let pages = match (args.show, format) {
        (Some(Show::Threads), _) | (None, Format::Png | Format::Svg) => vec![picture()],
        (Some(Show::Pairs), _) => vec![worked.working_diagram()],
        (Some(Show::Pricking), _) => pricking()?,
        (None, Format::Pdf) => {
            let mut pages = vec![picture(), worked.working_diagram()];
            pages.extend(pricking()?);
            pages
        }
    };
    export(&pages, out, args.px)
}

/// A failure for a pair or colour that is not in the piece.
fn not_there(why: piece::NotThere) -> Failure {
    Failure::Value { what: why.sentence, help: why.remedy }
}

/// What `--wish` says.
fn wished(text: &str) -> Result<Wish, Failure> {
    text.parse().map_err(|why: piece::WishError| Failure::Value {
        what: format!("`{}` is no wish", lace::quote(text)),
        help: why.to_string(),
    })
}

/// What `--trace` names.
fn followed(text: &str) -> Result<Followed, Failure> {
    text.parse().map_err(|why: piece::FollowedError| Failure::Value {
        what: format!("`{}` is no pair", lace::quote(text)),
        help: why.to_string(),
    })
}
