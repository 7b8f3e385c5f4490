//! What can go wrong in the program, each with its place and its remedy.

use std::io;
use std::path::{Path, PathBuf};

use miette::Diagnostic;
use thiserror::Error;

use crate::fold::fold;

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
    /// Faults in a chart.
    #[error(transparent)]
    #[diagnostic(transparent)]
    Chart(Box<crate::charts::ChartFaults>),
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

    /// A read failure at a path.
    pub fn read(path: &Path) -> impl FnOnce(io::Error) -> Failure + '_ {
        move |why| Failure::Read { path: path.to_owned(), why }
    }
}

/// The names nearest to a misspelt one, for a remedy, and where all are listed.
/// Case and accents make no difference.
pub fn suggest<'a>(name: &str, known: impl IntoIterator<Item = &'a str>, all: &str) -> String {
    let wanted = fold(name);
    let mut near: Vec<(f64, &str)> = known
        .into_iter()
        .map(|k| (strsim::jaro_winkler(&wanted, &fold(k)), k))
        .filter(|(like, _)| *like > 0.75)
        .collect();
    near.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(b.1)));
    match near.as_slice() {
        [] => all.to_owned(),
        near => {
            let names: Vec<String> = near.iter().take(3).map(|(_, k)| format!("`{k}`")).collect();
            format!("did you mean {}? {all}", names.join(" or "))
        }
    }
}
