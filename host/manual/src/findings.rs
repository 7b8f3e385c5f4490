//! Every finding explained: what it means, why it matters on the pillow, what
//! to do, a bad example and a good one. The sentences are those of
//! [`lace::Code`], the examples small charts.

use lace::{Code, Finding, Repeat, Severity};

/// A finding explained.
#[derive(Clone, Copy, Debug)]
pub struct Explanation {
    /// Which finding.
    pub code: Code,
    /// What it means, why it matters, what to do.
    pub sections: [Section; 3],
    /// The bad example, then the good one.
    pub examples: [ExampleSection; 2],
}

/// A heading and the text below it.
#[derive(Clone, Copy, Debug)]
pub struct Section {
    /// The heading.
    pub heading: &'static str,
    /// One or more sentences.
    pub text: &'static str,
}

/// A heading and the example below it.
#[derive(Clone, Copy, Debug)]
pub struct ExampleSection {
    /// The heading.
    pub heading: &'static str,
    /// The example.
    pub example: Example,
}

/// An example of a finding.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Example {
    /// The text of a chart that can be checked.
    Chart(&'static str),
    /// Words, where no chart can have the fault.
    Words(&'static str),
}

/// Explains a code.
pub fn explain(code: Code) -> Explanation {
    let [bad, good] = examples(code);
    Explanation {
        code,
        sections: [
            Section { heading: "What it means", text: code.means() },
            Section { heading: "Why it matters on the pillow", text: code.why() },
            Section { heading: "What to do", text: code.remedy() },
        ],
        examples: [
            ExampleSection { heading: "A bad example", example: bad },
            ExampleSection { heading: "A good example", example: good },
        ],
    }
}

/// Explains all codes, errors first.
pub fn explain_all() -> impl Iterator<Item = Explanation> {
    Code::ALL.iter().map(|&code| explain(code))
}

macro_rules! charts {
    ($word:literal) => {
        [
            Example::Chart(include_str!(concat!("../charts/", $word, "-bad.toml"))),
            Example::Chart(include_str!(concat!("../charts/", $word, "-good.toml"))),
        ]
    };
}

/// The bad and the good example of a code. Three codes have words instead of
/// charts: a chart with such a fault either cannot be written or is refused
/// before the lace is checked.
pub const fn examples(code: Code) -> [Example; 2] {
    match code {
        Code::NoStitches => [
            Example::Words(
                "A contribution in Rust that returns a repeat without a stitch. A chart \
                 cannot do this: one without [[stitch]] is refused before the \
                 lace is checked.",
            ),
            Example::Words("Any repeat with at least one stitch. One is enough for torchon ground."),
        ],
        Code::TooLarge => charts!("too-large"),
        Code::BadName => [
            Example::Words(
                "A contribution in Rust that calls a stitch `Pin 1`, or calls two of them \
                 `pin`. A chart cannot do this: the line with the name is refused before \
                 the lace is checked.",
            ),
            Example::Words("Stitches called `pin`, `pin-2`, `cross-left`."),
        ],
        Code::BadNumber => charts!("bad-number"),
        Code::BadLattice => charts!("bad-lattice"),
        Code::NeverLevel => charts!("never-level"),
        Code::PlacesMissing => [
            Example::Words(
                "A contribution in Rust that gives the place of its first stitch and leaves \
                 the others out. A chart cannot do this: every [[stitch]] must say where it \
                 stands, with `at`.",
            ),
            Example::Words(
                "A repeat in which every stitch has a place, or none has: then the program \
                 finds balanced places.",
            ),
        ],
        Code::LooseEnd => charts!("loose-end"),
        Code::UsedTwice => charts!("used-twice"),
        Code::SeveralPieces => charts!("several-pieces"),
        Code::LegsMeet => charts!("pairs-pass"),
        Code::Mirrored => charts!("mirrored"),
        Code::NoOrder => charts!("no-order"),
        Code::NotDown => charts!("not-down"),
        Code::PairsDrift => charts!("pairs-drift"),
        Code::LiftsOff => charts!("lifts-off"),
        Code::NoPin => charts!("no-pin"),
        Code::PairsUnlinked => charts!("pairs-unlinked"),
        Code::OneLongStitch => charts!("one-long-stitch"),
        Code::LegsDrawnCrossing => charts!("drawn-crossing"),
        Code::Lopsided => charts!("lopsided"),
        Code::RunsUphill => charts!("runs-uphill"),
    }
}

/// The severity of a single finding: `an error: …`.
pub const fn severity_in_words(severity: Severity) -> &'static str {
    match severity {
        Severity::Error => "an error: the lace cannot be worked as defined",
        Severity::Warning => "a warning: the lace can be worked, but look at it",
    }
}

