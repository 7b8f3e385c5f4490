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
}

impl Mark {
    /// The mark of a version of the program.
    pub fn new(version: &'static str) -> Mark {
        Mark { format: FORMAT, version }
    }
}
