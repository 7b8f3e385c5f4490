//! Checking a piece: the faults of its text, or what is found when it is worked out.

use std::path::Path;

use catalogue::text::path_name;

use super::picture::Pictures;
use super::{Checks, Wanted};
use crate::failure::Failure;
use crate::request::piece::{Made, PieceFile};
use crate::sources::Grounds;

impl Checks {
    /// Checks a piece in a file.
    pub(super) fn piece(
        &mut self,
        file: &Path,
        text: &str,
        wanted: &Wanted<'_>,
        grounds: &Grounds<'_>,
    ) -> Result<(), Failure> {
        let name = path_name(file);
        if wanted.json {
            return Err(Failure::Value {
                what: format!("{name} is a piece, which --json of `check` does not take"),
                help: format!("`pairwise piece {name} --json` prints everything about it, its findings too"),
            });
        }
        if let Pictures::To(_) = wanted.pictures {
            return Err(Failure::Value {
                what: format!("{name} is a piece, which --picture does not draw"),
                help: "leave --picture out".to_owned(),
            });
        }
        let file = PieceFile::of(file, text);
        match file.made(grounds)? {
            Made::Faulty(faults) => {
                self.shown_errors = true;
                self.show(faults);
            }
            Made::Unworkable { found, .. } => {
                self.shown_errors = true;
                self.show(file.show(&found));
            }
            Made::Worked(worked) if worked.warnings.is_empty() => {
                self.shown.push_str(&format!("{name}: no findings\n"));
            }
            Made::Worked(worked) => self.show(file.show(&worked.warnings)),
        }
        Ok(())
    }
}
