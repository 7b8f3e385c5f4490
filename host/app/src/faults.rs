//! Faults in a text, each shown at its line.

mod excerpt;

use std::sync::Arc;

use catalogue::text::clean_and_cut;
use chart_files::Fault;
use miette::{Diagnostic, SourceSpan};
use thiserror::Error;

use excerpt::{Excerpt, Lines};

/// Most faults shown; the rest are counted.
pub const MOST_SHOWN: usize = 50;
/// Longest sentence and longest remedy, in characters.
const SENTENCE_CHARS: usize = 600;
const REMEDY_CHARS: usize = 1200;

/// Faults in a text.
#[derive(Debug, Error, Diagnostic)]
#[error("{name}: {}", counted(*.all))]
pub struct TextFaults {
    name: String,
    /// Number of faults, shown or not.
    all: usize,
    #[related]
    shown: Vec<ShownFault>,
}

fn counted(all: usize) -> String {
    match all {
        1 => "a fault found".to_owned(),
        _ if all <= MOST_SHOWN => format!("{all} faults found"),
        _ => format!("{all} faults found; the first {MOST_SHOWN} are shown"),
    }
}

/// One fault with its lines.
#[derive(Debug, Error, Diagnostic)]
#[error("{sentence}")]
pub struct ShownFault {
    sentence: String,
    #[source_code]
    text: Excerpt,
    #[label(collection)]
    at: Vec<SourceSpan>,
    #[help]
    remedy: String,
}

/// A text to show faults in.
#[derive(Clone)]
pub struct ShownText {
    name: Arc<str>,
    lines: Arc<Lines>,
}

impl ShownText {
    /// A text. `name` is its file name, already made harmless.
    pub fn new(name: &str, text: &str) -> ShownText {
        ShownText { name: name.into(), lines: Arc::new(Lines::new(text)) }
    }

    /// The name of the text in messages.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// A fault at some places in the text.
    pub fn fault(&self, at: Vec<SourceSpan>, sentence: String, remedy: String) -> ShownFault {
        let (text, at) = self.lines.around(&self.name, &at);
        ShownFault {
            sentence: clean_and_cut(&sentence, SENTENCE_CHARS),
            text,
            at,
            remedy: clean_and_cut(&remedy, REMEDY_CHARS),
        }
    }

    /// Faults, as a report. What is not shown is not made either.
    pub fn report(
        &self,
        faults: impl IntoIterator<Item = ShownFault, IntoIter: ExactSizeIterator>,
    ) -> TextFaults {
        let faults = faults.into_iter();
        TextFaults {
            name: self.name.to_string(),
            all: faults.len(),
            shown: faults.take(MOST_SHOWN).collect(),
        }
    }

    /// The faults that a parser found, as a report.
    pub fn report_read(&self, faults: Vec<Fault>) -> TextFaults {
        self.report(faults.into_iter().map(|Fault { at, also, sentence, remedy }| {
            let places = std::iter::once(at).chain(also).map(SourceSpan::from);
            self.fault(places.collect(), sentence, remedy)
        }))
    }
}
