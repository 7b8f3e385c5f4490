//! Two versions side by side: a program that knows all there are and a
//! version 0.3.0 that exists only for tests.

use wasmtime::Store;
use wasmtime::component::Instance;

use super::{Answer, Carried, Defined, KNOWN, Unanswered, Version, carried, v0_1_0, v0_2_0, wire};
use crate::INTERFACE_NAME;
use crate::engine::Guard;
use crate::error::SandboxError;
use crate::plugin::{Plugin, Sandbox};
use support::{Text, source};

#[path = "../../tests/support/mod.rs"]
#[allow(unreachable_pub, reason = "shared with the tests outside")]
mod support;

/// The table of a program that knows a later one as well.
static ALL: [Version; 3] = [v0_1_0::VERSION, v0_2_0::VERSION, Version { number: "0.3.0", about, define }];

#[allow(clippy::all, unused_qualifications, missing_docs, unreachable_pub, reason = "generated")]
mod bindings {
    wasmtime::component::bindgen!({
        path: "tests/data/wit-0.3.0",
        world: "contribution",
    });
}
use bindings::Contribution;
use bindings::exports::pairwise::ground::ground as other;

fn about(store: &mut Store<Guard>, instance: &Instance) -> Answer<wire::Description> {
    let contribution = Contribution::new(&mut *store, instance).map_err(Unanswered::WrongTypes)?;
    let raw = contribution.pairwise_ground_ground().call_about(store).map_err(Unanswered::Stopped)?;
    Ok(wire::Description {
        id: raw.id,
        title: raw.title,
        kind: kind(raw.kind),
        family: raw.family,
        other_names: names(raw.other_names),
        laces: raw.laces,
        sits_in: raw.sits_in,
        angle: raw.angle,
        pin_spacing: raw.pin_spacing,
        // The newest version has no such field, so it goes into the notes.
        notes: format!("{} For year {} of a class.", raw.notes, raw.level),
        source: raw.source,
        choices: raw.choices.into_iter().map(choice).collect(),
        varieties: raw.varieties.into_iter().map(variety).collect(),
    })
}

fn define(store: &mut Store<Guard>, instance: &Instance, settings: &[wire::Setting]) -> Answer<Defined> {
    let settings: Vec<other::Setting> = settings.iter().map(setting_out).collect();
    let contribution = Contribution::new(&mut *store, instance).map_err(Unanswered::WrongTypes)?;
    let raw =
        contribution.pairwise_ground_ground().call_define(store, &settings).map_err(Unanswered::Stopped)?;
    Ok(raw.map(repeat).map_err(problem))
}

super::convert::conversions!(other);

/// The same contribution, made for a version.
fn made_for(version: &'static str) -> Vec<u8> {
    let mut text = Text { version, ..Text::plain() };
    text.description.id = format!("for-{}", version.replace('.', "-")).into_bytes();
    text.description.notes = "Notes.".into();
    text.description.level = 3;
    text.description.pin_spacing = Some(2.5);
    text.answer.twists = 2;
    text.core()
}

fn usual(plugin: &Plugin) -> lace::Repeat {
    plugin.define(&plugin.about.defaults()).unwrap()
}

#[test]
fn all_versions_are_used_side_by_side() {
    let sandbox = Sandbox::knowing(&ALL).unwrap();
    let loaded = sandbox.load_all(&[
        source("old.wasm", made_for("0.1.0")),
        source("now.wasm", made_for("0.2.0")),
        source("new.wasm", made_for("0.3.0")),
        // A component that was built before and is not rebuilt.
        source("torchon.wasm", support::torchon()),
    ]);
    assert!(loaded.failures.is_empty(), "{:?}", loaded.failures);
    let [old, now, new, torchon] = &loaded.plugins[..] else { panic!("{loaded:?}") };
    assert_eq!((old.about.id.as_str(), old.about.notes.as_str()), ("for-0-1-0", "Notes."));
    assert_eq!(
        (new.about.id.as_str(), new.about.notes.as_str()),
        ("for-0-3-0", "Notes. For year 3 of a class.")
    );
    // The first version says nothing of pin spacing.
    assert_eq!([old, now, new].map(|plugin| plugin.about.pin_spacing_mm), [None, Some(2.5), Some(2.5)]);
    assert_eq!(usual(old), usual(now));
    assert_eq!(usual(old), usual(new));
    assert_eq!(usual(new).legs[0].twists, 2);
    assert_eq!(usual(torchon).stitches[0].stitch.to_string(), "CT pin CT");
}

