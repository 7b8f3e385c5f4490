//! `explain`: what a fault means, why it matters and what to do, with examples; and
//! how charts are written.

mod text;

use std::path::Path;

use catalogue::fold::same;
use catalogue::suggest;
use catalogue::text::path_name;
use gallery::faults_page;
use lace::Code;
use manual::charts;
use manual::findings::explain;

use crate::cli::ExplainArgs;
use crate::commands::Outcome;
use crate::failure::Failure;
use crate::output::{print, write_file};
use crate::request::endings;

/// Prints one fault in full, a list of all, or the page on charts, or writes the
/// page of faults.
pub fn run(args: &ExplainArgs) -> Result<Outcome, Failure> {
    match (&args.page, &args.code) {
        (Some(path), _) => write_page(path)?,
        (None, None) => print(&text::list())?,
        (None, Some(word)) if word.eq_ignore_ascii_case(charts::WORD) => print(&text::charts())?,
        (None, Some(word)) => print(&text::long(&explain(code(word)?)))?,
    }
    Ok(Outcome::Done)
}

fn write_page(path: &Path) -> Result<(), Failure> {
    endings::check(path, &["html", "htm"], "a page")?;
    write_file(path, faults_page(env!("CARGO_PKG_VERSION"))?.as_bytes())?;
    print(&format!("{}: {} faults explained. Open it in your browser.\n", path_name(path), Code::ALL.len()))
}

fn code(word: &str) -> Result<Code, Failure> {
    let known = || Code::ALL.iter().map(|code| code.word()).chain([charts::WORD]);
    Code::ALL.iter().copied().find(|code| same(code.word(), word)).ok_or_else(|| Failure::Unknown {
        what: "the fault",
        name: word.to_owned(),
        help: suggest(word, known(), "`pairwise explain` lists all faults"),
    })
}
