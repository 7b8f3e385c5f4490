//! Keeping the paths of this machine out of built components.

use std::ffi::OsString;
use std::path::{Path, PathBuf};

/// Compiler flags, the user's included, that keep the paths of this machine out
/// of the component. Components are handed to others and should not reveal
/// where they were built.
pub(super) fn without_paths(workspace: &Path) -> OsString {
    let mut flags = std::env::var_os("CARGO_ENCODED_RUSTFLAGS").unwrap_or_else(|| {
        let words = std::env::var("RUSTFLAGS").unwrap_or_default();
        words.split_whitespace().collect::<Vec<_>>().join("\u{1f}").into()
    });
    let home = std::env::var_os("HOME").or_else(|| std::env::var_os("USERPROFILE")).map(PathBuf::from);
    let cargo =
        std::env::var_os("CARGO_HOME").map(PathBuf::from).or_else(|| home.as_ref().map(|h| h.join(".cargo")));
    // The workspace, not the crate: with different flags for each crate the
    // standard library would be recompiled each time.
    let here = Some(workspace.to_owned());
    // Sources of other crates are in a folder named after their registry.
    let sources = cargo.as_ref().and_then(|cargo| cargo.join("registry/src").read_dir().ok());
    let mut sources: Vec<PathBuf> =
        sources.into_iter().flatten().flatten().map(|entry| entry.path()).collect();
    sources.sort();
    // If several prefixes match, the compiler takes the last.
    let named = [
        (home, "home"),
        (here, "contribution"),
        (cargo, "cargo"),
        (Some(PathBuf::from("/usr/lib/rustlib/src/rust")), "rust"),
    ];
    let named = named.into_iter().filter_map(|(folder, name)| Some((folder?, name)));
    for (folder, name) in named.chain(sources.into_iter().map(|folder| (folder, "crates"))) {
        if !flags.is_empty() {
            flags.push("\u{1f}");
        }
        flags.push("--remap-path-prefix=");
        flags.push(folder);
        flags.push("=");
        flags.push(name);
    }
    flags
}
