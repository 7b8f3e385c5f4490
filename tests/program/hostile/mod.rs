//! No contribution from a stranger can break the program, its results, the
//! terminal it prints to or the browser that opens its pages.

mod attacks;
mod browser;
mod budgets;
mod contributions;
mod files;
mod limited;
mod pages;
mod refused;
mod terminal;

use std::path::Path;
use std::process::{Command, Output};

/// Runs the program in a folder, with a separate cache: there are so many hostile
/// files that they would evict the built-in ones from the other tests' cache.
fn run(folder: &Path, args: &[&str]) -> Output {
    let mut run = Command::new(env!("CARGO_BIN_EXE_pairwise"));
    run.env("XDG_CACHE_HOME", Path::new(env!("CARGO_TARGET_TMPDIR")).join("strangers"));
    run.args(args).current_dir(folder).output().unwrap()
}
