//! The explanations of findings as a user reads them, in the terminal and as a
//! page.

use std::collections::BTreeSet;

use crate::support::{assert_refused, pairwise, text};
use crate::typeface;
use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use scraper::{Html, Selector};

/// What `explain` prints.
fn explained(args: &[&str]) -> String {
    let folder = tempfile::tempdir().unwrap();
    let out = pairwise(folder.path(), &[&["explain"], args].concat());
    assert_eq!(out.status.code(), Some(0), "{}", text(&out.stderr));
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 0);
    text(&out.stdout)
}

/// The codes in the list of findings.
fn codes() -> Vec<String> {
    let list = explained(&[]);
    let lines = list.split("\n\n").take(2).flat_map(|part| part.lines().skip(1));
    let begins = lines.filter(|line| !line.starts_with(' '));
    begins.map(|line| line.split(' ').next().unwrap().to_owned()).collect()
}

#[test]
fn findings_are_listed_and_each_is_explained_in_lines_that_fit() {
    let codes = codes();
    assert!(codes.len() >= 22 && codes.contains(&"lifts-off".to_owned()), "{codes:?}");
    for code in &codes {
        let explanation = explained(&[code]);
        assert!(explanation.starts_with(&format!("{code}, a")), "{explanation}");
        assert!(explanation.lines().all(|line| line.chars().count() <= 80), "{explanation}");
    }
}

// The charts printed can be copied into a file and checked.
#[test]
fn the_printed_charts_have_the_findings_they_are_examples_of() {
    let folder = tempfile::tempdir().unwrap();
    for code in ["lifts-off", "mirrored", "runs-uphill"] {
        let explanation = explained(&[code]);
        let (bad, good) = explanation.split_once("\nA good example\n").unwrap();
        let bad = bad.split_once("\nA bad example\n").unwrap().1;
        for (part, name) in [(bad, "bad"), (good, "good")] {
            let lines = part.lines().take_while(|line| line.is_empty() || line.starts_with("    "));
            let chart: String =
                lines.map(|line| format!("{}\n", line.strip_prefix("    ").unwrap_or(""))).collect();
            let file = format!("{code}-{name}.toml");
            std::fs::write(folder.path().join(&file), chart).unwrap();
            let out = pairwise(folder.path(), &["check", &file]);
            let shown = text(&out.stdout) + &text(&out.stderr);
            if name == "good" {
                assert_eq!(out.status.code(), Some(0), "{shown}");
                assert!(shown.contains("nothing to find fault with"), "{file}: {shown}");
            } else {
                assert!(shown.contains(code), "{file}: {shown}");
            }
        }
    }
}

