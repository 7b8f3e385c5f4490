//! Lines to the terminal.

use std::io::{self, ErrorKind, Write};
use std::path::PathBuf;

use crate::failure::Failure;

/// Writes text to standard output. If its reader has closed it, that is no fault.
pub fn print(text: &str) -> Result<(), Failure> {
    let mut out = io::stdout().lock();
    out.write_all(text.as_bytes()).and_then(|()| out.flush()).map_err(|why| match why.kind() {
        ErrorKind::BrokenPipe => Failure::NobodyReads,
        _ => Failure::Write { path: PathBuf::from("standard output"), why },
    })
}

/// Writes a line to standard error. A failure to write there is ignored.
pub fn warn(text: &str) {
    let _ = writeln!(io::stderr().lock(), "{text}");
}

/// Writes a note, which is no fault, to standard error.
pub fn note(text: &str) {
    warn(&format!("note: {text}"));
}
