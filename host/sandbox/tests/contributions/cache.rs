//! Cache entries that are damaged, foreign, stale or writable by others: none is
//! run, each is rebuilt. (Unit tests in `compiled` cover the rules one by one.)

use std::fs;
use std::path::{Path, PathBuf};

use crate::support::{Text, source, torchon};
use sandbox::Sandbox;
use sha2::{Digest, Sha256};
use wasmtime::component::Component;
use wasmtime::{Config, Engine};

const MAGIC: &[u8] = b"pairwise-compiled/2\n";
const SUM: usize = 32;

/// Loads a contribution with a cache: its id and what it defines.
fn ask(cache: &Path, bytes: Vec<u8>) -> (String, String) {
    let sandbox = Sandbox::new(Some(cache)).unwrap();
    assert_eq!(sandbox.cache_refused(), None);
    let plugin = sandbox.load(&source("asked.wasm", bytes)).unwrap();
    let repeat = plugin.define(&plugin.about.defaults()).unwrap();
    (plugin.about.id.clone(), format!("{repeat:?}"))
}

/// The entries of a cache.
fn entries(cache: &Path) -> Vec<PathBuf> {
    let mut entries: Vec<PathBuf> = fs::read_dir(cache).unwrap().map(|e| e.unwrap().path()).collect();
    entries.sort();
    entries
}

/// An entry with this code and a right checksum, under this name.
fn forged(name: &Path, code: &[u8]) -> Vec<u8> {
    let hex = name.file_stem().unwrap().to_str().unwrap();
    let key: Vec<u8> =
        (0..hex.len()).step_by(2).map(|n| u8::from_str_radix(&hex[n..n + 2], 16).unwrap()).collect();
    let mut sum = Sha256::new();
    sum.update(MAGIC);
    sum.update(&key);
    sum.update(code);
    [MAGIC, &sum.finalize(), code].concat()
}

/// Compiled by rules other than ours.
fn compiled_otherwise(change: impl FnOnce(&mut Config)) -> Vec<u8> {
    let mut config = Config::new();
    change(&mut config);
    let engine = Engine::new(&config).unwrap();
    let bytes = wat::parse_str("(component)").unwrap();
    Component::from_binary(&engine, &bytes).unwrap().serialize().unwrap()
}

/// By our rules, except for how numbers behave.
fn with_fuel(config: &mut Config) {
    config.consume_fuel(true).epoch_interruption(true);
}

#[test]
fn a_bad_entry_is_never_run_and_is_rebuilt() {
    let folder = tempfile::tempdir().unwrap();
    let cache = folder.path().join("cache");
    let expected = ask(&cache, torchon());
    let [entry] = &entries(&cache)[..] else { panic!("one entry") };
    let good = fs::read(entry).unwrap();
    assert_eq!(
        forged(entry, &good[MAGIC.len() + SUM..]),
        good,
        "this test forges entries in the real format"
    );

    // Another contribution, whose code would answer differently.
    let other = folder.path().join("other");
    let evil = ask(&other, Text::describing(|about| about.id = b"evil".to_vec()).core());
    assert_ne!(evil, expected);
    let foreign = fs::read(&entries(&other)[0]).unwrap();
    let flipped = |at: usize| {
        let mut bytes = good.clone();
        bytes[at] ^= 0x10;
        bytes
    };
    let older = [b"pairwise-compiled/1\n", &good[MAGIC.len()..]].concat();
    let bad: Vec<(&str, Vec<u8>)> = vec![
        ("empty", Vec::new()),
        ("cut in its head", good[..MAGIC.len() + 3].to_vec()),
        ("cut in its code", good[..good.len() - 1].to_vec()),
        ("longer", [&good[..], b"x"].concat()),
        ("a flipped bit in its sum", flipped(MAGIC.len() + 1)),
        ("a flipped bit in its code", flipped(good.len() / 2)),
        ("code without a head", good[MAGIC.len() + SUM..].to_vec()),
        ("an older kind of entry", older),
        ("no entry at all", b"#!/bin/sh\necho owned\n".to_vec()),
        ("of another contribution", foreign.clone()),
        ("rightly summed nonsense", forged(entry, b"\x7fELF and nonsense")),
        ("rightly summed and cut", forged(entry, &good[MAGIC.len() + SUM..good.len() - 100])),
        ("rightly summed, without fuel", forged(entry, &compiled_otherwise(|_| {}))),
        ("rightly summed, with other rules for numbers", forged(entry, &compiled_otherwise(with_fuel))),
    ];
    for (what, bytes) in bad {
        fs::write(entry, bytes).unwrap();
        assert_eq!(ask(&cache, torchon()), expected, "{what}");
        assert!(fs::read(entry).unwrap() == good, "{what}: it was not rebuilt");
    }
    assert_eq!(entries(&cache).len(), 1);

    // Entries whose only fault is their permissions: the code would run and
    // answer differently.
    #[cfg(unix)]
    {
        use std::os::unix::fs::{MetadataExt, PermissionsExt, chown, symlink};
        let evil = forged(entry, &foreign[MAGIC.len() + SUM..]);
        fs::write(entry, &evil).unwrap();
        assert_eq!(ask(&cache, torchon()).0, "evil", "with private permissions it would be loaded");
        let open: &[(&str, &dyn Fn())] = &[
            ("anyone may write", &|| fs::set_permissions(entry, fs::Permissions::from_mode(0o602)).unwrap()),
            ("the group may write", &|| {
                fs::set_permissions(entry, fs::Permissions::from_mode(0o660)).unwrap();
            }),
            ("another's", &|| {
                // Only root can give files away; otherwise this repeats the case before.
                if chown(entry, Some(12_345), None).is_err() {
                    fs::set_permissions(entry, fs::Permissions::from_mode(0o660)).unwrap();
                }
            }),
            ("a link", &|| {
                let elsewhere = folder.path().join("elsewhere");
                let _ = fs::remove_file(&elsewhere);
                fs::rename(entry, &elsewhere).unwrap();
                symlink(&elsewhere, entry).unwrap();
            }),
        ];
        for (what, open) in open {
            fs::remove_file(entry).unwrap();
            fs::write(entry, &evil).unwrap();
            open();
            assert_eq!(ask(&cache, torchon()), expected, "{what}");
            let found = fs::symlink_metadata(entry).unwrap();
            assert!(found.is_file() && found.mode() & 0o077 == 0, "{what}: it was not rebuilt");
            assert!(fs::read(entry).unwrap() == good, "{what}: it was not rebuilt");
        }
        // What cannot be replaced is skipped without blocking.
        fs::remove_file(entry).unwrap();
        fs::create_dir_all(entry.join("folder")).unwrap();
        assert_eq!(ask(&cache, torchon()), expected);
        fs::remove_dir_all(entry).unwrap();
        assert!(std::process::Command::new("mkfifo").arg(entry).status().unwrap().success());
        assert_eq!(ask(&cache, torchon()), expected);
    }
}

