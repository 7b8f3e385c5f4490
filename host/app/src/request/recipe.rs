//! Reading the recipe of a class from its file.

use std::path::Path;

use catalogue::Catalogue;
use catalogue::text::path_name;
use class::recipe::{MOST_BYTES, ReadRecipe, Recipe, read};
use class::{Class, ClassPaper, MissingGround};

use crate::cli;
use crate::failure::Failure;
use crate::faults::{ShownText, TextFaults};
use crate::input::text_in;
use crate::output::warn;

/// A recipe, as far as it could be read, with its text.
pub struct RecipeFile {
    /// The recipe and its faults.
    pub read: ReadRecipe,
    text: ShownText,
}

impl RecipeFile {
    /// Reads a recipe and looks up its grounds. `paper` overrides the recipe's.
    pub fn open(
        path: &Path,
        paper: Option<ClassPaper>,
        catalogue: &Catalogue,
    ) -> Result<RecipeFile, Failure> {
        let text = text_in(path, MOST_BYTES, "a recipe", "recipes are small texts")?;
        Ok(RecipeFile { read: read(&text, paper, catalogue), text: ShownText::new(&path_name(path), &text) })
    }

    /// The recipe, if it has no faults.
    pub fn without_faults(self) -> Result<Recipe, Failure> {
        let faults = self.faults();
        match (self.read.recipe, faults) {
            (Some(recipe), None) => Ok(recipe),
            (_, Some(faults)) => Err(faults.into()),
            (None, None) => Err(self.text.report([]).into()),
        }
    }

    /// The faults, each shown at its line; `None` if there are none.
    pub fn faults(&self) -> Option<TextFaults> {
        let faults = &self.read.faults;
        (!faults.is_empty()).then(|| {
            self.text.report(faults.iter().map(|fault| {
                let at = vec![fault.at.clone().into()];
                self.text.fault(at, fault.sentence.clone(), fault.remedy.clone())
            }))
        })
    }
}

/// Prints to standard error which grounds are missing from something and why.
/// Returns how many.
pub fn warn_of_missing(class: &Class, from: &str) -> usize {
    let mut missing = 0;
    for MissingGround { wanted, why } in class.missing() {
        missing += 1;
        // Faults of the recipe itself are reported with their lines.
        if !why.is_empty() {
            warn(&format!("missing from the {from}: {}: {}", wanted.name, why.join(" ")));
        }
    }
    missing
}

impl From<cli::ClassPaper> for ClassPaper {
    fn from(paper: cli::ClassPaper) -> ClassPaper {
        match paper {
            cli::ClassPaper::A4 => ClassPaper::A4,
            cli::ClassPaper::Letter => ClassPaper::Letter,
        }
    }
}
