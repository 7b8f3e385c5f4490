//! Chart files: reading, packing, and showing findings at their lines.

use std::path::Path;

use catalogue::text::path_name;
use chart_files::{ENDING, PackError, Read};
use lace::{Code, Finding, Place, Side};
use miette::SourceSpan;

use crate::failure::Failure;
use crate::faults::{ShownText, TextFaults};
use crate::input::text_in;

/// A chart that was read without errors.
pub struct ChartFile {
    /// The text as it is shown in messages.
    pub text: ShownText,
    /// Its contents.
    pub read: Read,
}

/// Whether the file name is that of a chart.
pub fn is_chart(path: &Path) -> bool {
    path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case(ENDING))
}

/// The text of a chart.
pub fn text(path: &Path) -> Result<String, Failure> {
    // Ten times what can be packed, so that a chart somewhat too long gets a
    // precise message.
    const MOST_BYTES: u64 = 1 << 20;
    text_in(path, MOST_BYTES, "a chart", "charts are small texts: look for a smaller repeat")
}

/// Reads a chart.
pub fn open(path: &Path) -> Result<ChartFile, Failure> {
    read(path, &text(path)?)
}

/// Reads the text of a chart.
pub fn read(path: &Path, text: &str) -> Result<ChartFile, Failure> {
    let shown = ShownText::new(&path_name(path), text);
    match chart_files::read(text) {
        Ok(read) => Ok(ChartFile { text: shown, read }),
        Err(faults) => Err(shown.report_read(faults).into()),
    }
}

impl ChartFile {
    /// The component that holds the chart.
    pub fn pack(&self) -> Result<Vec<u8>, Failure> {
        chart_files::pack(&self.read.chart).map_err(|why| match why {
            PackError::TooLarge(bytes) => Failure::Value {
                what: format!("{}: packed, it would take {bytes} bytes; at most {} are possible", self.text.name(), chart_files::ROOM),
                help: "shorten the notes or look for a smaller repeat; a crate (`pairwise new`) has room for more".to_owned(),
            },
            PackError::NoPlace => Failure::Contribution("the component for charts is damaged: this is a fault in pairwise itself".to_owned()),
        })
    }

    /// Findings, shown where they stand in the chart.
    pub fn show(&self, findings: &[(Finding, String)]) -> TextFaults {
        let faults = findings.iter().map(|(finding, whose)| {
            let severity = if finding.is_error() { "error" } else { "warning" };
            let mut spans = self.spans(&finding.place);
            if spans.is_empty() || finding.code == Code::PairsDrift {
                spans.extend(self.read.steps.iter().cloned().map(SourceSpan::from));
            }
            let sentence = format!("{severity} {}{whose}: {}", finding.code, finding.sentence);
            let remedy = format!("{} Why it matters: {}", finding.code.remedy(), finding.code.why());
            self.text.fault(spans, sentence, remedy)
        });
        self.text.report(faults)
    }

    fn spans(&self, place: &Place) -> Vec<SourceSpan> {
        let stitch = |id: &String| self.read.chart.stitches.iter().position(|s| s.id == *id);
        let exit = |k: usize, side: Side| self.read.stitches[k].exits[side.index()].clone().into();
        const SHOWN: usize = 4;
        match place {
            Place::Repeat => Vec::new(),
            Place::Stitches(ids) => {
                let found = ids.iter().filter_map(stitch).take(SHOWN);
                found.map(|k| self.read.stitches[k].name.clone().into()).collect()
            }
            Place::Leg { from, side } => stitch(from).map(|k| exit(k, *side)).into_iter().collect(),
            Place::Pairs(pairs) => {
                pairs.iter().filter_map(|(from, side)| Some(exit(stitch(from)?, *side))).collect()
            }
        }
    }
}
