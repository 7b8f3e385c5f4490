//! `pairwise new`: a crate that needs nothing else of ours.

use std::collections::BTreeMap;
use std::ffi::OsString;
use std::fs;
use std::path::{MAIN_SEPARATOR, Path, PathBuf};
use std::process::{Command, Output};

use crate::support::{assert_refused, pairwise, text};
use serde_json::Value as Json;

fn house() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..").canonicalize().unwrap()
}

/// A folder with a new filling, `my-rings`, in it.
fn begun() -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    let out = pairwise(folder.path(), &["new", "my-rings"]);
    assert_eq!(out.status.code(), Some(0), "{}", text(&out.stderr));
    assert!(text(&out.stdout).contains("my-rings/README.md"), "{}", text(&out.stdout));
    folder
}

fn cargo(folder: &Path, args: &[&str]) -> Output {
    let cargo = std::env::var_os("CARGO").unwrap_or_else(|| OsString::from("cargo"));
    Command::new(cargo).args(args).current_dir(folder).output().unwrap()
}

/// The target triple of this machine: crates for other targets need not have been
/// fetched.
fn host() -> String {
    let rustc = std::env::var_os("RUSTC").unwrap_or_else(|| OsString::from("rustc"));
    let version = text(&Command::new(rustc).arg("-vV").output().unwrap().stdout);
    version.lines().find_map(|line| line.strip_prefix("host: ")).unwrap().to_owned()
}

/// Every file below a folder by its relative path, except hidden ones.
fn files(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let mut found = BTreeMap::new();
    let mut folders = vec![folder.to_owned()];
    while let Some(inner) = folders.pop() {
        for entry in fs::read_dir(inner).unwrap() {
            let path = entry.unwrap().path();
            let name = path.file_name().unwrap().to_string_lossy().into_owned();
            if path.is_dir() {
                folders.push(path);
            } else if !name.starts_with('.') && !name.ends_with('~') {
                let inside = path.strip_prefix(folder).unwrap().display().to_string();
                found.insert(inside.replace(MAIN_SEPARATOR, "/"), fs::read(&path).unwrap());
            }
        }
    }
    found
}

#[test]
fn the_kit_has_our_own_sources() {
    let folder = begun();
    let kit = folder.path().join("my-rings/kit");
    for (copy, source) in [("sdk", "sdk"), ("lace", "host/lace")] {
        let (copy, mut source) = (files(&kit.join(copy)), files(&house().join(source)));
        // The crate itself: manifest, README, sources, interface.
        source.retain(|path, _| !path.contains('/') || path.starts_with("src/") || path.starts_with("wit/"));
        assert!(copy.keys().eq(source.keys()), "{:?} is not {:?}", copy.keys(), source.keys());
        for (path, bytes) in &copy {
            assert!(source[path] == *bytes, "{path} is another");
        }
        assert!(copy.contains_key("Cargo.toml") && copy.contains_key("src/lib.rs"));
    }
    assert_eq!(fs::read_dir(&kit).unwrap().count(), 2);
}

/// Cargo finds everything without a network: the kit in the folder itself, and
/// all else in the versions of our own workspace.
#[test]
fn it_resolves_without_our_workspace() {
    let folder = begun();
    let place = folder.path().join("my-rings").canonicalize().unwrap();
    let out =
        cargo(&place, &["metadata", "--offline", "--format-version", "1", "--filter-platform", &host()]);
    assert!(out.status.success(), "{}", text(&out.stderr));
    let metadata: Json = serde_json::from_slice(&out.stdout).unwrap();
    assert_eq!(metadata["workspace_root"], place.display().to_string());
    let packages = metadata["packages"].as_array().unwrap();
    let mut ours: Vec<&str> = Vec::new();
    for package in packages.iter().filter(|package| package["source"].is_null()) {
        let manifest = package["manifest_path"].as_str().unwrap();
        assert!(Path::new(manifest).starts_with(&place), "{manifest} lies elsewhere");
        ours.push(package["name"].as_str().unwrap());
    }
    ours.sort_unstable();
    assert_eq!(ours, ["contribution-my-rings", "pairwise-lace", "pairwise-sdk"]);
    let lock = fs::read_to_string(house().join("Cargo.lock")).unwrap();
    for package in packages.iter().filter(|package| !package["source"].is_null()) {
        let (name, version) = (package["name"].as_str().unwrap(), package["version"].as_str().unwrap());
        let locked = format!("name = \"{name}\"\nversion = \"{version}\"\n");
        assert!(lock.contains(&locked), "{name} {version} is not what the house is built with");
    }
}

#[test]
fn no_file_reveals_where_it_was_made() {
    let folder = begun();
    let house = house().display().to_string();
    for (path, bytes) in files(&folder.path().join("my-rings")) {
        let text = String::from_utf8(bytes).unwrap();
        assert!(!text.contains(&house), "{path} names {house}");
        assert!(!text.contains("my-filling") || path.starts_with("kit/"), "{path}");
        if path.ends_with(".toml") {
            assert!(!text.contains("://"), "{path} names a place in the network");
        }
    }
}

#[test]
fn the_same_name_gives_the_same_files() {
    let (one, other) = (begun(), begun());
    assert!(files(one.path()) == files(other.path()));
}

#[test]
fn an_existing_folder_is_left_alone() {
    let folder = tempfile::tempdir().unwrap();
    fs::create_dir(folder.path().join("my-rings")).unwrap();
    let out = pairwise(folder.path(), &["new", "my-rings"]);
    assert_eq!(out.status.code(), Some(2));
    assert!(text(&out.stderr).contains("my-rings already exists"), "{}", text(&out.stderr));
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
    assert_eq!(fs::read_dir(folder.path().join("my-rings")).unwrap().count(), 0);
}

#[test]
fn wrong_names_are_refused_with_a_suggestion() {
    assert_refused(&["new", "My Filling"], &["`My Filling` is not a plain word", "for example `my-filling`"]);
    assert_refused(&["new", "../rings"], &["`../rings` is not a plain word", "for example `rings`"]);
    assert_refused(&["new", "rose"], &["`rose` is the name of a ground", "`my-rose`"]);
    assert_refused(&["new", "con"], &["`con` is the name of a device", "`my-con`"]);
    assert_refused(&["new", "com1", "--chart"], &["`com1` is the name of a device"]);
    assert_refused(&["new", ""], &["`` is not a plain word"]);
    let long = "a".repeat(41);
    assert_refused(&["new", &long], &["is not a plain word"]);
}

/// All the steps in the README of the new filling. Takes minutes the first time,
/// and needs a compiler for WebAssembly.
#[test]
#[ignore = "builds a crate and the standard library: minutes"]
fn the_readme_can_be_followed() {
    let folder = begun();
    let place = folder.path().join("my-rings");
    let tested = cargo(&place, &["test", "--offline"]);
    assert!(tested.status.success(), "{}{}", text(&tested.stdout), text(&tested.stderr));
    assert!(text(&tested.stdout).contains("every_variety_can_be_worked ... ok"), "{}", text(&tested.stdout));
    for command in [
        &["build", "."][..],
        &["check", "my-rings.wasm"],
        &["sheet", "my-rings", "--plugins", "."],
        &["grid", "my-rings", "torchon", "--varieties", "--plugins", "."],
    ] {
        let out = pairwise(&place, command);
        assert_eq!(out.status.code(), Some(0), "{command:?}: {}", text(&out.stderr));
    }
    assert!(place.join("sheet.pdf").is_file() && place.join("grid.png").is_file());
}
