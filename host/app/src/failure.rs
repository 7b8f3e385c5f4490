//! What can go wrong in the program, each with where it happened and what to do.

use std::fmt::Display;
use std::io;
use std::path::{Path, PathBuf};

use catalogue::near::did_you_mean;
use catalogue::text::path_name;
use catalogue::trouble::in_words;
use catalogue::{ChooseError, LeftOut, ResolveError};
use miette::Diagnostic;
use thiserror::Error;

use crate::faults::TextFaults;

/// A failure that ends a command.
#[derive(Debug, Error, Diagnostic)]
pub enum Failure {
    /// The reader of the output has closed it: nothing to report.
    #[error("the output is no longer read")]
    NobodyReads,
    /// A file or folder that cannot be read.
    #[error("cannot read {}: {}", path_name(path), in_words(why))]
    #[diagnostic(help("check that it exists and that you may read it"))]
    Read {
        /// The file or folder.
        path: PathBuf,
        /// The operating system's message.
        why: io::Error,
    },
    /// A file or folder that cannot be written. Nothing half-written is left.
    #[error("cannot write {}: {}", path_name(path), in_words(why))]
    #[diagnostic(help(
        "check that the folder exists, that you may write there and that there is room; or choose another place with --out"
    ))]
    Write {
        /// The file or folder.
        path: PathBuf,
        /// The operating system's message.
        why: io::Error,
    },
    /// A folder with contents that must not be replaced.
    #[error("{} holds something that is not a gallery", path_name(path))]
    #[diagnostic(help("name a new folder with --out, or empty this one yourself"))]
    NotAGallery {
        /// The folder.
        path: PathBuf,
    },
    /// A gallery to which something was added.
    #[error("{} contains {}, which is not a file of the gallery", path_name(path), path_name(file))]
    #[diagnostic(help(
        "a gallery is replaced as a whole: move this elsewhere, or name another folder with --out; nothing was changed"
    ))]
    NotOfTheGallery {
        /// The folder.
        path: PathBuf,
        /// What was added, by its path in the folder.
        file: PathBuf,
    },
    /// Something that appeared where a gallery was to go.
    #[error("{}: {what} appeared there while the gallery was being made", path_name(path))]
    #[diagnostic(help("{}", moved.as_ref().map_or_else(
        || "it was left as it is, and the new gallery was removed: move it elsewhere, or choose another place \
            with --out, and make the gallery again".to_owned(),
        |moved| format!("nothing is lost: what was there is now {}", path_name(moved)),
    )))]
    Appeared {
        /// The place of the gallery.
        path: PathBuf,
        /// What appeared, in words.
        what: String,
        /// Where it is now, if it could not be left where it was.
        moved: Option<PathBuf>,
    },
    /// A folder to be made where something exists already.
    #[error("{} already exists", path_name(path))]
    #[diagnostic(help("choose another name, or another folder to run this in; nothing there was changed"))]
    Exists {
        /// The folder.
        path: PathBuf,
    },
    /// An unknown name.
    #[error("{what} `{name}` is not known")]
    Unknown {
        /// What kind of thing.
        what: &'static str,
        /// The name as given.
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
    /// An unknown ground.
    #[error("the ground `{id}` is not known")]
    #[diagnostic(help("{}", did_you_mean(near, "`pairwise grounds` lists all grounds")))]
    UnknownGround {
        /// The id asked for.
        id: String,
        /// Similar ids.
        near: Vec<String>,
        /// Contributions that could not be used; the ground may be in one of them.
        left_out: Vec<LeftOut>,
    },
    /// None of the grounds asked for can be worked.
    #[error("{what}")]
    NoGround {
        /// What is wrong, in a sentence.
        what: &'static str,
        /// What to do.
        #[help]
        help: &'static str,
        /// Why each of them cannot be worked.
        left_out: Vec<LeftOut>,
    },
    /// A contribution that could not be used.
    #[error("{0}")]
    Contribution(String),
    /// A value that cannot be written as JSON: a fault of the program.
    #[error("the result cannot be written as JSON: {0}")]
    #[diagnostic(help("this is a fault of pairwise itself; please report it with the command you gave"))]
    Json(#[from] serde_json::Error),
    /// A text template that does not render: a fault of the program.
    #[error("a page could not be made: {0}")]
    #[diagnostic(help("this is a fault of pairwise itself; please report it with the command you gave"))]
    Page(#[from] minijinja::Error),
}

impl Failure {
    /// A failure to write to a path.
    pub fn write(path: &Path) -> impl FnOnce(io::Error) -> Failure + '_ {
        move |why| Failure::Write { path: path.to_owned(), why }
    }

    /// The failure of a contribution.
    pub fn contribution(why: impl Display) -> Failure {
        Failure::Contribution(why.to_string())
    }

    /// Contributions that could not be used and may explain the failure.
    pub fn left_out(&self) -> &[LeftOut] {
        match self {
            Failure::UnknownGround { left_out, .. } | Failure::NoGround { left_out, .. } => left_out,
            _ => &[],
        }
    }

    /// A failure to read from a path.
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
            ChooseError::Ambiguous { .. } => {
                Failure::Value { what: why.to_string(), help: "type one of them".to_owned() }
            }
            ChooseError::NotAGround { .. } => Failure::Value {
                what: why.to_string(),
                help: "`pairwise check`, with the same name or file, says what to do".to_owned(),
            },
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
