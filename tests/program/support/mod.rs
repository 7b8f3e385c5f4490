//! Running the program as a user does.
#![allow(dead_code, reason = "each test uses what it needs")]

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use crate::machine;
use crate::rendered::Rendered;

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

/// The output of a poppler program; `None` if poppler is not installed.
#[track_caller]
pub fn poppler(program: &str, folder: &Path, args: &[&str]) -> Option<Vec<u8>> {
    let out = Command::new(program).args(args).current_dir(folder).output();
    machine::has("poppler", out.is_ok()).then_some(())?;
    let out = out.expect("it was asked");
    assert!(out.status.success(), "{program} {args:?}: {}", text(&out.stderr));
    Some(out.stdout)
}

/// The corner of the control scale, in pixels: the start of the only dark line of
/// its length on the page.
pub fn corner(page: &Rendered) -> (usize, usize) {
    let mut found = Vec::new();
    for (y, row) in page.darkness.chunks(page.width).enumerate() {
        let mut begun = None;
        for (x, &d) in row.iter().chain([&0.0]).enumerate() {
            match (d > 0.5, begun) {
                (true, None) => begun = Some(x),
                (false, Some(from)) => {
                    if (588..=595).contains(&(x - from)) {
                        found.push((from, y));
                    }
                    begun = None;
                }
                _ => {}
            }
        }
    }
    // The line is two or three pixels thick.
    assert!((1..=4).contains(&found.len()), "{found:?}");
    found[0]
}
