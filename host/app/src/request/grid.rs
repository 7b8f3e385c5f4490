//! The request of the `grid` command.

use std::ffi::OsStr;
use std::path::Path;

use catalogue::span::Span;
use catalogue::text::path_name;
use catalogue::{Change, Chosen, LeftOut};
use compare::comparison::{ComparisonRequest, Grouping, Kept};
use compare::note::Note;
use compare::scale::Scale;
use lace::Arrangement;

use super::choices::changes;
use super::colours::ArrangementsRequest;
use super::gauge::windowed_scale;
use super::shown_grounds::{ShownGrounds, shown_grounds};
use crate::cli::{GridArgs, KeepArgs};
use crate::export::Format;
use crate::failure::Failure;
use crate::sources::Grounds;

/// A grid whose grounds have not been looked up yet.
pub struct UnresolvedGrid<'a> {
    args: &'a GridArgs,
    scale: Scale,
    colours: ArrangementsRequest,
}

/// A grid with its grounds.
pub struct ResolvedGrid {
    /// What to compare.
    pub comparison: ComparisonRequest,
    /// Number of grounds left out by `--only`, `--except` and the filters.
    pub grounds_left_out: usize,
    /// Contributions and varieties that could not be used.
    pub left_out: Vec<LeftOut>,
}

impl<'a> UnresolvedGrid<'a> {
    /// Reads the arguments.
    pub fn read(args: &'a GridArgs) -> Result<UnresolvedGrid<'a>, Failure> {
        let scale = windowed_scale(&args.gauge, &args.window)?;
        let colours = ArrangementsRequest::read(&args.arrangements)?;
        check_name(&args.out)?;
        check_clear(args.keep.clear)?;
        if args.index.as_ref().is_some_and(|index| *index == args.out) {
            return Err(Failure::Value {
                what: format!("picture and list would both be written to {}", path_name(&args.out)),
                help: "give the list a name of its own, for example --index grid.json".to_owned(),
            });
        }
        // Not only one of the two is written.
        [Some(&args.out), args.index.as_ref()]
            .into_iter()
            .flatten()
            .try_for_each(|file| in_a_folder(file))?;
        Ok(UnresolvedGrid { args, scale, colours })
    }

    /// Notes for the user about the colours.
    pub fn notes(&self) -> Vec<Note> {
        self.colours.notes()
    }

    /// Looks up the grounds.
    pub fn resolve(self, grounds: &Grounds<'_>) -> Result<ResolvedGrid, Failure> {
        let UnresolvedGrid { args, scale, colours } = self;
        let changes = changes(&args.choices)?;
        let like = args.like.as_deref().map(|text| like(text, grounds, &changes, &colours)).transpose()?;
        let mut left_out = grounds.catalogue()?.left_out().to_vec();
        let ShownGrounds { chosen: grounds, left_out: grounds_left_out } =
            shown_grounds(args, &changes, &scale, grounds, &mut left_out)?;
        if grounds.is_empty() {
            return Err(Failure::NoGround {
                what: "none of these grounds could be drawn",
                help: "`pairwise check GROUND` says what is wrong with each",
                left_out,
            });
        }
        let comparison = ComparisonRequest {
            grounds,
            arrangements: colours.wanted,
            palette: colours.palette,
            seen_by: colours.seen_by,
            scale,
            px: args.size,
            kept: kept(args),
            grouping: if args.group { Grouping::Pattern } else { Grouping::Table },
            like,
            sort: args.sort,
        };
        Ok(ResolvedGrid { comparison, grounds_left_out, left_out })
    }
}

/// Refuses a file in a folder that is not there.
fn in_a_folder(file: &Path) -> Result<(), Failure> {
    let folder = file.parent().filter(|folder| !folder.as_os_str().is_empty());
    match folder.map(Path::metadata) {
        Some(Err(why)) => Err(Failure::write(file)(why)),
        _ => Ok(()),
    }
}

/// Refuses the name of a file that is no picture in pixels.
fn check_name(out: &Path) -> Result<(), Failure> {
    let is_png = Format::of(out).is_ok_and(|format| format == Format::Png);
    if is_png || out.extension().is_none() {
        return Ok(());
    }
    Err(Failure::Value {
        what: format!("{} cannot hold this picture", path_name(out)),
        help: "`grid` writes pictures in pixels: let the name end in .png; `pairwise sheet` writes .pdf and .svg".to_owned(),
    })
}

/// What to keep.
fn kept(args: &GridArgs) -> Kept {
    let KeepArgs { patterns, clear, moves } = &args.keep;
    Kept {
        moves: *moves,
        pins: args.filters.pins,
        patterns: patterns.iter().flat_map(|wanted| wanted.patterns()).copied().collect(),
        clear_percent: *clear,
    }
}

/// Refuses more than 100 per cent.
fn check_clear(clear: Option<Span>) -> Result<(), Failure> {
    match clear {
        Some(span) if span.least > 100.0 => Err(Failure::Value {
            what: format!("no pattern is {span} % clear"),
            help: "clearness goes from 0 to 100 per cent: --clear 60- keeps what is 60 % clear or more"
                .to_owned(),
        }),
        _ => Ok(()),
    }
}

/// Reads `GROUND,ARRANGEMENT`.
fn like(
    text: &str,
    grounds: &Grounds<'_>,
    changes: &[Change],
    colours: &ArrangementsRequest,
) -> Result<(Chosen, Arrangement), Failure> {
    let Some((ground, arrangement)) = text.split_once(',') else {
        return Err(Failure::Value {
            what: format!("`{}` is not of the form GROUND,ARRANGEMENT", text.escape_debug()),
            help: "for example --like rose/plain,\"A A B B\"".to_owned(),
        });
    };
    // Report a wrong arrangement before looking anything up.
    let arrangement = colours.palette.arrangement(arrangement)?;
    Ok((grounds.meant(OsStr::new(ground.trim()))?.choose(changes)?, arrangement))
}
