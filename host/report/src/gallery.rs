//! `pairwise-gallery/1`: the mark by which a gallery is known, so that nothing
//! else is ever replaced.

use schemars::JsonSchema;
use serde::Serialize;

/// Name and number of the format.
pub const FORMAT: &str = "pairwise-gallery/1";

/// The mark of a gallery.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[schemars(title = FORMAT)]
pub struct Mark {
    /// Name and number of the format.
    #[schemars(extend("const" = FORMAT))]
    pub format: &'static str,
    /// The version of the program that made the gallery.
    pub version: &'static str,
    /// The other files of the gallery, by their paths in it, in order. Only these
    /// are removed when the gallery is replaced.
    pub files: Vec<String>,
}

impl Mark {
    /// The mark of a gallery of these files, made by a version of the program.
    pub fn new(version: &'static str, files: Vec<String>) -> Mark {
        Mark { format: FORMAT, version, files }
    }
}
