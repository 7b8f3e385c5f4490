//! Files in, checked definitions out: runs contributions where they can do no
//! harm.
//!
//! A contribution is a WebAssembly component without any import. [`Sandbox`]
//! loads it, [`Plugin::about`] says what it is, [`Plugin::define`] gives the
//! repeat for some settings. What it may use is counted ([`limits`]), every
//! call runs in a fresh store, and whatever it does wrong ends in a
//! [`SandboxError`] that names it. Its texts are made harmless on the way in
//! ([`text`]); whether its repeat is a ground is for `lace` to say.
//!
//! ```no_run
//! # fn main() -> sandbox::Result<()> {
//! use sandbox::{Sandbox, Source};
//!
//! let sandbox = Sandbox::new(None)?;
//! let loaded = sandbox.load_all(&Source::folder("my-grounds".as_ref())?);
//! for plugin in &loaded.plugins {
//!     let settings = plugin.about.resolve(None, &[("stitch".into(), "double".into())])?;
//!     let repeat = plugin.define(&settings)?;
//! }
//! # Ok(()) }
//! ```

pub mod about;
#[allow(unreachable_pub, reason = "generated")]
mod bindings;
pub mod build;
mod compiled;
mod component;
mod define;
mod engine;
mod error;
pub mod limits;
mod plugin;
pub mod text;

pub use about::{About, Choice, Kind, OtherName, Range, Settings, Value, Variety};
pub use component::componentize;
pub use error::{Call, Result, SandboxError, Stopped};
pub use plugin::{Loaded, Plugin, Sandbox, Source};

/// The export by which a contribution is known.
pub const INTERFACE: &str = "pairwise:ground/ground@0.1.0";
/// The version of the interface this program speaks.
pub const VERSION: &str = "0.1.0";
const INTERFACE_NAME: &str = "pairwise:ground/ground";
