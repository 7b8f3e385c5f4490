//! Which grounds and fillings there are.
//!
//! A [`Contribution`] says what it is ([`About`]) and defines repeats for the
//! choices made. The [`Catalogue`] holds all of them; a ground is named as
//! people type it ([`GroundName`]) and comes back with every choice made
//! ([`Chosen`]). Each repeat is defined and checked once, however many ask for
//! it, on however many threads. Contributions that cannot be used are
//! [`LeftOut`], with the reason.
//!
//! Names are told apart as people tell them apart ([`fold`]); whoever mistypes
//! one is told the nearest ([`near`]). Texts that others wrote are made harmless
//! by [`text`]. Nothing here reads files, prints, or knows WebAssembly.
//!
//! ```
//! use catalogue::{About, Catalogue, Contribution, DefineError, GroundName, Kind, Settings, Variety};
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
//!     notes: String::new(),
//!     source: "common practice".into(),
//!     choices: Default::default(),
//!     varieties: [("plain".to_owned(), plain)].into_iter().collect(),
//! });
//! let catalogue = Catalogue::new([cloth], Vec::new());
//! let chosen = catalogue.choose(&GroundName::from("cloth/plain"), &[])?;
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
mod name;
pub mod near;
#[cfg(test)]
mod samples;
pub mod span;
pub mod text;

use std::sync::Arc;

pub use about::{About, Change, Choice, Kind, OtherName, Range, ResolveError, Settings, Value, Variety};
pub use contribution::{Contribution, DefineError, LeftOut};
pub use entry::{ChooseError, Chosen, Entry};
pub use name::GroundName;
pub use near::{nearest, suggest};

/// All contributions that can be used, and what is wrong with the others.
#[derive(Debug, Default)]
pub struct Catalogue {
    entries: Vec<Arc<Entry>>,
    left_out: Vec<LeftOut>,
}

impl Catalogue {
    /// The catalogue of these contributions, in their order. Where two have the
    /// same id the second is never found: whoever loads them leaves it out.
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

    /// The contribution with an id, if there is one.
    pub fn get(&self, id: &str) -> Option<&Arc<Entry>> {
        self.entries.iter().find(|entry| entry.about().id == id)
    }

    /// The contribution with an id.
    ///
    /// # Errors
    /// [`ChooseError::UnknownGround`] where there is none.
    pub fn entry(&self, id: &str) -> Result<&Arc<Entry>, ChooseError> {
        self.get(id).ok_or_else(|| {
            let known = self.entries.iter().map(|entry| entry.about().id.as_str());
            ChooseError::unknown_ground(id, known, &self.left_out)
        })
    }

    /// The ground of a name, with some choices made otherwise.
    ///
    /// # Errors
    /// Where a ground, variety, choice or value is not there, and where the
    /// choices give no ground.
    pub fn choose(&self, name: &GroundName, changes: &[Change]) -> Result<Chosen, ChooseError> {
        self.entry(&name.ground)?.choose(name.variety.as_deref(), changes)
    }
}
