//! `build`: turns a Rust crate into a component.

use std::path::Path;

use crate::building;
use crate::cli::BuildArgs;
use crate::commands::Outcome;
use crate::failure::Failure;
use crate::output::{print, warn, write_file};
use crate::request::endings;
use crate::request::sources::Sources;
use crate::sources::open_sandbox;
use catalogue::text::{harmless, path_name};

/// Builds a contribution and writes its component to a file.
pub fn run(args: &BuildArgs, sources: &Sources) -> Result<Outcome, Failure> {
    if let Some(out) = &args.out {
        endings::check(out, &["wasm"], "a contribution")?;
    }
    let sandbox = open_sandbox(sources)?;
    let built = building::build(&sandbox, &args.krate, &mut |line| warn(&harmless(line)))
        .map_err(Failure::contribution)?;
    let file = match &args.out {
        Some(file) => file.clone(),
        None => Path::new(&format!("{}.wasm", built.plugin.about.id)).to_owned(),
    };
    write_file(&file, &built.component)?;
    print(&format!(
        "{}: {} ({} bytes)\n",
        path_name(&file),
        built.plugin.about.title,
        built.component.len()
    ))?;
    Ok(Outcome::Done)
}
