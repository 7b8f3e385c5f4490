//! Running the program as a user does.
#![allow(dead_code, reason = "each test uses what it needs")]

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

/// `pairwise` in a folder, with a compile cache that only tests use.
pub fn command(folder: &Path, args: &[&str]) -> Command {
    let mut run = Command::new(env!("CARGO_BIN_EXE_pairwise"));
    run.args(args).env("XDG_CACHE_HOME", env!("CARGO_TARGET_TMPDIR")).current_dir(folder);
    run
}

/// Runs `pairwise` in a folder.
pub fn pairwise(folder: &Path, args: &[&str]) -> Output {
    command(folder, args).output().unwrap()
}

/// Every file below a folder, by its relative path.
pub fn files_in(folder: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    let mut folders = vec![folder.to_owned()];
    while let Some(here) = folders.pop() {
        for entry in std::fs::read_dir(&here).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
            } else {
                found.push(path.strip_prefix(folder).unwrap().to_owned());
            }
        }
    }
    found
}

/// The pages of a gallery, by their relative paths.
pub fn pages_in(folder: &Path) -> BTreeMap<PathBuf, String> {
    let mut pages = files_in(folder);
    pages.retain(|name| name.extension().is_some_and(|ending| ending == "html"));
    let read = |name: PathBuf| {
        let page = std::fs::read_to_string(folder.join(&name)).unwrap();
        (name, page)
    };
    pages.into_iter().map(read).collect()
}

/// A program's output as text.
pub fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).unwrap()
}

/// Runs a mistaken command in a folder of its own: it must end with status 2,
/// print all of `words`, and leave no file behind.
pub fn assert_refused(args: &[&str], words: &[&str]) {
    let folder = tempfile::tempdir().unwrap();
    let out = pairwise(folder.path(), args);
    let said = text(&out.stderr);
    assert_eq!(out.status.code(), Some(2), "{args:?}: {said}");
    // Long messages are wrapped: compare without line breaks.
    let flat: String = said.split(|c: char| c.is_whitespace() || c == '│').collect();
    for word in words {
        let word: String = word.split_whitespace().collect();
        assert!(flat.contains(&word), "{args:?} should say {word}: {said}");
    }
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 0, "{args:?} left something behind");
}