/// The heading above all findings of one severity: `Errors: …`.
pub const fn severity_as_heading(severity: Severity) -> &'static str {
    match severity {
        Severity::Error => "Errors: the lace cannot be worked as defined",
        Severity::Warning => "Warnings: the lace can be worked, but look at it",
    }
}

/// A chart that has been read, with what a check of it finds.
#[derive(Clone, Debug)]
pub struct CheckedChart {
    /// Its title.
    pub title: String,
    /// Degrees between the footside and the diagonal lines of pins.
    pub angle: f64,
    /// The repeat it defines.
    pub repeat: Repeat,
    /// What was found.
    pub findings: Vec<Finding>,
}

/// Reads and checks the chart of an example. `None` would be a fault in this
/// manual; a test reads every chart.
pub fn check(chart: &str) -> Option<CheckedChart> {
    let read = chart_files::read(chart).ok()?;
    let repeat = chart_files::repeat(&read.chart).ok()?;
    let findings = lace::check(&repeat);
    Some(CheckedChart { title: read.chart.title, angle: read.chart.angle, repeat, findings })
}

impl CheckedChart {
    /// What `check` says about it, one sentence for each finding.
    pub fn sentences(&self) -> Vec<String> {
        self.findings.iter().map(|f| format!("{} at {}: {}", f.code, f.place, f.sentence)).collect()
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;

    /// The codes with charts, and their charts.
    fn charts() -> impl Iterator<Item = (Code, [&'static str; 2])> {
        Code::ALL.iter().filter_map(|&code| match examples(code) {
            [Example::Chart(bad), Example::Chart(good)] => Some((code, [bad, good])),
            _ => None,
        })
    }

    #[test]
    fn only_faults_no_chart_can_show_have_words_for_examples() {
        let mut without = Vec::new();
        for &code in Code::ALL {
            for example in examples(code) {
                if let Example::Words(words) = example {
                    assert!(words.ends_with('.') && words.len() > 30, "{code}: {words}");
                    without.push(code);
                }
            }
        }
        without.dedup();
        assert_eq!(without, [Code::NoStitches, Code::BadName, Code::PlacesMissing]);
        assert_eq!(charts().count() + without.len(), Code::ALL.len());
    }

    #[test]
    fn every_chart_has_the_finding_it_is_named_after_and_no_other() {
        for (code, [bad, good]) in charts() {
            let bad = check(bad).unwrap_or_else(|| panic!("{code}-bad.toml"));
            let mut found: Vec<Code> = bad.findings.iter().map(|f| f.code).collect();
            found.dedup();
            // Where two pairs come in on one side, another side is left free.
            let expected = match code {
                Code::LooseEnd | Code::UsedTwice => {
                    found.sort_by_key(|c| c.word());
                    vec![Code::LooseEnd, Code::UsedTwice]
                }
                code => vec![code],
            };
            assert_eq!(found, expected, "{code}-bad.toml: {:?}", bad.findings);
            let good = check(good).unwrap_or_else(|| panic!("{code}-good.toml"));
            assert_eq!(good.findings, [], "{code}-good.toml");
            assert!(lace::Ground::new(good.repeat).is_ok());
        }
    }

    #[test]
    fn charts_are_small_say_where_to_look_and_are_named_after_their_code() {
        let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/charts");
        let files = std::fs::read_dir(folder).unwrap().map(|f| f.unwrap().file_name().into_string().unwrap());
        let files: BTreeSet<String> = files.collect();
        let mut expected = BTreeSet::new();
        for (code, charts) in charts() {
            for (kind, chart) in ["bad", "good"].iter().zip(charts) {
                let name = format!("{code}-{kind}");
                assert!(chart.starts_with("# "), "{name} says what to look at");
                assert!(kind == &"good" || chart.starts_with("# Look "), "{name}");
                assert!(chart.contains(&format!("id = \"{name}\"")), "{name}");
                // Short enough that no line wraps when indented or set in two columns.
                assert!(chart.lines().all(|line| line.chars().count() <= 60), "{name}");
                assert!(chart.matches("[[stitch]]").count() <= 3, "{name} could be smaller");
                let written = std::fs::read_to_string(format!("{folder}/{name}.toml")).unwrap();
                assert_eq!(written, chart, "{name}");
                expected.insert(format!("{name}.toml"));
            }
        }
        assert_eq!(files, expected);
    }
}
