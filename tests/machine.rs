//! Tools that a test needs but a machine may lack: a browser, a compiler, a PDF
//! reader. The test is then skipped; at the end of the run `skipped.rs` says how
//! many were skipped and which tools were missing. If `CI` is set, nothing may be
//! missing.

use std::fs;
use std::panic::Location;
use std::path::{Path, PathBuf};

/// The folder of notes about missing tools: a file for each test and tool, in the
/// temporary folder that Cargo gives to all our tests.
pub fn notes() -> PathBuf {
    Path::new(env!("CARGO_TARGET_TMPDIR")).join("skipped")
}

/// The running test. If tests run one after the other, the thread has no name of
/// its own, and the place in the source is used instead.
#[track_caller]
fn test() -> String {
    let name = std::thread::current().name().filter(|name| *name != "main").map(str::to_owned);
    let name = name.unwrap_or_else(|| Location::caller().to_string());
    let plain = |c: char| if c.is_alphanumeric() { c } else { '-' };
    format!("{} {name}", env!("CARGO_CRATE_NAME")).chars().map(plain).collect()
}

/// Returns `here`, whether a tool that a test needs is available. A missing tool
/// is noted; an old note is removed when the tool is there again.
///
/// # Panics
/// If `CI` is set and the tool is missing.
#[track_caller]
pub fn has(what: &str, here: bool) -> bool {
    let note = notes().join(format!("{}.{what}", test()));
    if here {
        // Usually there was no note.
        let _ = fs::remove_file(note);
        return true;
    }
    assert!(std::env::var_os("CI").is_none(), "{what} is missing, and CI is to test everything");
    fs::create_dir_all(notes()).unwrap();
    fs::write(note, "").unwrap();
    false
}
