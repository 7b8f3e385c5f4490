//! Comparing grounds: in every arrangement, in a table or sorted by the result;
//! one ground in full on a sheet; and where its pairs go.
//!
//! A request goes in and data come out: a [`comparison`], a [`sheet`] or a
//! [`trace`] as numbers, words and pictures. Remarks for the user come back as
//! [`note::Note`]s. Nothing here reads arguments, prints or touches files.
//!
//! ```
//! # use std::sync::Arc;
//! # use catalogue::{About, Chosen, Contribution, DefineError, Entry, Kind, Settings, Variety};
//! # struct Torchon(About);
//! # impl Contribution for Torchon {
//! #     fn about(&self) -> &About {
//! #         &self.0
//! #     }
//! #     fn file(&self) -> &str {
//! #         "torchon.wasm"
//! #     }
//! #     fn define(&self, _: &Settings) -> Result<lace::Repeat, DefineError> {
//! #         Ok(lace::samples::torchon("CTCT pin CTCT", 0))
//! #     }
//! # }
//! # fn double_torchon() -> Chosen {
//! #     let double = Variety {
//! #         title: "Double torchon ground".into(),
//! #         other_names: Vec::new(),
//! #         settings: Settings::new(),
//! #         notes: String::new(),
//! #         source: "common practice".into(),
//! #     };
//! #     let about = About {
//! #         id: "torchon".into(),
//! #         title: "Torchon ground".into(),
//! #         kind: Kind::Ground,
//! #         family: "torchon".into(),
//! #         other_names: Vec::new(),
//! #         laces: Vec::new(),
//! #         sits_in: None,
//! #         angle: 45.0,
//! #         pin_spacing_mm: None,
//! #         notes: String::new(),
//! #         source: "common practice".into(),
//! #         choices: Default::default(),
//! #         varieties: [("double".to_owned(), double)].into_iter().collect(),
//! #     };
//! #     Arc::new(Entry::new(Torchon(about))).choose(None, &[]).unwrap()
//! # }
//! use compare::arrangements::ArrangementsWanted;
//! use compare::comparison::{Comparison, ComparisonRequest, Grouping, Kept, Position};
//! use compare::palette::Palette;
//! use compare::scale::{Pricking, Scale};
//!
//! let palette: Palette = "navy,gold".parse()?;
//! let request = ComparisonRequest {
//!     grounds: vec![double_torchon()],
//!     arrangements: ArrangementsWanted::Given(vec![palette.arrangement("A A B B")?]),
//!     palette,
//!     seen_by: None,
//!     scale: Scale::new(Pricking::default(), None)?,
//!     px: 64,
//!     kept: Kept::default(),
//!     grouping: Grouping::Table,
//!     like: None,
//!     sort: None,
//! };
//! let comparison = Comparison::new(request, &|| ())?;
//! let cell = comparison.cell(Position { ground: 0, arrangement: 0 });
//! assert!(cell.words().starts_with("columns, "), "{}", cell.words());
//! let page = comparison.pages(1000).paint(0);
//! assert_eq!(page.places.len(), 1);
//! # Ok::<(), compare::error::Error>(())
//! ```

pub mod arrangements;
pub mod cell;
pub mod comparison;
pub mod drawn_pairs;
pub mod error;
pub mod facts;
pub mod likeness;
pub mod note;
pub mod number;
pub mod palette;
pub mod pattern;
#[cfg(test)]
mod samples;
pub mod scale;
pub mod sheet;
pub mod strip;
pub mod thread_sums;
pub mod thumbnail;
pub mod trace;
pub mod window;
