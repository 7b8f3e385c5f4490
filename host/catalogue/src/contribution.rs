//! A contribution: a source of grounds, which describes itself and defines
//! repeats.

use std::error::Error;
use std::fmt;
use std::sync::Arc;

use lace::Repeat;

use crate::about::{About, Settings};

/// A source of grounds. It may be called on any thread.
pub trait Contribution: Send + Sync {
    /// Its description of itself.
    fn about(&self) -> &About;

    /// The name of its file in messages.
    fn file(&self) -> &str;

    /// The repeat for these settings; choices that are not set have their
    /// defaults. Always the same for the same settings. It is not yet checked to
    /// be a ground.
    ///
    /// # Errors
    /// If these settings give no repeat.
    fn define(&self, settings: &Settings) -> Result<Repeat, DefineError>;
}

/// Why a contribution gives no repeat, in its own words.
#[derive(Clone)]
pub struct DefineError(Arc<dyn Error + Send + Sync>);

impl DefineError {
    /// Keeps the reason.
    pub fn new(why: impl Into<Box<dyn Error + Send + Sync>>) -> DefineError {
        DefineError(Arc::from(why.into()))
    }
}

impl fmt::Debug for DefineError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Debug::fmt(&self.0, f)
    }
}

impl fmt::Display for DefineError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(&self.0, f)
    }
}

impl Error for DefineError {
    fn source(&self) -> Option<&(dyn Error + 'static)> {
        self.0.source()
    }
}

/// A contribution that cannot be used, or a variety of one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LeftOut {
    /// The name of its file in messages.
    pub file: String,
    /// Why it cannot be used.
    pub why: String,
}

impl<C: Contribution + ?Sized> Contribution for Arc<C> {
    fn about(&self) -> &About {
        (**self).about()
    }

    fn file(&self) -> &str {
        (**self).file()
    }

    fn define(&self, settings: &Settings) -> Result<Repeat, DefineError> {
        (**self).define(settings)
    }
}
