//! Which grounds and fillings there are.
//!
//! A [`Contribution`] describes itself ([`About`]) and defines repeats for the
//! choices made. The [`Catalogue`] holds all contributions: it takes any name of a
//! ground ([`Catalogue::meant`]) and returns the ground with every choice made
//! ([`Chosen`]). Each repeat is defined and checked once, also across threads.
//! Contributions that cannot be used are [`LeftOut`], with the reason.
//!
//! Names are compared without regard to case and accents ([`fold`]), and for a
//! mistyped name the nearest are suggested ([`near`]). Texts from outside are
//! made harmless by [`text`], and mistakes in texts that people write are told in
//! plain words by [`written`]. Nothing here reads files, prints, or knows
//! WebAssembly.
//!
//! ```
//! use catalogue::{About, Catalogue, Contribution, DefineError, Kind, Settings, Variety};
//!
//! /// A ground of cloth stitches, written here instead of in a file.
//! struct Cloth(About);
//!
//! impl Contribution for Cloth {
//!     fn about(&self) -> &About {
//!         &self.0
//!     }
//!
//!     fn file(&self) -> &str {
//!         "cloth.wasm"
//!     }
//!
//!     fn define(&self, _: &Settings) -> Result<lace::Repeat, DefineError> {
//!         Ok(lace::samples::torchon("CTC", 0))
//!     }
//! }
//!
//! let plain = Variety {
//!     title: "Plain cloth".into(),
//!     other_names: Vec::new(),
//!     settings: Settings::new(),
//!     notes: String::new(),
//!     source: "common practice".into(),
//! };
//! let cloth = Cloth(About {
//!     id: "cloth".into(),
//!     title: "Cloth".into(),
//!     kind: Kind::Ground,
//!     family: "cloth".into(),
//!     other_names: Vec::new(),
//!     laces: Vec::new(),
//!     sits_in: None,
//!     angle: 45.0,
//!     pin_spacing_mm: None,
//!     notes: String::new(),
//!     source: "common practice".into(),
//!     choices: Default::default(),
//!     varieties: [("plain".to_owned(), plain)].into_iter().collect(),
//! });
//! let catalogue = Catalogue::new([cloth], Vec::new());
//! let chosen = catalogue.meant("Cloth/plain")?.choose(&[])?;
//! assert_eq!(chosen.title(), "Plain cloth");
//! assert_eq!(chosen.ground.stitches().len(), 1);
//! # Ok::<(), catalogue::ChooseError>(())
//! ```

pub mod about;
mod contribution;
mod entry;
pub mod fold;
pub mod language;
pub mod limits;
pub mod list;
mod lookup;
mod name;
pub mod near;
#[cfg(test)]
mod samples;
pub mod span;
pub mod text;
pub mod trouble;
pub mod written;

use std::sync::Arc;

pub use about::{About, Change, Choice, Kind, OtherName, Range, ResolveError, Settings, Value, Variety};
pub use contribution::{Contribution, DefineError, LeftOut};
pub use entry::{ChooseError, Chosen, Entry};
pub use lookup::Meant;
pub use name::GroundName;
pub use near::{nearest, suggest};

/// All contributions that can be used, and the reasons why others cannot.
#[derive(Debug, Default)]
pub struct Catalogue {
    entries: Vec<Arc<Entry>>,
    left_out: Vec<LeftOut>,
}

impl Catalogue {
    /// The catalogue of these contributions, in order. If two have the same id, the
    /// second is never found, so the loader should leave it out.
    pub fn new<C: Contribution + 'static>(
        contributions: impl IntoIterator<Item = C>,
        left_out: Vec<LeftOut>,
    ) -> Catalogue {
        let entries = contributions.into_iter().map(|one| Arc::new(Entry::new(one))).collect();
        Catalogue { entries, left_out }
    }

    /// All contributions.
    pub fn entries(&self) -> &[Arc<Entry>] {
        &self.entries
    }

    /// Contributions that cannot be used.
    pub fn left_out(&self) -> &[LeftOut] {
        &self.left_out
    }

    /// The contribution with this id, if any.
    pub fn get(&self, id: &str) -> Option<&Arc<Entry>> {
        self.entries.iter().find(|entry| entry.about().id == id)
    }
}
