//! The last test program of a run: prints in one line how many tests were skipped
//! and what the machine lacks. Cargo runs test programs in order of package name
//! and their own name, and this one comes last.
//!
//! It has no harness, which would capture the output.

#[path = "machine.rs"]
#[allow(dead_code, reason = "nothing is tested here")]
mod machine;

use std::collections::{BTreeMap, BTreeSet};

/// One line for all notes, from the names of their files.
fn line(notes: &BTreeSet<String>) -> String {
    let mut tests = BTreeSet::new();
    let mut lacks: BTreeMap<&str, usize> = BTreeMap::new();
    for (test, what) in notes.iter().filter_map(|note| note.split_once('.')) {
        tests.insert(test);
        *lacks.entry(what).or_default() += 1;
    }
    if tests.is_empty() {
        return "skipped: no test".to_owned();
    }
    let lacks: Vec<String> = lacks.iter().map(|(what, count)| format!("no {what}: {count}")).collect();
    let noun = if tests.len() == 1 { "test" } else { "tests" };
    format!("skipped: {} {noun}, wholly or in part ({})", tests.len(), lacks.join("; "))
}

#[allow(clippy::print_stdout, reason = "this is what it is for")]
fn main() {
    // There are no tests to list here.
    if std::env::args().any(|argument| argument == "--list") {
        return;
    }
    let notes = |names: &[&str]| names.iter().map(|&name| name.to_owned()).collect();
    let three =
        notes(&["program-a.poppler", "gallery-b.axe-core", "gallery-c.axe-core", "gallery-c.Chromium"]);
    assert_eq!(
        line(&three),
        "skipped: 3 tests, wholly or in part (no Chromium: 1; no axe-core: 2; no poppler: 1)"
    );
    let found = std::fs::read_dir(machine::notes()).into_iter().flatten();
    println!("\n{}", line(&found.map(|note| note.unwrap().file_name().into_string().unwrap()).collect()));
    // The next run starts afresh. There may be nothing to remove.
    let _ = std::fs::remove_dir_all(machine::notes());
}
