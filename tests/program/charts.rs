//! Charts as a user works with them: started, checked, packed, unpacked.

use std::path::Path;
use std::process::{Output, Stdio};
use std::time::{Duration, Instant};

use crate::support::{command, pairwise, text};

fn run(folder: &Path, args: &[&str]) -> (i32, String) {
    let out: Output = pairwise(folder, args);
    (out.status.code().unwrap(), text(&out.stdout) + &text(&out.stderr))
}

/// The message without line breaks.
fn flat(terminal: &str) -> String {
    terminal.chars().filter(|c| !c.is_whitespace() && *c != '│').collect()
}

#[track_caller]
fn assert_says(terminal: &str, words: &str) {
    assert!(flat(terminal).contains(&flat(words)), "it should say {words}: {terminal}");
}

fn write(folder: &Path, name: &str, text: &str) {
    std::fs::write(folder.join(name), text).unwrap();
}

fn names(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> =
        std::fs::read_dir(folder).unwrap().map(|e| e.unwrap().file_name().into_string().unwrap()).collect();
    names.sort();
    names
}

#[test]
fn a_new_chart_is_checked_packed_and_shown_with_the_others() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    let (status, terminal) = run(at, &["new", "harbour-light", "--chart"]);
    assert_eq!(status, 0, "{terminal}");
    let (status, terminal) = run(at, &["check", "harbour-light.toml"]);
    assert_eq!(status, 0, "{terminal}");
    assert_says(&terminal, "harbour-light/firm: nothing to find fault with");
    assert_says(&terminal, "2 sets of choices tried twice (all there are), every one gives a ground");
    assert_eq!(names(at), ["harbour-light.toml"], "nothing is written that was not asked for");
    let (status, terminal) = run(at, &["check", "harbour-light.toml", "--picture", "drawn.png"]);
    assert_eq!(status, 0, "{terminal}");
    assert_eq!(&std::fs::read(at.join("drawn.png")).unwrap()[1..4], b"PNG");
    let (status, terminal) = run(at, &["pack", "harbour-light.toml"]);
    assert_eq!(status, 0, "{terminal}");
    let (status, terminal) = run(at, &["--plugins", ".", "trace", "harbour-light/light", "--json"]);
    assert_eq!(status, 0, "{terminal}");
    let (status, terminal) = run(at, &["--plugins", ".", "grounds", "--search", "harbour"]);
    assert_eq!(status, 0, "{terminal}");
    assert_says(&terminal, "harbour-light/light");
    // An existing chart is never overwritten.
    let (status, terminal) = run(at, &["new", "harbour-light", "--chart"]);
    assert_eq!(status, 2);
    assert_says(&terminal, "harbour-light.toml already exists");
}

#[test]
fn any_ground_is_unpacked_changed_and_packed_again() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    let facts = |args: &[&str]| -> serde_json::Value {
        let out = pairwise(at, args);
        assert_eq!(out.status.code(), Some(0), "{}", text(&out.stderr));
        serde_json::from_slice(&out.stdout).unwrap()
    };
    for (ground, with) in
        [("rose/double-sides", None), ("spider/two", Some("twists=3")), ("plait/leaves", None)]
    {
        let mut unpack = vec!["unpack", ground, "--out", "mine.toml", "--id", "mine"];
        let mut whole = vec!["facts", ground, "--json"];
        for args in [&mut unpack, &mut whole] {
            args.extend(with.iter().flat_map(|with| ["--with", *with]));
        }
        let (status, terminal) = run(at, &unpack);
        assert_eq!(status, 0, "{terminal}");
        let (status, terminal) = run(at, &["pack", "mine.toml", "--out", "mine.wasm"]);
        assert_eq!(status, 0, "{terminal}");
        let (mine, theirs) = (facts(&["--plugins", ".", "facts", "mine", "--json"]), facts(&whole));
        for key in ["repeat", "orbits", "pairs_across", "faces", "measures", "hangs_together", "workable"] {
            // Legs may be listed in another order.
            let sorted = |facts: &serde_json::Value| {
                let mut value = facts[key].clone();
                if let Some(legs) = value.get_mut("legs").and_then(|legs| legs.as_array_mut()) {
                    legs.sort_by_key(ToString::to_string);
                }
                if let Some(orbits) = value.as_array_mut() {
                    orbits.sort_by_key(ToString::to_string);
                }
                value
            };
            assert_eq!(sorted(&mine), sorted(&theirs), "{ground}: {key}");
        }
        // A contribution in a file can be unpacked too.
        let (status, again) = run(at, &["unpack", "mine.wasm", "--id", "mine"]);
        assert_eq!(status, 0, "{again}");
        let first = std::fs::read_to_string(at.join("mine.toml")).unwrap();
        let body = |text: &str| text[text.find("[repeat]").unwrap()..].to_owned();
        assert_eq!(body(&again), body(&first), "{ground}");
    }
}