#[test]
fn the_page_has_every_finding_with_both_charts_and_their_pictures_and_fetches_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let out = pairwise(folder.path(), &["explain", "--page", "faults.html"]);
    assert_eq!(out.status.code(), Some(0), "{}", text(&out.stderr));
    let page = std::fs::read_to_string(folder.path().join("faults.html")).unwrap();
    let html = Html::parse_document(&page);
    let select = |what: &str| Selector::parse(what).unwrap();
    let mut names = BTreeSet::new();
    for element in html.select(&select("*")) {
        let value = element.value();
        assert!(!["script", "link", "img", "iframe", "object", "base"].contains(&value.name()), "{value:?}");
        for (attribute, value) in value.attrs() {
            assert!(!attribute.starts_with("on"), "{attribute}");
            if attribute.ends_with("href") || attribute == "src" {
                assert!(value.starts_with('#'), "{attribute}=\"{value}\"");
            }
            assert!(
                !value.split("url(").skip(1).any(|rest| !rest.starts_with('#')),
                "{attribute}=\"{value}\""
            );
        }
        if let Some(id) = value.id() {
            assert!(names.insert(id.to_owned()), "two things are called {id}");
        }
    }
    assert!(!page.contains("@import") && !page.contains("://"));
    // Its typeface is embedded and has a glyph for every character.
    let faces: Vec<&str> = page.split("url(").skip(1).map(|rest| rest.split(')').next().unwrap()).collect();
    assert_eq!(faces.len(), 2);
    for face in faces {
        let face = face.strip_prefix("\"data:font/woff;base64,").unwrap().trim_end_matches('"');
        assert_eq!(typeface::lacking(&STANDARD.decode(face).unwrap(), &page), BTreeSet::new());
    }
    // Every link has a target.
    for element in html.select(&select("a[href], use[href]")) {
        let to = &element.attr("href").unwrap()[1..];
        assert!(names.contains(to), "nothing is called {to}");
    }
    let codes = codes();
    let mut charts = 0;
    for code in &codes {
        let entry =
            html.select(&select(&format!("article#{code}"))).next().unwrap_or_else(|| panic!("{code}"));
        let heads: Vec<String> = entry.select(&select("h4")).map(|h| h.text().collect()).collect();
        let expected = [
            "What it means",
            "Why it matters on the pillow",
            "What to do",
            "A bad example",
            "A good example",
        ];
        assert_eq!(heads, expected, "{code}");
        let printed = explained(&[code]);
        let shown: Vec<String> = entry.select(&select("pre")).map(|pre| pre.text().collect()).collect();
        for chart in &shown {
            // The same text as in the terminal.
            assert!(chart.lines().all(|line| printed.contains(line)), "{code}: {chart}");
        }
        let pictures: Vec<_> = entry.select(&select("svg")).collect();
        assert_eq!(pictures.len(), if shown.is_empty() { 0 } else { 3 }, "{code}: bad, good, worked");
        for picture in pictures {
            assert_eq!(picture.attr("role"), Some("img"));
            let title = picture.select(&select("title")).next().unwrap();
            assert_eq!(picture.attr("aria-labelledby"), title.attr("id"));
            let shown: String = title.text().collect();
            assert!(shown.contains(code.as_str()), "{shown}");
        }
        charts += shown.len();
    }
    assert_eq!(html.select(&select("article")).count(), codes.len());
    assert_eq!(charts, 2 * (codes.len() - 3), "no-stitches, bad-name and places-missing have no charts");
    assert!(page.len() < 3_000_000, "{} bytes", page.len());
    // Written again, it has the same bytes.
    let out = pairwise(folder.path(), &["explain", "--page", "faults.html"]);
    assert_eq!(out.status.code(), Some(0));
    assert!(std::fs::read_to_string(folder.path().join("faults.html")).unwrap() == page);
}

/// The page on charts comes out of the program, and what is to be copied from it can
/// be checked.
#[test]
fn how_charts_are_written_is_printed() {
    let page = explained(&["charts"]);
    for words in ["Charts: a filling without a programmer", "The rose ground", "What a chart cannot do"] {
        assert!(page.contains(words), "{words}: {page}");
    }
    let lines = page.lines().skip_while(|line| !line.starts_with("    format = "));
    let chart = lines.take_while(|line| line.is_empty() || line.starts_with("    "));
    let chart: String = chart.map(|line| format!("{}\n", line.trim_start())).collect();
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("my-rose.toml"), chart).unwrap();
    let out = pairwise(folder.path(), &["check", "my-rose.toml"]);
    assert_eq!(out.status.code(), Some(0), "{}", text(&out.stdout));
    // A new chart says where to read on.
    let out = pairwise(folder.path(), &["new", "mine", "--chart"]);
    assert!(text(&out.stdout).contains("pairwise explain charts"), "{}", text(&out.stdout));
    let chart = std::fs::read_to_string(folder.path().join("mine.toml")).unwrap();
    assert!(chart.contains("`pairwise explain charts`"), "{chart}");
}

#[test]
fn wrong_use_is_reported_and_writes_nothing() {
    for (args, words) in [
        (&["explain", "lift-off"][..], &["lifts-off"][..]),
        (&["explain", "--page", "findings.pdf"], &["findings.pdf", ".html"]),
        (&["explain", "--page", "no/such/folder/faults.html"], &["no/such/folder/faults.html"]),
        (&["explain", "lifts-off", "--page", "faults.html"], &["--page"]),
    ] {
        assert_refused(args, words);
    }
}