#[test]
fn a_newer_version_is_refused_and_the_message_says_why() {
    let message = |versions, name: &str, bytes| {
        let error = Sandbox::knowing(versions).unwrap().load(&source(name, bytes)).unwrap_err();
        assert!(matches!(error, SandboxError::NewerVersion { .. }), "{error}");
        error.to_string()
    };
    assert_eq!(
        message(KNOWN, "new.wasm", made_for("0.3.0")),
        "new.wasm: is made for version 0.3.0 of the interface, which is newer than this program; it knows \
         0.1.0, 0.2.0: update the program"
    );
    let later =
        wat::parse_str(r#"(component (instance $i) (export "pairwise:ground/ground@0.4.0" (instance $i)))"#);
    assert_eq!(
        message(&ALL, "later.wasm", later.unwrap()),
        "later.wasm: is made for version 0.4.0 of the interface, which is newer than this program; it knows \
         0.1.0, 0.2.0, 0.3.0: update the program"
    );
}

/// One file may carry several versions; the newest that is known is used.
#[test]
fn of_several_versions_the_newest_known_is_used() {
    let number = |versions: &'static [Version], exports: &[&str]| {
        let exports = exports.iter().map(|version| format!("pairwise:ground/ground@{version}"));
        let exports: Vec<String> = exports.collect();
        match carried(versions, exports.iter().map(String::as_str)) {
            Carried::Known(version) => version.number.to_owned(),
            Carried::Newer(found) => format!("newer {found}"),
            Carried::Other(found) => format!("other {found}"),
            Carried::Nothing => "nothing".to_owned(),
        }
    };
    assert_eq!(number(&ALL, &["0.3.0", "0.1.0"]), "0.3.0");
    assert_eq!(number(KNOWN, &["0.3.0", "0.2.0", "0.1.0"]), "0.2.0");
    assert_eq!(number(&ALL, &["0.10.0"]), "newer 0.10.0");
    assert_eq!(number(&ALL, &["0.1.5"]), "other 0.1.5");
    assert_eq!(number(&ALL, &["0.3.0-draft"]), "other 0.3.0-draft");
    assert_eq!(number(&ALL, &["two"]), "other two");
    assert_eq!(number(&ALL, &[]), "nothing");
}

/// Every version has a folder in the kit, which never changes again, and a row
/// in the kit's table.
#[test]
fn every_version_is_documented() {
    let kit = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../sdk");
    let readme = std::fs::read_to_string(kit.join("README.md")).unwrap();
    let rows: Vec<&str> = readme.lines().filter(|line| line.starts_with("| 0")).collect();
    for Version { number, .. } in KNOWN {
        let text = std::fs::read_to_string(kit.join("wit").join(number).join("ground.wit")).unwrap();
        assert!(text.contains(&format!("\npackage pairwise:ground@{number};\n")), "{number}");
        assert!(rows.iter().any(|row| row.contains(number)), "{number} is not in sdk/README.md");
    }
    let folders = std::fs::read_dir(kit.join("wit")).unwrap().count();
    assert_eq!(folders, KNOWN.len());
}

/// The table is in order and ends with the version whose types the program uses.
#[test]
fn the_table_is_in_order() {
    let numbers: Vec<semver::Version> =
        KNOWN.iter().map(|version| semver::Version::parse(version.number).unwrap()).collect();
    assert!(numbers.is_sorted_by(|a, b| a < b));
    assert_eq!(numbers.last().unwrap().to_string(), crate::VERSION);
    assert_eq!(crate::INTERFACE, format!("{INTERFACE_NAME}@{}", crate::VERSION));
}
