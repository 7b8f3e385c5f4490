//! `grounds`: a table of all varieties, or some grounds in full, with filters and
//! a search by any name.

mod long;
mod table;

use catalogue::About;
use catalogue::list::{Criteria, Listing, varieties_meant, work_out};
use compare::scale::Pricking;
use report::grounds::Grounds;
use textwrap::{Options, WordSeparator, WordSplitter};

use crate::cli::GroundsArgs;
use crate::commands::{Outcome, report_failures};
use crate::failure::Failure;
use crate::output::print;
use crate::progress::Progress;
use crate::request::filters::{criteria, refused};
use crate::request::sources::Sources;
use crate::sources;

/// Width of the text, in columns of a terminal.
const WIDTH: usize = 80;

/// Prints the table, some grounds in full, or JSON.
pub fn run(args: &GroundsArgs, sources: &Sources) -> Result<Outcome, Failure> {
    let pricking = Pricking::from(args.pricking).checked()?;
    let grounds = sources::Grounds::new(sources);
    let catalogue = grounds.catalogue()?;
    let criteria = Criteria::new(criteria(&args.filters), catalogue).map_err(refused)?;
    let named = match args.grounds.as_slice() {
        [] => catalogue.varieties(),
        names => {
            varieties_meant(&names.iter().map(|name| grounds.meant(name)).collect::<Result<Vec<_>, _>>()?)?
        }
    };
    let progress = Progress::new(named.len(), "working out varieties");
    let grid = |about: &About| pricking.grid(about);
    let (listings, failed) = work_out(&named, grid, || progress.step());
    drop(progress);
    let listings = criteria.keep(listings).map_err(refused)?;
    print(&match (args.json, args.grounds.is_empty()) {
        (true, _) => report::pretty(&Grounds::new(&listings))?,
        (false, true) => table::table(args, &listings),
        (false, false) => long::all_about(&listings),
    })?;
    Ok(report_failures(&[catalogue.left_out(), &failed].concat()))
}

/// The varieties grouped by ground; those of one ground are adjacent.
fn by_ground(listings: &[Listing]) -> impl Iterator<Item = &[Listing]> {
    listings.chunk_by(|one, next| one.about().id == next.about().id)
}

/// A paragraph, wrapped at 80 columns between words (ids are not broken at
/// hyphens); nothing for an empty text.
fn put(text: &mut String, indent: &str, label: &str, said: &str) {
    if said.is_empty() {
        return;
    }
    let first = format!("{indent}{label}");
    let next = format!("{indent}{}", if label.is_empty() { "" } else { "  " });
    text.push_str(&textwrap::fill(said, broken(WIDTH).initial_indent(&first).subsequent_indent(&next)));
    text.push('\n');
}

/// How text is wrapped.
fn broken<'a>(width: usize) -> Options<'a> {
    Options::new(width).word_separator(WordSeparator::AsciiSpace).word_splitter(WordSplitter::NoHyphenation)
}
