//! Which ground is meant, and which of its choices are changed.

use std::ffi::{OsStr, OsString};

use catalogue::{Change, Chosen};

use crate::cli::ChoiceArgs;
use crate::failure::Failure;
use crate::sources::Grounds;

/// One ground asked for.
pub struct GroundRequest {
    /// Its name, or the file it is in.
    pub name: OsString,
    /// Changed choices.
    pub changes: Vec<Change>,
}

impl GroundRequest {
    /// Reads a name and changed choices; whether they exist is not checked yet.
    pub fn new(name: &OsStr, choices: &ChoiceArgs) -> Result<GroundRequest, Failure> {
        Ok(GroundRequest { name: name.to_owned(), changes: changes(choices)? })
    }

    /// Looks the ground up.
    pub fn choose(&self, grounds: &Grounds<'_>) -> Result<Chosen, Failure> {
        Ok(grounds.meant(&self.name)?.choose(&self.changes)?)
    }
}

/// Reads changed choices.
pub fn changes(args: &ChoiceArgs) -> Result<Vec<Change>, Failure> {
    args.with.iter().map(|with| change(with)).collect()
}

/// Splits `CHOICE=VALUE`.
fn change(text: &str) -> Result<Change, Failure> {
    match text.split_once('=') {
        Some((choice, value)) => Ok(Change::new(choice.trim(), value.trim())),
        None => Err(Failure::Value {
            what: format!("`{}` is not of the form CHOICE=VALUE", text.escape_debug()),
            help: "for example --with crossing=cloth; `pairwise grounds GROUND` lists its choices".to_owned(),
        }),
    }
}
