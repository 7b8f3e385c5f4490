//! The manual of findings: for every code what it means, why it matters on the
//! pillow, what to do, a bad example and a good one. The words are those of
//! `lace::Code`, the examples small charts; `explain` says it in words and as a
//! page, the gallery has the page among its own.

pub mod page;
pub mod words;

use lace::{Code, Finding, Repeat, Severity};

/// The headings of every entry, in order.
pub const HEADINGS: [&str; 5] =
    ["What it means", "Why it matters on the pillow", "What to do", "A bad example", "A good example"];

/// What the examples of a code are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Example {
    /// A chart that can be checked.
    Chart(&'static str),
    /// Words, where no chart can be so.
    Words(&'static str),
}

/// A code with its two charts, the bad one first.
type Charts = (Code, [&'static str; 2]);

macro_rules! charts {
    ($($code:ident $word:literal),* $(,)?) => {
        /// The codes that a chart can show.
        const CHARTS: &[Charts] = &[$((
            Code::$code,
            [
                include_str!(concat!("manual/", $word, "-bad.toml")),
                include_str!(concat!("manual/", $word, "-good.toml")),
            ],
        )),*];
    };
}

charts! {
    TooLarge "too-large",
    BadNumber "bad-number",
    BadLattice "bad-lattice",
    NeverLevel "never-level",
    LooseEnd "loose-end",
    UsedTwice "used-twice",
    SeveralPieces "several-pieces",
    LegsMeet "legs-meet",
    Mirrored "mirrored",
    NoOrder "no-order",
    NotDown "not-down",
    PairsDrift "pairs-drift",
    LiftsOff "lifts-off",
    NoPin "no-pin",
    PairsUnlinked "pairs-unlinked",
    OneLongStitch "one-long-stitch",
    LegsDrawnCrossing "legs-drawn-crossing",
    Lopsided "lopsided",
    RunsUphill "runs-uphill",
}

/// The codes that no chart can show, because it is refused before the lace is
/// looked at or always says what is asked for: bad and good in words.
const WORDS: &[Charts] = &[
    (
        Code::NoStitches,
        [
            "A contribution in Rust that returns a repeat without a stitch. A chart \
             cannot be so: one without [[stitch]] is told that there is no stitch, \
             before the lace is looked at.",
            "Any repeat with at least one stitch. One is enough for torchon ground.",
        ],
    ),
    (
        Code::BadName,
        [
            "A contribution in Rust that calls a stitch `Pin 1`, or calls two of them \
             `pin`. A chart cannot be so: it is told in which line the name stands, \
             before the lace is looked at.",
            "Stitches called `pin`, `pin-2`, `cross-left`.",
        ],
    ),
    (
        Code::PlacesMissing,
        [
            "A contribution in Rust that gives the place of its first stitch and leaves \
             the others out. A chart cannot be so: every [[stitch]] must say where it \
             stands, with `at`.",
            "A repeat in which every stitch has a place, or none: then the places are \
             balanced by the program.",
        ],
    ),
];

/// The bad and the good example of a code.
pub fn examples(code: Code) -> [Example; 2] {
    let find = |all: &[Charts]| all.iter().find(|(c, _)| *c == code).map(|(_, two)| *two);
    match find(CHARTS) {
        Some(charts) => charts.map(Example::Chart),
        None => find(WORDS).unwrap_or_default().map(Example::Words),
    }
}

/// How grave a code is, as the manual says it.
pub fn gravity(severity: Severity) -> &'static str {
    match severity {
        Severity::Error => "an error: the lace cannot be worked as defined",
        Severity::Warning => "a warning: the lace can be worked, but look at it",
    }
}

/// An example that has been read and checked.
pub struct Checked {
    /// Its title.
    pub title: String,
    /// Degrees between the footside and the slanting rows of pins.
    pub angle: f64,
    /// What it defines.
    pub repeat: Repeat,
    /// What is said against it.
    pub findings: Vec<Finding>,
}

/// Reads and checks a chart of the manual. `None` would be a fault of the
/// house: a test reads them all.
pub fn check(chart: &str) -> Option<Checked> {
    let read = chart_files::read(chart).ok()?;
    let repeat = chart_files::repeat(&read.chart).ok()?;
    let findings = lace::check(&repeat);
    Some(Checked { title: read.chart.title, angle: read.chart.angle, repeat, findings })
}

/// What `check` says of an example, a sentence for each finding.
pub fn said(checked: &Checked) -> Vec<String> {
    checked.findings.iter().map(|f| format!("{} at {}: {}", f.code, f.place, f.sentence)).collect()
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;

    /// No chart can be so; see [`WORDS`].
    const WITHOUT_CHARTS: [Code; 3] = [Code::NoStitches, Code::BadName, Code::PlacesMissing];

    #[test]
    fn every_code_has_a_bad_and_a_good_example() {
        for &code in Code::ALL {
            for example in examples(code) {
                match example {
                    Example::Chart(_) => assert!(!WITHOUT_CHARTS.contains(&code), "{code}"),
                    Example::Words(words) => {
                        assert!(WITHOUT_CHARTS.contains(&code), "{code} has no charts");
                        assert!(words.ends_with('.') && words.len() > 30, "{code}: {words}");
                    }
                }
            }
        }
        assert_eq!(CHARTS.len() + WORDS.len(), Code::ALL.len());
        let order: Vec<Code> = Code::ALL.iter().copied().filter(|c| !WITHOUT_CHARTS.contains(c)).collect();
        assert_eq!(CHARTS.iter().map(|(code, _)| *code).collect::<Vec<_>>(), order);
    }

    #[test]
    fn every_chart_shows_what_it_is_named_after_and_nothing_else() {
        for (code, [bad, good]) in CHARTS {
            let bad = check(bad).unwrap_or_else(|| panic!("{code}-bad.toml"));
            let mut found: Vec<Code> = bad.findings.iter().map(|f| f.code).collect();
            found.dedup();
            // Where two pairs come to one place, another place is left free.
            let expected = match code {
                Code::LooseEnd | Code::UsedTwice => {
                    found.sort_by_key(|c| c.word());
                    vec![Code::LooseEnd, Code::UsedTwice]
                }
                code => vec![*code],
            };
            assert_eq!(found, expected, "{code}-bad.toml: {:?}", bad.findings);
            let good = check(good).unwrap_or_else(|| panic!("{code}-good.toml"));
            assert_eq!(good.findings, [], "{code}-good.toml");
            assert!(lace::Ground::new(good.repeat).is_ok());
        }
    }

    #[test]
    fn charts_are_small_say_what_to_look_at_and_are_named_after_their_code() {
        let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/src/manual");
        let files = std::fs::read_dir(folder).unwrap().map(|f| f.unwrap().file_name().into_string().unwrap());
        let files: BTreeSet<String> = files.filter(|f| f.ends_with(".toml")).collect();
        let mut expected = BTreeSet::new();
        for (code, charts) in CHARTS {
            for (kind, chart) in ["bad", "good"].iter().zip(charts) {
                let name = format!("{code}-{kind}");
                assert!(chart.starts_with("# "), "{name} says what to look at");
                assert!(
                    kind == &"good" || chart.starts_with("# Look at ") || chart.starts_with("# Look "),
                    "{name}"
                );
                assert!(chart.contains(&format!("id = \"{name}\"")), "{name}");
                // Set in or side by side on a page, no line is broken.
                assert!(chart.lines().all(|line| line.chars().count() <= 60), "{name}");
                assert!(chart.matches("[[stitch]]").count() <= 3, "{name} could be smaller");
                let written = std::fs::read_to_string(format!("{folder}/{name}.toml")).unwrap();
                assert_eq!(&written, chart, "{name}");
                expected.insert(format!("{name}.toml"));
            }
        }
        assert_eq!(files, expected);
    }
}
