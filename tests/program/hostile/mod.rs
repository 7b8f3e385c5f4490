//! Nothing that a stranger contributes can break the program, its results, the
//! terminal it prints to or the browser that opens its pages.

mod browser;
mod contributions;
mod pages;
mod refused;
mod terminal;

use std::path::Path;
use std::process::{Command, Output};

/// Runs the program in a folder, with a cache for strangers alone: they are so
/// many that what is built in would have to go from that of the other tests.
fn run(folder: &Path, args: &[&str]) -> Output {
    let mut run = Command::new(env!("CARGO_BIN_EXE_pairwise"));
    run.env("XDG_CACHE_HOME", Path::new(env!("CARGO_TARGET_TMPDIR")).join("strangers"));
    run.args(args).current_dir(folder).output().unwrap()
}
