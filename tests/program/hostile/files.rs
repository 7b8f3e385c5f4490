//! Charts, recipes and palettes from strangers: what is no ordinary file is not
//! read, and what is wrong in a text is shown in few words, however much it is.

use std::fmt::Write;
use std::path::Path;
use std::process::Output;

use proptest::prelude::*;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};

use super::run;
use super::terminal::harmless;
use crate::support::text;

/// Every command that reads a text which the user names, with what that should be.
const READERS: [(&[&str], &str); 6] = [
    (&["check", "FILE"], "a chart"),
    (&["pack", "FILE"], "a chart"),
    (&["grid", "torchon", "--colours", "FILE"], "a palette"),
    (&["sheet", "torchon", "--colours", "FILE"], "a palette"),
    (&["handout", "FILE"], "a recipe"),
    (&["gallery", "--recipe", "FILE"], "a recipe"),
];

/// Runs a command on a file. It must end with status 1 or 2, in few words and
/// harmless ones, with nothing left behind beside the file.
fn refused(folder: &Path, args: &[&str], file: &str) -> (Output, String) {
    let before = std::fs::read_dir(folder).unwrap().count();
    let args: Vec<&str> = args.iter().map(|arg| if *arg == "FILE" { file } else { arg }).collect();
    let out = run(folder, &args);
    assert!(matches!(out.status.code(), Some(1 | 2)), "{args:?}: {:?}\n{}", out.status, text(&out.stderr));
    harmless(args[0], &out);
    let said = text(&out.stdout) + &text(&out.stderr);
    assert!(said.len() < 150_000, "{args:?} takes {} bytes", said.len());
    assert_eq!(std::fs::read_dir(folder).unwrap().count(), before, "{args:?} leaves something behind");
    (
        out,
        said.split(|c: char| c.is_whitespace() || c == '│')
            .filter(|word| !word.is_empty())
            .collect::<Vec<_>>()
            .join(" "),
    )
}

#[test]
fn only_small_ordinary_files_are_read() {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name);
    std::fs::create_dir(at("folder.toml")).unwrap();
    std::fs::File::create(at("large.toml")).unwrap().set_len(40 << 20).unwrap();
    let mut cases =
        vec![("folder.toml", "this is a folder, not"), ("large.toml", "41943040 bytes are too many for")];
    if cfg!(unix) {
        let made = std::process::Command::new("mkfifo").arg(at("pipe.toml")).status().unwrap();
        assert!(made.success());
        #[cfg(unix)]
        std::os::unix::fs::symlink("/dev/zero", at("endless.toml")).unwrap();
        cases.extend([
            ("pipe.toml", "this is a device or a pipe, not"),
            ("endless.toml", "this is a device or a pipe, not"),
        ]);
    }
    for (args, kind) in READERS {
        for (file, words) in &cases {
            let (out, said) = refused(folder.path(), args, file);
            assert_eq!(out.status.code(), Some(2), "{args:?} {file}");
            assert!(said.contains(&format!("{file}: {words} {kind}")), "{args:?}: {said}");
        }
    }
}

/// The files that did harm once.
#[test]
fn far_and_many_faults_are_shown_in_few_words() {
    let folder = tempfile::tempdir().unwrap();
    let attacks = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/hostile/attacks");
    for (file, args, words) in [
        ("far.toml", &["check", "FILE"][..], "far.toml:5:70005"),
        ("far.toml", &["pack", "FILE"], "a fault found"),
        ("farrec.toml", &["handout", "FILE"], "farrec.toml:4:70007"),
        ("one1000.toml", &["check", "FILE"], "faults found; the first 50 are shown"),
    ] {
        std::fs::copy(attacks.join(file), folder.path().join(file)).unwrap();
        let (_, said) = refused(folder.path(), args, file);
        assert!(said.contains(words), "{file}: {said}");
    }
}

