//! `pack`: turns a chart into a contribution; needs nothing installed.

use catalogue::text::path_name;
use sandbox::Source;

use crate::charts;
use crate::cli::PackArgs;
use crate::commands::Outcome;
use crate::failure::Failure;
use crate::output::{print, write_file};
use crate::request::endings;
use crate::request::sources::Sources;
use crate::sources::open_sandbox;

/// Reads a chart, packs it, loads it in the sandbox as a check, and writes it.
pub fn run(args: &PackArgs, sources: &Sources) -> Result<Outcome, Failure> {
    if let Some(out) = &args.out {
        endings::check(out, &["wasm"], "a contribution")?;
    }
    let chart = charts::open(&args.chart)?;
    let component = chart.pack()?;
    let source = Source::Ours { name: chart.text.name().to_owned(), bytes: component.clone().into() };
    let plugin = open_sandbox(sources)?.load(&source).map_err(Failure::contribution)?;
    let out = args.out.clone().unwrap_or_else(|| format!("{}.wasm", plugin.about.id).into());
    write_file(&out, &component)?;
    print(&format!("{}: {} ({} bytes)\n", path_name(&out), plugin.about.title, component.len()))?;
    Ok(Outcome::Done)
}
