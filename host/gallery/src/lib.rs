//! The gallery: a folder of pages and pictures that opens from disk.
//!
//! A [`GalleryRequest`] becomes a [`GalleryPlan`]: which grounds and which
//! arrangements are shown. [`GalleryPlan::write`] then makes every file and passes
//! it, as a path and bytes, to the caller: for a folder, an archive, a test.
//! Nothing here touches files or prints.
//!
//! ```text
//! index.html           every family, ground, filling and variety
//! explore.html         all varieties, to search, filter and recolour
//! compare.html         a few of them side by side
//! side-by-side.html    every ground in every arrangement
//! names.html           names of the trade by language
//! glossary.html        words of the trade
//! faults.html          the faults `check` can find in a ground, with examples
//! grounds/ID.html      one ground or filling
//! small/, large/       a picture of every variety, ID/VARIETY.png
//! faults/              pictures of the examples, CODE-bad.svg and CODE-good.svg
//! rows/                every variety in all arrangements, ID/VARIETY.png
//! choices/             every value of every choice, ID/CHOICE/VALUE.png
//! diagrams/, keys/, prickings/, drawings/, sheets/, charts/
//!                      of every variety, ID/VARIETY.svg, .toml and .pdf
//! class.html           the grounds of a class, if there is a recipe
//! class.pdf, class/    its handout and pictures
//! chosen.js            script of all pages
//! explore.js, data/    script and data of explore.html, compare.html and grounds/
//! style.css, explore.css, fonts/
//!                      style sheets and the typeface
//! ```
//!
//! Ids are plain words, so they can be file names; folders keep them apart from
//! our own names.
//!
//! ```
//! use std::sync::Mutex;
//!
//! use catalogue::Catalogue;
//! use compare::arrangements::ArrangementsWanted;
//! use compare::palette::Palette;
//! use compare::scale::{Pricking, Scale};
//! use gallery::{GalleryPlan, GalleryRequest, PlanError};
//!
//! # use catalogue::{About, Contribution, DefineError, Kind, Settings, Variety};
//! # struct Cloth(About);
//! # impl Contribution for Cloth {
//! #     fn about(&self) -> &About { &self.0 }
//! #     fn file(&self) -> &str { "cloth.wasm" }
//! #     fn define(&self, _: &Settings) -> Result<lace::Repeat, DefineError> {
//! #         Ok(lace::samples::torchon("CTC", 0))
//! #     }
//! # }
//! # let plain = Variety {
//! #     title: "Plain cloth".into(), other_names: Vec::new(), settings: Settings::new(),
//! #     notes: String::new(), source: "common practice".into(),
//! # };
//! # let cloth = Cloth(About {
//! #     id: "cloth".into(), title: "Cloth".into(), kind: Kind::Ground, family: "cloth".into(),
//! #     other_names: Vec::new(), laces: Vec::new(), sits_in: None, angle: 45.0,
//! #     pin_spacing_mm: None,
//! #     notes: String::new(), source: "common practice".into(), choices: Default::default(),
//! #     varieties: [("plain".to_owned(), plain)].into_iter().collect(),
//! # });
//! // Contributions can come from anywhere; here there is one, of cloth.
//! let catalogue = Catalogue::new([cloth], Vec::new());
//! let request = GalleryRequest {
//!     catalogue: &catalogue,
//!     arrangements: ArrangementsWanted::Given(vec!["A B".parse().unwrap()]),
//!     palette: Palette::default(),
//!     seen_by: None,
//!     scale: Scale::new(Pricking::default(), None).unwrap(),
//!     class: None,
//!     version: "1.0",
//! };
//! let plan = GalleryPlan::new(request)?;
//!
//! let files = Mutex::new(Vec::new());
//! let keep = |path: &str, bytes: &[u8]| {
//!     files.lock().unwrap().push((path.to_owned(), bytes.len()));
//!     Ok::<(), std::convert::Infallible>(())
//! };
//! plan.write(&keep, &|| ()).unwrap();
//! assert!(files.lock().unwrap().iter().any(|(path, _)| path == "grounds/cloth.html"));
//! # Ok::<(), PlanError>(())
//! ```

mod drawings;
mod drawn_variety;
mod error;
mod page;
mod plan;
mod shared;
pub mod sources;
mod templates;
pub mod typeface;
mod write;

pub use error::GalleryError;
pub use page::faults::alone as faults_page;
pub use plan::{ClassRequest, GalleryPlan, GalleryRequest, MOST_ARRANGEMENTS, PlanError};
