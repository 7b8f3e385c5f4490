//! Whether the ground that a filling says it sits in exists.

use catalogue::About;
use catalogue::near::{did_you_mean, near_names};

use crate::failure::Failure;
use crate::sources::{BUILT_IN, Grounds};

/// What is wrong, and what to do.
pub struct Unknown {
    /// What is wrong, in one sentence.
    pub sentence: String,
    /// What to do.
    pub remedy: String,
}

/// The fault of a filling that sits in a ground that is not there.
pub fn unknown(about: &About, grounds: &Grounds<'_>) -> Result<Option<Unknown>, Failure> {
    let Some(id) = &about.sits_in else { return Ok(None) };
    // Nothing else need be loaded to know these.
    if BUILT_IN.iter().any(|(known, _)| known == id) {
        return Ok(None);
    }
    let catalogue = grounds.catalogue()?;
    if catalogue.get(id).is_some() {
        return Ok(None);
    }
    let known = catalogue.entries().iter().map(|entry| entry.about().id.as_str());
    Ok(Some(Unknown {
        sentence: format!("`sits-in` names `{id}`, and no ground has this id"),
        remedy: did_you_mean(
            &near_names(id, known),
            "`pairwise grounds` lists all ids; a ground of your own is found with --plugins and its folder",
        ),
    }))
}
