//! Files that would take all memory or time: with little of both, every command
//! ends with a sentence and writes nothing half.

#![cfg(unix)]

use std::path::Path;

use super::limited;
use crate::support::files_in;

/// A text without the breaks of its lines and the bar beside them.
fn in_one_line(said: &str) -> String {
    said.replace('│', " ").split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A file from `tests/hostile/attacks` in a folder of contributions.
fn folder_with(file: &str) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    let attacks = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/hostile/attacks");
    std::fs::create_dir(folder.path().join("mine")).unwrap();
    let copy = folder.path().join("mine").join(file);
    std::fs::copy(attacks.join(file), &copy).unwrap();
    // As it is, `check` finds two of its stitches in one place before it looks at pairs.
    if file == "farb.toml" {
        let text = std::fs::read_to_string(&copy).unwrap();
        std::fs::write(&copy, text.replace("9998, ", "9997, ").replace("10000, ", "9999, ")).unwrap();
    }
    folder
}

/// Every command on a ground. Each must end by itself with status 0, 1 or 2, say
/// something, and write a picture exactly if it succeeds.
fn commands(folder: &Path, ground: &str) -> Vec<(i32, String)> {
    let commands: [(&[&str], &str); 6] = [
        (&["facts", ground], ""),
        (&["grid", ground, "--arrangement", "A", "--arrangement", "A A B B", "--out", "a.png"], "a.png"),
        (&["grid", ground, "--arrangement-length", "23", "--out", "b.png"], "b.png"),
        (&["sheet", ground, "--out", "c.pdf"], "c.pdf"),
        (&["trace", ground], ""),
        (&["explain", "too-large"], ""),
    ];
    let ended = |(args, file): (&[&str], &str)| {
        let args = [args, &["--plugins", "mine"]].concat();
        let run = limited::run(folder, &args);
        run.check(ground);
        let (status, said) = (run.status, run.printed());
        assert!(!said.trim().is_empty(), "{args:?} says nothing");
        assert_eq!(
            !file.is_empty() && folder.join(file).exists(),
            !file.is_empty() && status == 0,
            "{args:?}"
        );
        (status, in_one_line(&said))
    };
    commands.map(ended).into()
}

#[test]
fn what_cannot_be_drawn_is_refused_by_check_and_by_all_that_draw() {
    for (file, ground, words) in [
        ("dense.wasm", "dense/plain", "over one square grid step; at most 256 crossings are allowed"),
        ("slow-layout.wasm", "slow/plain", "over one square grid step; at most 256 crossings are allowed"),
        ("farb.toml", "far/plain", "pass over one square grid step; at most 500 are allowed"),
    ] {
        let folder = folder_with(file);
        let run = limited::run(folder.path(), &["check", &format!("mine/{file}")]);
        let said = in_one_line(&run.printed());
        assert_eq!(run.status, 1, "{file}: {said}");
        assert!(said.contains(words) && said.contains("too-large"), "{file}: {said}");
        if file.ends_with(".toml") {
            let run =
                limited::run(folder.path(), &["pack", &format!("mine/{file}"), "--out", "mine/far.wasm"]);
            assert_eq!(run.status, 0, "{}", run.error());
            std::fs::remove_file(folder.path().join("mine").join(file)).unwrap();
        }
        let ends = commands(folder.path(), ground);
        for (status, said) in &ends[..5] {
            // A narrow terminal breaks the code after its hyphen.
            assert!(*status == 2 && said.contains("is not a ground that can be worked"), "{file}: {said}");
        }
        assert_eq!(files_in(folder.path()).len(), 1, "{file}: {:?}", files_in(folder.path()));
    }
}

#[test]
fn a_repeat_of_two_thousand_stitches_is_drawn_with_little_memory() {
    let folder = folder_with("wide.wasm");
    let run = limited::run(folder.path(), &["check", "mine/wide.wasm"]);
    assert_eq!(run.status, 0, "{}", run.error());
    let ends = commands(folder.path(), "wide");
    let statuses: Vec<i32> = ends.iter().map(|end| end.0).collect();
    // There are more pairs than can be traced.
    assert_eq!(statuses, [0, 0, 0, 0, 2, 0], "{ends:#?}");
    assert!(ends[2].1.contains("some of them may look the same"), "{}", ends[2].1);
    assert!(ends[4].1.contains("7996 pairs are too many to follow"), "{}", ends[4].1);
}
