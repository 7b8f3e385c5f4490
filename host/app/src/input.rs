//! Reading small texts that people write; too large files and files that are not
//! text are refused.

use std::path::Path;

use catalogue::text::clean_and_cut;

use crate::failure::Failure;

/// The name of a file in messages.
pub fn name_of(path: &Path) -> String {
    clean_and_cut(&path.display().to_string(), 200)
}

/// The text in a file. `kind` is what the file should be, for example `a chart`;
/// `remedy` is the advice if it has more than `most` bytes.
pub fn text_in(path: &Path, most: u64, kind: &str, remedy: &str) -> Result<String, Failure> {
    let refuse = |what: String, help: &str| Failure::Value {
        what: format!("{}: {what}", name_of(path)),
        help: help.to_owned(),
    };
    let size = std::fs::metadata(path).map_err(Failure::read(path))?.len();
    if size > most {
        return Err(refuse(format!("{size} bytes are too many for {kind}"), remedy));
    }
    let bytes = std::fs::read(path).map_err(Failure::read(path))?;
    String::from_utf8(bytes).map_err(|_| {
        refuse("this is not text in UTF-8".to_owned(), "save the file again as plain text, UTF-8")
    })
}