const CHART: &str = r#"format = "pairwise-chart/1"
[about]
id = "small"
title = "Small"
source = "made up for a test"
[repeat]
across = [1, 1]
down = [-1, 1]
[[stitch]]
id = "pin"
at = [0, 0]
work = "half stitch, pin, half stitch"
"#;

#[test]
fn faults_are_shown_with_their_line_and_a_remedy_and_nothing_is_written() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    for (from, to, words) in [
        (
            "half stitch, pin",
            "half stitsch, pin",
            &["bad.toml:12:8", "`half stitsch` is no stitch", "cloth stitch"][..],
        ),
        (
            "id = \"small\"",
            "id = \"../small\"",
            &["bad.toml:3:6", "cannot be the id of the ground", "a to z"],
        ),
        ("at = [0, 0]", "at = [0, 0", &["bad.toml:11:6", "the bracket [ that begins here is not closed"]),
        (
            "title = \"Small\"",
            "titel = \"Small\"",
            &["bad.toml:4:1", "`titel` means nothing here", "did you mean `title`"],
        ),
        (
            "format = \"pairwise-chart/1\"",
            "format = \"pairwise-chart/2\"",
            &["bad.toml:1:10", "update the program"],
        ),
        // The text shown contains an ESC.
        ("id = \"pin\"", "id = \"p\u{1b}[31min\"", &["bad.toml"]),
    ] {
        assert!(CHART.contains(from));
        write(at, "bad.toml", &CHART.replacen(from, to, 1));
        for command in ["check", "pack"] {
            let (status, terminal) = run(at, &[command, "bad.toml"]);
            assert_eq!(status, if command == "check" { 1 } else { 2 }, "{terminal}");
            for word in words {
                assert_says(&terminal, word);
            }
            assert!(!terminal.contains('\u{1b}'), "{terminal:?}");
        }
        assert_eq!(names(at), ["bad.toml"]);
    }
    // A chart that can be read but not worked is drawn, with the place in the text.
    let crossed = CHART.to_owned()
        + "left = { to = \"pin\", at = [1, 1], enters = \"left\" }\nright = { to = \"pin\", at = [-1, 1], enters = \"right\" }\n";
    write(at, "crossed.toml", &crossed);
    let (status, terminal) = run(at, &["check", "crossed.toml", "--picture", "crossed.png"]);
    assert_eq!(status, 1, "{terminal}");
    assert_says(&terminal, "crossed.toml:10:6");
    assert_says(&terminal, "Why it matters");
    assert_eq!(names(at), ["bad.toml", "crossed.png", "crossed.toml"]);
    // It is packed all the same: `check` says whether it can be worked.
    for (args, words) in [
        (&["check", "missing.toml"][..], &["missing.toml"][..]),
        (&["pack", "missing.toml"], &["cannot read missing.toml"]),
        (&["check", "bad.toml", "--picture", "x.jpg"], &["x.jpg", ".svg"]),
        (&["check", "bad.toml", "crossed.toml", "--picture", "x.png"], &["--picture is for one file"]),
        (&["check", "--watch"], &["--watch is for one chart"]),
        (&["check", "--watch", "rose"], &["rose is not a chart"]),
        (&["unpack", "roze"], &["roze", "`rose`"]),
        (&["unpack", "rose/never"], &["never"]),
        (&["unpack", "rose", "--out", "no/folder/x.toml"], &["no/folder/x.toml"]),
    ] {
        let (status, terminal) = run(at, args);
        assert_eq!(status, 2, "{args:?}: {terminal}");
        for word in words {
            assert_says(&terminal, word);
        }
    }
    assert_eq!(names(at).len(), 3);
}

/// What was found is printed even where nothing can be written.
#[test]
fn what_was_found_comes_before_a_picture_that_cannot_be_written() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    write(
        at,
        "flat.toml",
        &CHART.replace("half stitch, pin, half stitch", "cross the left pair over the right"),
    );
    let (status, terminal) = run(at, &["check", "flat.toml", "--picture", "no/such/folder.png"]);
    assert_eq!(status, 2, "{terminal}");
    assert_says(&terminal, "lifts-off");
    assert_says(&terminal, "cannot write no/such/folder.png: there is no such file or folder");
}

