//! Mistakes in charts, one chart for each, with all that `check` says about it: the
//! line, the stitches or pairs concerned, and what to do, in words that need no
//! knowledge of TOML.
//!
//! `PAIRWISE_BLESS=1` writes what is said anew and then fails. Read it before it is
//! committed.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use crate::support::{pairwise, text};

const FOLDER: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../tests/program/mistakes");

/// Words that only libraries and systems use.
const THEIRS: [&str; 20] = [
    "TOML",
    "expected",
    "literal",
    "field",
    "invalid",
    "sequence",
    "array",
    "table",
    "struct",
    "enum",
    "variant",
    "f64",
    "i64",
    "string",
    "newline",
    "parse",
    "os error",
    "entity",
    "No such file",
    "magic",
];

fn charts() -> Vec<PathBuf> {
    let files = std::fs::read_dir(FOLDER).unwrap().map(|file| file.unwrap().path());
    let mut charts: Vec<PathBuf> =
        files.filter(|path| path.extension().is_some_and(|e| e == "toml")).collect();
    charts.sort();
    charts
}

/// All that is said about a chart.
fn said(chart: &Path) -> String {
    let folder = tempfile::tempdir().unwrap();
    let name = chart.file_name().unwrap();
    std::fs::copy(chart, folder.path().join(name)).unwrap();
    let out = pairwise(folder.path(), &["check", name.to_str().unwrap()]);
    let said = text(&out.stdout) + &text(&out.stderr);
    let status = out.status.code().unwrap();
    assert!(status == 1 || status == 0 && said.contains("warning"), "{name:?}: {said}");
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 1, "nothing is written");
    said
}

#[test]
fn each_mistake_is_told_in_plain_words() {
    let charts = charts();
    assert!(charts.len() >= 31, "{}", charts.len());
    let bless = std::env::var_os("PAIRWISE_BLESS").is_some();
    let mut other = BTreeSet::new();
    for chart in charts {
        let (said, expected) = (said(&chart), chart.with_extension("txt"));
        for word in THEIRS {
            // `instructions` is no word of theirs.
            let whole = said.split(|c: char| !c.is_alphanumeric()).any(|one| one == word);
            let several = word.contains(' ') && said.contains(word);
            assert!(!whole && !several, "{}: {word}: {said}", chart.display());
        }
        if std::fs::read_to_string(&expected).ok().as_ref() != Some(&said) {
            other.insert(format!("{}\n{said}", chart.display()));
            if bless {
                std::fs::write(&expected, &said).unwrap();
            }
        }
    }
    assert!(other.is_empty(), "{}", other.into_iter().collect::<Vec<_>>().join("\n"));
}

/// Whatever follows from a mistake, its cause comes first: the line of the mistake is
/// the first that is named.
#[test]
fn the_line_of_the_mistake_comes_first() {
    for (chart, line) in [
        ("one-bracket", 32),
        ("bracket-not-closed", 51),
        ("brace-not-closed", 22),
        ("two-in-one-place", 39),
        ("place-mistyped", 23),
        ("across-wrong", 11),
        ("curly-quotes", 5),
    ] {
        let path = Path::new(FOLDER).join(format!("{chart}.toml"));
        let said = said(&path);
        let named = said.split(&format!("{chart}.toml:")).nth(1).unwrap_or_else(|| panic!("{said}"));
        let first: usize = named.split(':').next().unwrap().parse().unwrap_or_else(|_| {
            // The head of the message has no line.
            let rest = said.split(&format!("{chart}.toml:")).nth(2).unwrap();
            rest.split(':').next().unwrap().parse().unwrap()
        });
        assert_eq!(first, line, "{said}");
    }
}
