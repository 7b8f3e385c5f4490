//! `build`: from a Rust crate to a component.

use std::path::Path;

use crate::catalogue::open_sandbox;
use crate::cli::{BuildArgs, Sources};
use crate::failure::Failure;
use crate::output::{print, tell, write_file};

/// Builds a contribution and writes its component.
pub fn run(args: &BuildArgs, sources: &Sources) -> Result<(), Failure> {
    let sandbox = open_sandbox(sources)?;
    let built = sandbox::build::build(&sandbox, &args.krate, &mut |line| tell(line))
        .map_err(|why| Failure::Contribution(why.to_string()))?;
    let file = match &args.out {
        Some(file) => file.clone(),
        None => Path::new(&format!("{}.wasm", built.plugin.about.id)).to_owned(),
    };
    write_file(&file, &built.component)?;
    print(&format!("{}: {} ({} bytes)\n", file.display(), built.plugin.about.title, built.component.len()))
}