/// A chart of one line with a number of faulty stitches and a place far to the right.
fn one_line(stitches: usize, gap: usize, work: &str, to: &str) -> String {
    let mut chart = "format = \"pairwise-chart/1\"\nstitch = [".to_owned();
    for n in 0..stitches {
        let gap = " ".repeat(if n == 0 { gap } else { 0 });
        write!(chart, "{gap}{{id=\"s{n}\",at=[0,0],work=\"{work}\",left={{to=\"{to}{n}\"}}}},").unwrap();
    }
    chart
        + "]\n[about]\nid = \"nul\"\ntitle = \"t\"\nsource = \"s\"\n[repeat]\nacross = [1,1]\ndown = [-1,1]\n"
}

#[test]
fn whatever_is_wrong_on_one_line_is_answered_in_few_words() {
    let folder = tempfile::tempdir().unwrap();
    let check = |chart: &str| {
        std::fs::write(folder.path().join("chart.toml"), chart).unwrap();
        refused(folder.path(), &["check", "FILE"], "chart.toml").1
    };
    // As much as a chart may hold: 900 KB, nearly all of it faulty.
    let said = check(&one_line(15_000, 70_000, "CX", "t"));
    assert!(said.contains("30001 faults found; the first 50 are shown"), "{said}");
    assert_eq!(said.matches("did you mean").count().max(1), said.matches("did you mean").count());
    assert!(said.contains("and 14988 more"), "{said}");
    let ways = (1..60usize, 0..140_000usize, prop::sample::select(vec!["CX", "", "\u{202e}", "half stitch"]));
    let ways = (ways, prop::sample::select(vec!["t", "s", "é漢", "\\u001b[31m"]));
    let config = Config { cases: 16, failure_persistence: None, ..Config::default() };
    let mut runner = TestRunner::new_with_rng(config, TestRng::from_seed(RngAlgorithm::ChaCha, &[9; 32]));
    let run = |((stitches, gap, work), to): ((usize, usize, &str), &str)| {
        check(&one_line(stitches, gap, work, to));
        Ok(())
    };
    runner.run(&ways, run).unwrap();
}

/// File names of strangers reach the terminal harmless, whatever is said of them.
#[cfg(unix)]
#[test]
fn names_of_files_are_harmless() {
    let folder = tempfile::tempdir().unwrap();
    let name = |n: usize| format!("\u{1b}[31mred\u{7}\n\u{202e}{n}\u{9b}m.toml");
    std::fs::write(folder.path().join(name(0)), "format = 1").unwrap();
    std::fs::create_dir(folder.path().join(name(1))).unwrap();
    for (args, _) in READERS {
        // A gallery is made even if the recipe has faults; that takes long and is
        // tried with the pages.
        let files = if args[0] == "gallery" { 1..3 } else { 0..3 };
        for n in files {
            let (_, said) = refused(folder.path(), args, &name(n));
            assert!(said.contains("[31mred"), "{args:?}: {said}");
        }
    }
    let file = |ending: &str| name(3).replace(".toml", ending);
    for args in [
        &["sheet", "torchon", "--show", "pairs", "--out", &file(".svg")][..],
        &["grid", "torchon", "--size", "48", "--out", &file(".png")],
        &["trace", "torchon", "--pair", "1", "--out", &file(".png")],
        &["unpack", "torchon", "--out", &file(".toml")],
        &["sheet", "torchon", "--out", &file(".nothing")],
        &["gallery", "--out", &name(0)],
        &["gallery", "--out", &name(1), "--recipe", &name(2)],
        &["grounds", "--plugins", &name(1)],
        &["grounds", "--plugins", &name(4)],
        &["man", "--out", &name(5)],
        &["build", &name(6)],
        &["grounds", &name(7)],
        &[&name(8)],
        &["sheet", "torchon", &name(9)],
        &[&format!("--{}", name(9))],
    ] {
        let out = run(folder.path(), args);
        assert!(out.status.code().is_some_and(|code| code < 3), "{args:?}");
        harmless(args[0], &out);
    }
}
