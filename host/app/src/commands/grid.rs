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
use crate::output::{note, print, write_file};
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
    let written = pages::write(&comparison, args)?;
    if let Some(file) = &args.index {
        write_file(file, &index::json(&comparison, &written, grounds_left_out, left_out.len())?)?;
    }
    let grounds = comparison.rows();
    if grounds_left_out > 0 {
        let all = grounds_left_out + grounds;
        note(&format!(
            "{grounds_left_out} of {all} grounds are left out, as --only, --except or a filter asks"
        ));
    }
    note_all(comparison.shown.left_out_note());
    print(&report(args, &comparison, &written))?;
    Ok(report_failures(&left_out))
}

/// A line about what was drawn.
fn report(args: &GridArgs, comparison: &Comparison, written: &Written) -> String {
    let counted = |n: usize, one: &str, many: &str| {
        format!("{} {}", with_commas(n as u128), if n == 1 { one } else { many })
    };
    let what = format!(
        "{} in {}",
        counted(comparison.rows(), "ground", "grounds"),
        counted(comparison.shown.shown.len(), "arrangement", "arrangements")
    );
    match &written.pages[..] {
        [page] => format!("{}: {what}, {} by {} pixels\n", path_name(&args.out), page.width, page.height),
        all => format!(
            "{} to {}: {what} on {} pages\n",
            path_name(&pages::path(&args.out, 0, all.len())),
            path_name(&pages::path(&args.out, all.len() - 1, all.len())),
            all.len()
        ),
    }
}
