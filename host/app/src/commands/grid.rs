//! `grid`: grounds in rows and arrangements in columns, or all pictures sorted by
//! pattern, on pages.

mod index;
mod pages;

use catalogue::text::path_name;
use compare::comparison::Comparison;
use compare::number::with_commas;

use crate::cli::GridArgs;
use crate::commands::{Outcome, note_all, report_failures};
use crate::failure::Failure;
use crate::output::{PageOf, note, page_path, print, write_file};
use crate::progress::Progress;
use crate::request::grid::{ResolvedGrid, UnresolvedGrid};
use crate::request::sources::Sources;
use crate::sources::Grounds;

use pages::Written;

/// Draws and writes the grid.
pub fn run(args: &GridArgs, sources: &Sources) -> Result<Outcome, Failure> {
    let request = UnresolvedGrid::read(args)?;
    note_all(request.notes());
    let ResolvedGrid { comparison, grounds_left_out, left_out } = request.resolve(&Grounds::new(sources))?;
    let progress = Progress::new(comparison.grounds.len(), "Drawing grounds");
    let comparison = Comparison::new(comparison, &|| progress.step())?;
    drop(progress);
    note_all(comparison.notes());
    let grounds_left_out = grounds_left_out + comparison.grounds_left_out;
    let written = pages::write(&comparison, args)?;
    pages::clear_earlier(&args.out, written.pages.len())?;
    if let Some(file) = &args.index {
        write_file(file, &index::json(&comparison, &written, grounds_left_out, left_out.len())?)?;
    }
    note_left_out(args, &comparison, grounds_left_out);
    note_all(comparison.shown.left_out_note());
    print(&report(args, &comparison, &written))?;
    Ok(report_failures(&left_out))
}

/// Says which options left out how many grounds and pictures.
fn note_left_out(args: &GridArgs, comparison: &Comparison, grounds: usize) {
    let (keep, filters) = (&args.keep, &args.filters);
    let left_out = |options: &[(&str, bool)], count: usize, of: usize, what: &str| {
        if count > 0 {
            let used: Vec<&str> = options.iter().filter(|(_, used)| *used).map(|(name, _)| *name).collect();
            let [count, of] = [count, of].map(|n| with_commas(n as u128));
            note(&format!("{} left out {count} of {of} {what}", used.join(" and ")));
        }
    };
    let of_grounds = [
        ("--only", !args.only.is_empty()),
        ("--except", !args.except.is_empty()),
        ("--moves", keep.moves.is_some()),
        ("--pins", filters.pins.is_some()),
        ("--search", filters.search.is_some()),
        ("--family", !filters.family.is_empty()),
        ("--kind", filters.kind.is_some()),
        ("--lace", !filters.lace.is_empty()),
        ("--pairs-across", filters.pairs_across.is_some()),
        ("--colours-go", filters.colours_go.is_some()),
    ];
    left_out(&of_grounds, grounds, grounds + comparison.rows(), "grounds");
    let of_pictures = [("--pattern", !keep.patterns.is_empty()), ("--clear", keep.clear.is_some())];
    let pictures = comparison.rows() * comparison.shown.shown.len();
    left_out(&of_pictures, comparison.pictures_left_out(), pictures, "pictures");
}

/// A line about what was drawn.
fn report(args: &GridArgs, comparison: &Comparison, written: &Written) -> String {
    let counted = |n: usize, one: &str, many: &str| {
        format!("{} {}", with_commas(n as u128), if n == 1 { one } else { many })
    };
    let mut what = format!(
        "{} in {}",
        counted(comparison.rows(), "ground", "grounds"),
        counted(comparison.shown.shown.len(), "arrangement", "arrangements")
    );
    if comparison.pictures_left_out() > 0 {
        what = format!("{} of {what}", counted(written.places.len(), "picture", "pictures"));
    }
    match &written.pages[..] {
        [page] => format!("{}: {what}, {} by {} pixels\n", path_name(&args.out), page.width, page.height),
        all => format!(
            "{} to {}: {what} on {} pages\n",
            path_name(&page_path(&args.out, PageOf { number: 1, all: all.len() })),
            path_name(&page_path(&args.out, PageOf { number: all.len(), all: all.len() })),
            all.len()
        ),
    }
}
