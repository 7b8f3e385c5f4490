//! The JSON formats that the program prints and writes, one module each, and
//! their schemas.
//!
//! Every format begins with its name and number, such as `pairwise-facts/1`.
//! A key may be added to a format. What is there keeps its name, its meaning
//! and its unit; any other change is a format with the next number.
//!
//! Each struct is a format as it is written: the order of its fields is the
//! order of the keys, and its documentation is what the schema says of them.
//! They are made from the model by [`From`] or a function `new`; the model
//! itself knows nothing of JSON.
//!
//! # Examples
//! ```
//! use report::facts::Facts;
//!
//! let repeat = lace::samples::torchon("CT pin CT", 0);
//! let ground = lace::Ground::new(repeat).unwrap();
//! let grid = lace::Grid::new(4.0, 45.0).unwrap();
//! let layout = picture::layout::lay_out(&ground, &grid, 0.3);
//! let facts = Facts::new("torchon", "plain", Default::default(), &ground, &layout);
//!
//! let text = report::pretty(&facts)?;
//! assert!(text.starts_with("{\n  \"format\": \"pairwise-facts/1\","));
//!
//! // The schema of the format, for programs that read it.
//! let schema = report::schema::FORMATS.iter().find(|f| f.name == report::facts::FORMAT).unwrap().schema();
//! assert!(schema.as_value()["properties"]["order"].is_object());
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

pub mod check;
pub mod explore;
pub mod facts;
pub mod finding;
pub mod gallery;
pub mod grid;
pub mod grounds;
pub mod measures;
pub mod order;
pub mod pattern;
pub mod piece;
pub mod repeat;
mod rounded;
pub mod schema;
pub mod trace;

/// A report as it is printed: a key to a line, and a line end behind it.
///
/// # Errors
/// None for the reports of this library: every key is a text.
pub fn pretty(report: &impl serde::Serialize) -> serde_json::Result<String> {
    serde_json::to_string_pretty(report).map(|text| text + "\n")
}
