//! Nothing that a stranger contributes can break the program, its results, the
//! terminal it prints to or the browser that opens its pages.

mod browser;
mod contributions;
mod pages;
mod refused;
mod terminal;

use std::path::Path;
use std::process::{Command, Output};

/// Runs the program in a folder, with a cache that all these tests share: what
/// is built in need not be compiled for each of them.
fn run(folder: &Path, args: &[&str]) -> Output {
    let mut run = Command::new(env!("CARGO_BIN_EXE_pairwise"));
    run.env("XDG_CACHE_HOME", Path::new(env!("CARGO_TARGET_TMPDIR")).join("cache"));
    run.args(args).current_dir(folder).output().unwrap()
}
