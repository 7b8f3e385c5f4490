//! Faults in a text, each shown at its line.

use std::sync::Arc;

use catalogue::text::{clean, clean_and_cut};
use chart_files::Fault;
use miette::{Diagnostic, NamedSource, SourceSpan};
use thiserror::Error;

/// Faults in a text.
#[derive(Debug, Error, Diagnostic)]
#[error("{}: {} found", name, if faults.len() == 1 { "a fault".to_owned() } else { format!("{} faults", faults.len()) })]
pub struct TextFaults {
    name: String,
    #[related]
    faults: Vec<ShownFault>,
}

/// One fault with its lines.
#[derive(Debug, Error, Diagnostic)]
#[error("{sentence}")]
pub struct ShownFault {
    sentence: String,
    #[source_code]
    text: NamedSource<Arc<str>>,
    #[label(collection)]
    at: Vec<SourceSpan>,
    #[help]
    remedy: String,
}

/// A text to show faults in.
#[derive(Clone)]
pub struct ShownText {
    name: String,
    text: Arc<str>,
}

impl ShownText {
    /// A text, with terminal control characters removed. `name` is its file
    /// name, already made harmless.
    pub fn new(name: &str, text: &str) -> ShownText {
        ShownText { name: name.to_owned(), text: harmless(text).into() }
    }

    /// The name of the text in messages.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// A fault at some places in the text.
    pub fn fault(&self, at: Vec<SourceSpan>, sentence: String, remedy: String) -> ShownFault {
        ShownFault { sentence, text: NamedSource::new(&self.name, self.text.clone()), at, remedy }
    }

    /// Faults, as a report.
    pub fn report(&self, faults: impl IntoIterator<Item = ShownFault>) -> TextFaults {
        TextFaults { name: self.name.clone(), faults: faults.into_iter().collect() }
    }

    /// The faults that a parser found, as a report.
    pub fn report_read(&self, faults: Vec<Fault>) -> TextFaults {
        self.report(faults.into_iter().map(|Fault { at, sentence, remedy }| {
            self.fault(vec![at.into()], clean_and_cut(&sentence, 400), clean_and_cut(&remedy, 800))
        }))
    }
}

/// The text without terminal control characters, at the same length in bytes.
fn harmless(text: &str) -> String {
    // Put between letters, so that a space is not trimmed.
    let kept = |c: char| {
        let between = format!("x{c}x");
        matches!(c, '\n' | '\t' | '\r') || clean(&between) == between
    };
    text.chars().flat_map(|c| if kept(c) { vec![c] } else { vec!['?'; c.len_utf8()] }).collect()
}
