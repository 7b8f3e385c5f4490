//! Reference text for people: the findings explained, and the glossary.
//!
//! [`findings`] explains every code of [`lace::Code`] under fixed headings, with
//! a bad example and a good one; [`pictures`] draws the examples and [`page`]
//! arranges it all for a page. [`charts`] explains how a ground is written as a
//! chart, and [`glossary`] holds the words of the trade. This
//! crate holds words and data only; its callers decide how to set them, on a
//! page or in a terminal.
//!
//! Everything is keyed by [`lace::Code`]: a code without examples does not
//! compile.
//!
//! ```
//! use manual::findings::{Example, check, explain};
//!
//! let explained = explain(lace::Code::NoPin);
//! assert_eq!(explained.sections[0].heading, "What it means");
//! assert_eq!(explained.sections[0].text, "No stitch has a pin.");
//!
//! // The bad example has the fault, the good one has none.
//! let [bad, good] = explained.examples.map(|example| match example.example {
//!     Example::Chart(chart) => check(chart).unwrap().findings,
//!     Example::Words(_) => unreachable!("a chart can be without a pin"),
//! });
//! assert_eq!(bad[0].code, lace::Code::NoPin);
//! assert!(good.is_empty());
//!
//! let term = manual::glossary::look_up("foot").unwrap();
//! assert_eq!(term.word, "footside");
//! ```

pub mod charts;
pub mod findings;
pub mod glossary;
pub mod page;
pub mod pictures;
