//! Faults in a text, each shown where it stands.

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

/// One fault with the lines it stands in.
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

/// A text in which faults are shown.
#[derive(Clone)]
pub struct ShownText {
    name: String,
    text: Arc<str>,
}

impl ShownText {
    /// A text, with nothing in it that a terminal would obey. `name` is that of
    /// its file, made harmless already.
    pub fn new(name: &str, text: &str) -> ShownText {
        ShownText { name: name.to_owned(), text: harmless(text).into() }
    }

    /// What the text is called in messages.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// A fault at some places of the text.
    pub fn fault(&self, at: Vec<SourceSpan>, sentence: String, remedy: String) -> ShownFault {
        ShownFault { sentence, text: NamedSource::new(&self.name, self.text.clone()), at, remedy }
    }

    /// Faults, as a report.
    pub fn report(&self, faults: impl IntoIterator<Item = ShownFault>) -> TextFaults {
        TextFaults { name: self.name.clone(), faults: faults.into_iter().collect() }
    }

    /// What a reader found wrong, as a report.
    pub fn report_read(&self, faults: Vec<Fault>) -> TextFaults {
        self.report(faults.into_iter().map(|Fault { at, sentence, remedy }| {
            self.fault(vec![at.into()], clean_and_cut(&sentence, 400), clean_and_cut(&remedy, 800))
        }))
    }
}

/// The text as long as it was, without what a terminal would obey.
fn harmless(text: &str) -> String {
    // Between letters, so that no space is taken for one at the end.
    let kept = |c: char| {
        let between = format!("x{c}x");
        matches!(c, '\n' | '\t' | '\r') || clean(&between) == between
    };
    text.chars().flat_map(|c| if kept(c) { vec![c] } else { vec!['?'; c.len_utf8()] }).collect()
}
