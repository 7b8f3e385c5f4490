//! Chart files: read, packed, and their faults shown where they stand.

use std::path::Path;
use std::sync::Arc;

use catalogue::text::clean_and_cut;
use chart_files::{ENDING, Fault, PackError, Read};
use lace::{Finding, Place, Side};
use miette::{Diagnostic, NamedSource, SourceSpan};
use thiserror::Error;

use crate::failure::Failure;

/// A chart that could be read.
pub struct ChartFile {
    /// What it is called in messages.
    pub name: String,
    /// The text as it is shown.
    shown: Arc<str>,
    /// What stands in it.
    pub read: Read,
}

/// Faults in a chart, each with its place.
#[derive(Debug, Error, Diagnostic)]
#[error("{}: {} found", name, if faults.len() == 1 { "a fault".to_owned() } else { format!("{} faults", faults.len()) })]
pub struct ChartFaults {
    name: String,
    #[related]
    faults: Vec<ShownFault>,
}

/// One fault with the line it stands in.
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

/// Whether a file is meant to be a chart.
pub fn is_chart(path: &Path) -> bool {
    path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case(ENDING))
}

/// Reads a chart.
pub fn open(path: &Path) -> Result<ChartFile, Failure> {
    // Ten times what can be packed, to be told so and not cut off.
    const MOST: u64 = 1 << 20;
    let size = std::fs::metadata(path).map_err(Failure::read(path))?.len();
    let name = clean_and_cut(&path.display().to_string(), 200);
    let refuse =
        |what: String, help: &str| Failure::Value { what: format!("{name}: {what}"), help: help.to_owned() };
    if size > MOST {
        return Err(refuse(
            format!("{size} bytes are too many for a chart"),
            "charts are small texts: look for a smaller repeat",
        ));
    }
    let bytes = std::fs::read(path).map_err(Failure::read(path))?;
    let text = String::from_utf8(bytes).map_err(|_| {
        refuse("this is not text in UTF-8".to_owned(), "save the file again as plain text, UTF-8")
    })?;
    match chart_files::read(&text) {
        Ok(read) => Ok(ChartFile { shown: harmless(&text).into(), name, read }),
        Err(faults) => Err(faults_in(&name, &text, faults)),
    }
}

/// Faults in a text, each shown where it stands. `name` is that of the file,
/// without anything a terminal would obey.
pub fn faults_in(name: &str, text: &str, faults: Vec<Fault>) -> Failure {
    let shown: Arc<str> = harmless(text).into();
    let faults = faults.into_iter().map(|Fault { at, sentence, remedy }| ShownFault {
        sentence: clean_and_cut(&sentence, 400),
        text: NamedSource::new(name, shown.clone()),
        at: vec![at.into()],
        remedy: clean_and_cut(&remedy, 800),
    });
    Failure::Chart(Box::new(ChartFaults { faults: faults.collect(), name: name.to_owned() }))
}

/// The text as long as it was, without what a terminal would obey.
fn harmless(text: &str) -> String {
    // Between letters, so that no space is taken for one at the end.
    let kept = |c: char| {
        let between = format!("x{c}x");
        matches!(c, '\n' | '\t' | '\r') || catalogue::text::clean(&between) == between
    };
    text.chars().flat_map(|c| if kept(c) { vec![c] } else { vec!['?'; c.len_utf8()] }).collect()
}

impl ChartFile {
    /// The component that holds the chart.
    pub fn pack(&self) -> Result<Vec<u8>, Failure> {
        chart_files::pack(&self.read.chart).map_err(|why| match why {
            PackError::TooLarge(bytes) => Failure::Value {
                what: format!("{}: packed it would take {bytes} bytes; {} are the most", self.name, chart_files::ROOM),
                help: "shorten the notes or look for a smaller repeat; a crate (`pairwise new`) has room for more".to_owned(),
            },
            PackError::NoPlace => Failure::Contribution("the component for charts is damaged: this is a fault of pairwise itself".to_owned()),
        })
    }

    /// Findings, shown where they stand in the chart.
    pub fn show(&self, findings: &[(Finding, String)]) -> ChartFaults {
        let faults = findings.iter().map(|(finding, whose)| {
            let severity = if finding.is_error() { "error" } else { "warning" };
            let mut spans = self.spans(&finding.place);
            if spans.is_empty() {
                spans.push(self.read.repeat.clone().into());
            }
            ShownFault {
                sentence: format!("{severity} {}{whose}: {}", finding.code, finding.sentence),
                text: NamedSource::new(&self.name, self.shown.clone()),
                at: spans,
                remedy: format!("{} Why it matters: {}", finding.code.remedy(), finding.code.why()),
            }
        });
        ChartFaults { faults: faults.collect(), name: self.name.clone() }
    }

    fn spans(&self, place: &Place) -> Vec<SourceSpan> {
        let stitch = |id: &String| self.read.chart.stitches.iter().position(|s| s.id == *id);
        const SHOWN: usize = 4;
        match place {
            Place::Repeat => Vec::new(),
            Place::Stitches(ids) => {
                let found = ids.iter().filter_map(stitch).take(SHOWN);
                found.map(|k| self.read.stitches[k][0].clone().into()).collect()
            }
            Place::Leg { from, side } => {
                let exit = if *side == Side::Left { 1 } else { 2 };
                stitch(from).map(|k| self.read.stitches[k][exit].clone().into()).into_iter().collect()
            }
        }
    }
}
