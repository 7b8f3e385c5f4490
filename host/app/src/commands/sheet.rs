//! `sheet`: one ground in full, or its thread drawing, working diagram or
//! pricking alone.

use catalogue::text::path_name;
use compare::sheet::{Sheet, Show};
use picture::drawing::Drawing;

use crate::cli::SheetArgs;
use crate::commands::{Outcome, note_all};
use crate::export::{Format, export};
use crate::failure::Failure;
use crate::output::print;
use crate::request::sheet::UnresolvedSheet;
use crate::request::sources::Sources;
use crate::sources::Grounds;

/// Draws and writes the sheet.
pub fn run(args: &SheetArgs, sources: &Sources) -> Result<Outcome, Failure> {
    // Refuse an unusable file name before doing any work.
    let format = Format::of(&args.out)?;
    let request = UnresolvedSheet::read(args)?;
    note_all(request.notes());
    let request = request.resolve(&Grounds::new(sources))?;
    let Sheet { mut pages, notes } = request.draw()?;
    note_all(notes);
    // Pictures have no pages. Those of a pricking would not be the actual size.
    if request.show.is_none() && format != Format::Pdf {
        pages = vec![Drawing::one_below_another(&pages)];
    }
    export(&pages, &args.out, args.px)?;
    let what = match request.show {
        None => "all about",
        Some(Show::Threads) => "the threads of",
        Some(Show::WorkingDiagram) => "the working diagram of",
        Some(Show::Pricking) => "the pricking of",
    };
    let size = match &pages[..] {
        [page] => format!("{} by {} mm", page.width, page.height),
        pages => format!("{} pages", pages.len()),
    };
    print(&format!("{}: {what} {}, {size}\n", path_name(&args.out), request.chosen.title()))?;
    Ok(Outcome::Done)
}
