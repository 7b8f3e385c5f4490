//! Names of files to write: each kind has its ending, so that a name typed by mistake
//! does not replace a file of another kind.

use std::path::Path;

use catalogue::text::path_name;

use crate::failure::Failure;

/// Refuses a name that does not end like `what`: in one of `endings`, the usual one
/// first, in capitals or small letters.
pub fn check(path: &Path, endings: &[&str], what: &str) -> Result<(), Failure> {
    let ending = path.extension().and_then(|e| e.to_str()).unwrap_or_default();
    if endings.iter().any(|known| ending.eq_ignore_ascii_case(known)) {
        return Ok(());
    }
    Err(Failure::Value {
        what: format!("the name {} is not that of {what}", path_name(path)),
        help: format!("let it end in .{}", endings[0]),
    })
}
