//! Runs contributions where they can do no harm: files in, checked definitions
//! out.
//!
//! A contribution is a WebAssembly component without any import. [`Sandbox`]
//! loads it, [`Plugin::about`] says what it is, and [`Plugin::define`] gives the
//! repeat for some settings. Its resources are limited ([`limits`]), every call
//! runs in a fresh store, and anything it does wrong ends in a [`SandboxError`]
//! that names it. Its texts are made harmless on the way in
//! ([`catalogue::text`]); `lace` decides whether its repeat is a ground.
//!
//! ```
//! use catalogue::{Catalogue, Change, LeftOut};
//! use sandbox::{Sandbox, Source};
//!
//! # fn main() -> Result<(), Box<dyn std::error::Error>> {
//! let rose = include_bytes!(concat!(env!("CARGO_MANIFEST_DIR"), "/../../plugins/built/rose.wasm"));
//! let sources = [
//!     Source::Bytes { name: "rose.wasm".to_owned(), bytes: rose.into() },
//!     Source::Bytes { name: "letter.wasm".to_owned(), bytes: b"Dear all".into() },
//! ];
//! // Compiled code is cached in the folder given, if any.
//! let loaded = Sandbox::new(None)?.load_all(&sources);
//! let left_out = loaded.failures.iter().map(LeftOut::from).collect();
//! let catalogue = Catalogue::new(loaded.plugins, left_out);
//!
//! let chosen = catalogue.meant("rose")?.choose(&[Change::new("crossing", "cloth")])?;
//! assert!(chosen.ground.stitches().len() > 4);
//! assert_eq!(catalogue.left_out()[0].file, "letter.wasm");
//! # Ok(()) }
//! ```

mod about;
mod burden;
mod compiled;
mod component;
mod costs;
mod define;
mod engine;
mod error;
pub mod limits;
mod plugin;
mod source;
mod trial;
mod versions;

// Unit tests share helpers with the integration tests, which refer to this
// crate by name.
#[cfg(test)]
extern crate self as sandbox;

pub use burden::Burden;
pub use component::{Burdens, componentize, look_through};
pub use error::{Call, Fault, Result, SandboxError, Stopped};
pub use plugin::{Loaded, Plugin, Sandbox, Used};
pub use source::Source;
pub use trial::{Judge, Trial};

/// The export that marks a contribution of the newest version.
pub const INTERFACE: &str = "pairwise:ground/ground@0.2.0";
/// The newest version of the interface that this program knows.
pub const VERSION: &str = "0.2.0";
const INTERFACE_NAME: &str = "pairwise:ground/ground";
