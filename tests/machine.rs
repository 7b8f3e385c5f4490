//! What a machine lacks that a test wants: a browser, a compiler, a reader of
//! documents. The test is skipped then; at the end of the run `skipped.rs` says
//! how many were, and for want of what. Where the environment has `CI`, nothing
//! may be missing.

use std::fs;
use std::panic::Location;
use std::path::{Path, PathBuf};

/// Where it is noted what was missing: a file for each test and each thing, in
/// the folder that Cargo gives to all the tests of the house.
pub fn notes() -> PathBuf {
    Path::new(env!("CARGO_TARGET_TMPDIR")).join("skipped")
}

/// The test that is running. Where all run one after the other, its thread has
/// no name of its own, and the place in the source has to do.
#[track_caller]
fn test() -> String {
    let name = std::thread::current().name().filter(|name| *name != "main").map(str::to_owned);
    let name = name.unwrap_or_else(|| Location::caller().to_string());
    let plain = |c: char| if c.is_alphanumeric() { c } else { '-' };
    format!("{} {name}", env!("CARGO_CRATE_NAME")).chars().map(plain).collect()
}

/// Whether a test has what it wants, which is `here` or not. What is not here is
/// noted; what is here after all, no longer.
///
/// # Panics
/// Where `CI` is set and it is not here.
#[track_caller]
pub fn has(what: &str, here: bool) -> bool {
    let note = notes().join(format!("{}.{what}", test()));
    if here {
        // Most often there was no note.
        let _ = fs::remove_file(note);
        return true;
    }
    assert!(std::env::var_os("CI").is_none(), "{what} is missing, and CI is to test everything");
    fs::create_dir_all(notes()).unwrap();
    fs::write(note, "").unwrap();
    false
}
