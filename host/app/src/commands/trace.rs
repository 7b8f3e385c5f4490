//! `trace`: where every pair goes, and what to change to steer one.

mod steering;
mod text;

use catalogue::text::path_name;
use compare::trace::{PX_PER_MM, Traced};

use crate::cli::TraceArgs;
use crate::commands::{Outcome, note_all};
use crate::export::{Format, export};
use crate::failure::Failure;
use crate::output::print;
use crate::request::sources::Sources;
use crate::request::trace::UnresolvedTrace;
use crate::sources::Grounds;

/// Prints the trace, and draws it if `--out` is given.
pub fn run(args: &TraceArgs, sources: &Sources) -> Result<Outcome, Failure> {
    if let Some(out) = &args.out {
        Format::of(out)?;
    }
    let request = UnresolvedTrace::read(args)?;
    note_all(request.notes());
    let grounds = Grounds::new(sources);
    if let Some(wish) = args.why {
        let request = request.resolve_steering(wish, &grounds)?;
        note_all(request.scale.note([request.chosen.about()]));
        return steering::run(request, args.out.as_deref());
    }
    let request = request.resolve(&grounds)?;
    note_all(request.scale.note([request.chosen.about()]));
    let traced = Traced::new(request)?;
    note_all(traced.note.clone());
    if let Some(out) = &args.out {
        let picture = traced.picture()?;
        note_all(picture.note);
        let px = (picture.drawing.width * PX_PER_MM).round() as u32;
        export(&[picture.drawing], out, px)?;
        if !args.json {
            let (places, rows) = (traced.trace.places, traced.trace.rows.len() - 1);
            print(&format!("{}: the paths of {places} places over {rows} rows\n\n", path_name(out)))?;
        }
    }
    print(&if args.json {
        report::pretty(&report::trace::Trace::from(&traced))?
    } else {
        text::text(&traced)
    })?;
    Ok(Outcome::Done)
}