/// A contribution takes the place of no file of another kind, such as its own chart.
#[test]
fn a_chart_is_not_replaced_by_what_it_is_packed_into() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    write(at, "mine.toml", CHART);
    for (args, words) in [
        (["pack", "mine.toml", "--out", "mine.toml"], "let it end in .wasm"),
        (["pack", "mine.toml", "--out", "no/such/folder/mine.wasm"], "no/such/folder/mine.wasm"),
        (["unpack", "rose", "--out", "mine.wasm"], "let it end in .toml"),
    ] {
        let (status, terminal) = run(at, &args);
        assert_eq!(status, 2, "{args:?}: {terminal}");
        assert_says(&terminal, words);
        assert_eq!(names(at), ["mine.toml"]);
        assert_eq!(std::fs::read_to_string(at.join("mine.toml")).unwrap(), CHART);
    }
    let (status, terminal) = run(at, &["pack", "mine.toml", "--out", "MINE.WASM"]);
    assert_eq!(status, 0, "{terminal}");
}

#[test]
fn a_filling_sits_in_a_ground_that_exists() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    write(at, "in.toml", &CHART.replace("title = ", "sits-in = \"torchn\"\ntitle = "));
    let (status, terminal) = run(at, &["check", "in.toml"]);
    assert_eq!(status, 1, "{terminal}");
    for words in ["in.toml:4:11", "`sits-in` names `torchn`", "did you mean `torchon`?", "--plugins"] {
        assert_says(&terminal, words);
    }
    write(at, "in.toml", &CHART.replace("title = ", "sits-in = \"torchon\"\ntitle = "));
    assert_eq!(run(at, &["check", "in.toml"]).0, 0);
    // A contribution is checked in the same way, and so is one in another of ours.
    let (status, terminal) = run(at, &["pack", "in.toml"]);
    assert_eq!(status, 0, "{terminal}");
    write(at, "inner.toml", &CHART.replace("\"small\"", "\"inner\"\nsits-in = \"small\""));
    assert_eq!(run(at, &["check", "inner.toml"]).0, 1);
    assert_eq!(run(at, &["check", "inner.toml", "--plugins", "."]).0, 0);
}

/// A chart or contribution is a ground wherever one is named, whatever it is called.
#[test]
fn a_file_is_a_ground() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    write(at, "small.toml", CHART);
    let (status, terminal) = run(at, &["pack", "small.toml"]);
    assert_eq!(status, 0, "{terminal}");
    for file in ["small.toml", "small.wasm", "small.toml/plain"] {
        for args in [
            &["facts", file][..],
            &["trace", file],
            &["unpack", file],
            &["grounds", file],
            &["sheet", file, "--show", "pricking", "--out", "a.svg"],
            &["grid", file, "torchon", "--max", "1", "--size", "48", "--out", "a.png"],
        ] {
            let (status, terminal) = run(at, args);
            assert_eq!(status, 0, "{args:?}: {terminal}");
            let said =
                terminal.contains("Small") || terminal.contains("2 grounds in") || terminal.contains("small");
            assert!(said, "{args:?}: {terminal}");
        }
    }
    let (status, terminal) = run(at, &["facts", "small.toml/never"]);
    assert_eq!(status, 2);
    assert_says(&terminal, "small has no variety `never`");
    let (status, terminal) = run(at, &["facts", "missing.toml"]);
    assert_eq!(status, 2);
    assert_says(&terminal, "cannot read missing.toml: there is no such file or folder");
}

#[cfg(unix)]
#[test]
fn a_file_may_have_any_name() {
    use std::ffi::OsStr;
    use std::os::unix::ffi::OsStrExt;
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    let name = OsStr::from_bytes(b"caf\xe9.toml");
    std::fs::write(at.join(name), CHART).unwrap();
    for (before, after) in
        [(&["check"][..], &[][..]), (&["facts"], &[]), (&["unpack"], &[]), (&["pack"], &["--out", "a.wasm"])]
    {
        let out = command(at, before).arg(name).args(after).output().unwrap();
        assert_eq!(out.status.code(), Some(0), "{before:?}: {}", text(&out.stderr));
    }
}

#[test]
fn a_chart_is_checked_again_when_it_is_saved() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    write(at, "small.toml", CHART);
    let terminal = at.join("terminal");
    let mut watch = command(at, &["check", "small.toml", "--watch"])
        .stdout(std::fs::File::create(&terminal).unwrap())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let wait_for = |words: &str| {
        // Only to end a hanging test: no machine is this slow.
        let until = Instant::now() + Duration::from_secs(600);
        while !std::fs::read_to_string(&terminal).unwrap().contains(words) {
            assert!(
                Instant::now() < until,
                "never said {words}: {}",
                std::fs::read_to_string(&terminal).unwrap()
            );
            std::thread::sleep(Duration::from_millis(50));
        }
    };
    wait_for("small/plain: nothing to find fault with");
    write(at, "small.toml", &CHART.replace("half stitch, pin", "half stitsch, pin"));
    wait_for("is no stitch");
    assert!(watch.try_wait().unwrap().is_none(), "it goes on");
    assert_eq!(&std::fs::read(at.join("small-check.png")).unwrap()[1..4], b"PNG");
    watch.kill().unwrap();
    watch.wait().unwrap();
}
