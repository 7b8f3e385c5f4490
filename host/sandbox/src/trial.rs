//! Trying strangers' contributions before they are used.
//!
//! Everything that a stranger's file could do is counted and limited, but a
//! compiler and a layout are large programs, and a limit could have been
//! forgotten. So a stranger's contribution is first compiled, asked and judged in
//! another process, whose memory and time the system limits. What it compiled
//! there goes into the cache; that an entry is there means that the contribution
//! was tried and has passed. The program itself then only loads the entry.

use std::path::Path;

use catalogue::About;
use lace::Repeat;

use crate::error::Result;

/// How to try a contribution where it can do no harm. Handed in, because only
/// the program knows how to start itself again.
pub trait Trial: Send + Sync {
    /// Tries the bytes of a contribution that is called `name` in messages. If it
    /// passes, its compiled code is in the cache in the folder `cache`. Called on
    /// several threads at once.
    ///
    /// # Errors
    /// What is wrong with it, or what it did to the process that tried it.
    fn try_out(&self, name: &str, bytes: &[u8], cache: &Path) -> Result<()>;
}

/// What is done with the repeats of a contribution being tried.
pub trait Judge {
    /// Before anything that takes time, so that each such step can have its own
    /// limit.
    fn begin(&mut self) {}

    /// Receives the repeat of each variety that has one. It is not yet checked.
    fn repeat(&mut self, about: &About, repeat: Repeat);
}
