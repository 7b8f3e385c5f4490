//! Which ground is meant, and which of its choices are changed.

use catalogue::{Catalogue, Change, Chosen, GroundName};

use crate::cli::ChoiceArgs;
use crate::failure::Failure;

/// One ground asked for.
pub struct GroundRequest {
    /// Its name.
    pub name: GroundName,
    /// Changed choices.
    pub changes: Vec<Change>,
}

impl GroundRequest {
    /// Reads a name and changed choices; whether they exist is not checked yet.
    pub fn new(name: &str, choices: &ChoiceArgs) -> Result<GroundRequest, Failure> {
        Ok(GroundRequest { name: GroundName::from(name), changes: changes(choices)? })
    }

    /// Looks the ground up in the catalogue.
    pub fn choose(&self, catalogue: &Catalogue) -> Result<Chosen, Failure> {
        Ok(catalogue.choose(&self.name, &self.changes)?)
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