/// A folder that others may write to is not used at all, whatever it holds.
#[cfg(unix)]
#[test]
fn a_cache_open_to_others_is_not_used() {
    use std::os::unix::fs::{PermissionsExt, symlink};
    let folder = tempfile::tempdir().unwrap();
    let cache = folder.path().join("cache");
    ask(&cache, torchon());
    let entry = entries(&cache).remove(0);
    let other = folder.path().join("other");
    ask(&other, Text::describing(|about| about.id = b"evil".to_vec()).core());
    let foreign = fs::read(&entries(&other)[0]).unwrap();
    let evil = forged(&entry, &foreign[MAGIC.len() + SUM..]);
    fs::write(&entry, &evil).unwrap();
    let refused = |cache: &Path| {
        let sandbox = Sandbox::new(Some(cache)).unwrap();
        assert!(sandbox.cache_refused().is_some(), "{cache:?}");
        assert_eq!(sandbox.load(&source("asked.wasm", torchon())).unwrap().about.id, "torchon");
    };
    for mode in [0o777, 0o707, 0o720] {
        fs::set_permissions(&cache, fs::Permissions::from_mode(mode)).unwrap();
        refused(&cache);
    }
    fs::set_permissions(&cache, fs::Permissions::from_mode(0o700)).unwrap();
    let link = folder.path().join("link");
    symlink(&cache, &link).unwrap();
    refused(&link);
    assert!(fs::read(&entry).unwrap() == evil, "nothing is written there");
}

/// Compiled code beside a contribution is ignored.
#[test]
fn nothing_compiled_is_loaded_from_a_folder_of_contributions() {
    let folder = tempfile::tempdir().unwrap();
    let cache = folder.path().join("cache");
    ask(&cache, torchon());
    let entry = entries(&cache).remove(0);
    let mine = folder.path().join("mine");
    fs::create_dir(&mine).unwrap();
    fs::write(mine.join("torchon.wasm"), torchon()).unwrap();
    let code = fs::read(&entry).unwrap();
    fs::copy(&entry, mine.join(entry.file_name().unwrap())).unwrap();
    fs::write(mine.join("compiled.wasm"), &code).unwrap();
    fs::write(mine.join("bare.wasm"), &code[MAGIC.len() + SUM..]).unwrap();
    let sandbox = Sandbox::new(None).unwrap();
    let loaded = sandbox.load_all(&sandbox::Source::folder(&mine).unwrap());
    let ids: Vec<&str> = loaded.plugins.iter().map(|p| p.about.id.as_str()).collect();
    assert_eq!(ids, ["torchon"]);
    assert_eq!(loaded.failures.len(), 2, "{:?}", loaded.failures);
}
