//! What can go wrong in the program, each with its place and its remedy.

use std::fmt::Display;
use std::io;
use std::path::{Path, PathBuf};

use catalogue::near::did_you_mean;
use catalogue::{ChooseError, LeftOut, ResolveError};
use miette::Diagnostic;
use thiserror::Error;

use crate::faults::TextFaults;

/// A failure that ends a command.
#[derive(Debug, Error, Diagnostic)]
pub enum Failure {
    /// Whoever reads the output has stopped reading: not worth a word.
    #[error("the output is no longer read")]
    NobodyReads,
    /// A file or folder that cannot be read.
    #[error("cannot read {}: {why}", path.display())]
    #[diagnostic(help("check that it exists and that you may read it"))]
    Read {
        /// What was to be read.
        path: PathBuf,
        /// What the system said.
        why: io::Error,
    },
    /// A file or folder that cannot be written. Nothing half-written is left.
    #[error("cannot write {}: {why}", path.display())]
    #[diagnostic(help(
        "check that the folder exists, that you may write there and that there is room; or choose another place with --out"
    ))]
    Write {
        /// What was to be written.
        path: PathBuf,
        /// What the system said.
        why: io::Error,
    },
    /// A folder that holds something which must not be replaced.
    #[error("{} holds something that is not a gallery", path.display())]
    #[diagnostic(help("name a new folder with --out, or empty this one yourself"))]
    NotAGallery {
        /// The folder.
        path: PathBuf,
    },
    /// A folder to be made where something stands.
    #[error("{} is there already", path.display())]
    #[diagnostic(help("choose another name, or another folder to run this in; nothing there was changed"))]
    Exists {
        /// The folder.
        path: PathBuf,
    },
    /// A name that is not known.
    #[error("{what} `{name}` is not known")]
    Unknown {
        /// What kind of thing.
        what: &'static str,
        /// As given.
        name: String,
        /// What to do.
        #[help]
        help: String,
    },
    /// A value that cannot be used.
    #[error("{what}")]
    Value {
        /// What is wrong, in a sentence.
        what: String,
        /// What to do.
        #[help]
        help: String,
    },
    /// Faults in a chart or recipe.
    #[error(transparent)]
    #[diagnostic(transparent)]
    Faults(Box<TextFaults>),
    /// A ground that is not known.
    #[error("the ground `{id}` is not known")]
    #[diagnostic(help("{}", did_you_mean(near, "`pairwise grounds` lists all grounds")))]
    UnknownGround {
        /// The id asked for.
        id: String,
        /// Ids near to it.
        near: Vec<String>,
        /// Contributions that could not be used: it may be one of them.
        left_out: Vec<LeftOut>,
    },
    /// There is no ground to show: none that was asked for can be worked.
    #[error("{what}")]
    NoGround {
        /// What is wrong, in a sentence.
        what: &'static str,
        /// What to do.
        #[help]
        help: &'static str,
        /// Why each of them cannot be.
        left_out: Vec<LeftOut>,
    },
    /// A contribution that could not be used.
    #[error("{0}")]
    Contribution(String),
    /// Something that JSON cannot say: a fault of the program.
    #[error("the result cannot be written as JSON: {0}")]
    #[diagnostic(help("this is a fault of pairwise itself; please report it with the command you gave"))]
    Json(#[from] serde_json::Error),
    /// A text template that does not render: a fault of the program.
    #[error("a page could not be made: {0}")]
    #[diagnostic(help("this is a fault of pairwise itself; please report it with the command you gave"))]
    Page(#[from] minijinja::Error),
}

impl Failure {
    /// A write failure at a path.
    pub fn write(path: &Path) -> impl FnOnce(io::Error) -> Failure + '_ {
        move |why| Failure::Write { path: path.to_owned(), why }
    }

    /// The failure of a contribution.
    pub fn contribution(why: impl Display) -> Failure {
        Failure::Contribution(why.to_string())
    }

    /// Contributions that could not be used and may be what is missing.
    pub fn left_out(&self) -> &[LeftOut] {
        match self {
            Failure::UnknownGround { left_out, .. } | Failure::NoGround { left_out, .. } => left_out,
            _ => &[],
        }
    }

    /// A read failure at a path.
    pub fn read(path: &Path) -> impl FnOnce(io::Error) -> Failure + '_ {
        move |why| Failure::Read { path: path.to_owned(), why }
    }
}

impl From<ChooseError> for Failure {
    fn from(why: ChooseError) -> Failure {
        match why {
            ChooseError::UnknownGround { id, near, left_out } => {
                Failure::UnknownGround { id, near, left_out }
            }
            why => Failure::contribution(why),
        }
    }
}

impl From<TextFaults> for Failure {
    fn from(faults: TextFaults) -> Failure {
        Failure::Faults(Box::new(faults))
    }
}

impl From<ResolveError> for Failure {
    fn from(why: ResolveError) -> Failure {
        Failure::contribution(why)
    }
}
