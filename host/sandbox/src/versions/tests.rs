//! Two versions side by side: a program that knows 0.1.0 and a version 0.2.0
//! that exists only for tests.

use wasmtime::Store;
use wasmtime::component::Instance;

use super::{Answer, Carried, Defined, Unanswered, Version, carried, v0_1_0, wire};
use crate::INTERFACE_NAME;
use crate::engine::Guard;
use crate::error::SandboxError;
use crate::plugin::{Plugin, Sandbox};
use support::{Text, source};

#[path = "../../tests/support/mod.rs"]
#[allow(unreachable_pub, reason = "shared with the tests outside")]
mod support;

/// The table of a program that knows both.
static BOTH: [Version; 2] = [v0_1_0::VERSION, Version { number: "0.2.0", about, define }];
static FIRST: [Version; 1] = [v0_1_0::VERSION];

#[allow(clippy::all, unused_qualifications, missing_docs, unreachable_pub, reason = "generated")]
mod bindings {
    wasmtime::component::bindgen!({
        path: "tests/data/wit-0.2.0",
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
        kind: match raw.kind {
            other::Kind::Ground => wire::Kind::Ground,
            other::Kind::Filling => wire::Kind::Filling,
        },
        family: raw.family,
        other_names: names(raw.other_names),
        laces: raw.laces,
        sits_in: raw.sits_in,
        angle: raw.angle,
        // The newest version has no such field, so it goes into the notes.
        notes: format!("{} For year {} of a class.", raw.notes, raw.level),
        source: raw.source,
        choices: raw.choices.into_iter().map(choice).collect(),
        varieties: raw.varieties.into_iter().map(variety).collect(),
    })
}

fn define(store: &mut Store<Guard>, instance: &Instance, settings: &[wire::Setting]) -> Answer<Defined> {
    let settings: Vec<other::Setting> = settings
        .iter()
        .map(|set| other::Setting {
            choice: set.choice.clone(),
            value: match &set.value {
                wire::Value::Named(id) => other::Value::Named(id.clone()),
                wire::Value::Count(count) => other::Value::Count(*count),
            },
        })
        .collect();
    let contribution = Contribution::new(&mut *store, instance).map_err(Unanswered::WrongTypes)?;
    let raw =
        contribution.pairwise_ground_ground().call_define(store, &settings).map_err(Unanswered::Stopped)?;
    Ok(raw.map(repeat).map_err(|raw| wire::Problem { choice: raw.choice, sentence: raw.sentence }))
}

fn names(raw: Vec<other::OtherName>) -> Vec<wire::OtherName> {
    let name = |n: other::OtherName| wire::OtherName { language: n.language, name: n.name, source: n.source };
    raw.into_iter().map(name).collect()
}

fn value(raw: other::Value) -> wire::Value {
    match raw {
        other::Value::Named(id) => wire::Value::Named(id),
        other::Value::Count(count) => wire::Value::Count(count),
    }
}

fn choice(raw: other::Choice) -> wire::Choice {
    let option = |o: other::OptionOf| wire::OptionOf { id: o.id, title: o.title };
    wire::Choice {
        id: raw.id,
        title: raw.title,
        range: match raw.range {
            other::Range::Named(options) => wire::Range::Named(options.into_iter().map(option).collect()),
            other::Range::Count(range) => wire::Range::Count(range),
        },
        default: value(raw.default),
    }
}

fn variety(raw: other::Variety) -> wire::Variety {
    let setting = |s: other::Setting| wire::Setting { choice: s.choice, value: value(s.value) };
    wire::Variety {
        id: raw.id,
        title: raw.title,
        other_names: names(raw.other_names),
        settings: raw.settings.into_iter().map(setting).collect(),
        notes: raw.notes,
        source: raw.source,
    }
}

fn repeat(raw: other::Repeat) -> wire::Repeat {
    let point = |p: other::Point| wire::Point { x: p.x, y: p.y };
    let side = |s: other::Side| match s {
        other::Side::Left => wire::Side::Left,
        other::Side::Right => wire::Side::Right,
    };
    let work = |m: other::Move| match m {
        other::Move::Cross => wire::Move::Cross,
        other::Move::Twist => wire::Move::Twist,
        other::Move::TwistLeft => wire::Move::TwistLeft,
        other::Move::TwistRight => wire::Move::TwistRight,
        other::Move::PairCross => wire::Move::PairCross,
        other::Move::PairTwist => wire::Move::PairTwist,
        other::Move::Pin => wire::Move::Pin,
    };
    let stitch = |s: other::Stitch| wire::Stitch {
        id: s.id,
        at: s.at.map(point),
        work: s.work.into_iter().map(work).collect(),
    };
    let leg = |l: other::Leg| wire::Leg {
        from: l.from,
        from_side: side(l.from_side),
        to: l.to,
        to_side: side(l.to_side),
        cell_across: l.cell_across,
        cell_down: l.cell_down,
        twists: l.twists,
    };
    wire::Repeat {
        across: point(raw.across),
        down: point(raw.down),
        stitches: raw.stitches.into_iter().map(stitch).collect(),
        legs: raw.legs.into_iter().map(leg).collect(),
    }
}

/// The same contribution, made for a version.
fn made_for(version: &'static str) -> Vec<u8> {
    let mut text = Text { version, ..Text::plain() };
    text.description.id = format!("for-{}", version.replace('.', "-")).into_bytes();
    text.description.notes = "Notes.".into();
    text.description.level = 3;
    text.answer.twists = 2;
    text.core()
}

fn usual(plugin: &Plugin) -> lace::Repeat {
    plugin.define(&plugin.about.defaults()).unwrap()
}

#[test]
fn both_versions_are_used_side_by_side() {
    let sandbox = Sandbox::knowing(&BOTH).unwrap();
    let loaded = sandbox.load_all(&[
        source("old.wasm", made_for("0.1.0")),
        source("new.wasm", made_for("0.2.0")),
        // A component that was built before and is not rebuilt.
        source("torchon.wasm", support::torchon()),
    ]);
    assert!(loaded.failures.is_empty(), "{:?}", loaded.failures);
    let [old, new, torchon] = &loaded.plugins[..] else { panic!("{loaded:?}") };
    assert_eq!((old.about.id.as_str(), old.about.notes.as_str()), ("for-0-1-0", "Notes."));
    assert_eq!(
        (new.about.id.as_str(), new.about.notes.as_str()),
        ("for-0-2-0", "Notes. For year 3 of a class.")
    );
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
        message(&FIRST, "new.wasm", made_for("0.2.0")),
        "new.wasm: is made for version 0.2.0 of the interface, which is newer than this program; it knows \
         0.1.0: update the program"
    );
    let later =
        wat::parse_str(r#"(component (instance $i) (export "pairwise:ground/ground@0.3.0" (instance $i)))"#);
    assert_eq!(
        message(&BOTH, "later.wasm", later.unwrap()),
        "later.wasm: is made for version 0.3.0 of the interface, which is newer than this program; it knows \
         0.1.0, 0.2.0: update the program"
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
    assert_eq!(number(&BOTH, &["0.2.0", "0.1.0"]), "0.2.0");
    assert_eq!(number(&FIRST, &["0.2.0", "0.1.0"]), "0.1.0");
    assert_eq!(number(&BOTH, &["0.10.0"]), "newer 0.10.0");
    assert_eq!(number(&BOTH, &["0.1.5"]), "other 0.1.5");
    assert_eq!(number(&BOTH, &["0.2.0-draft"]), "other 0.2.0-draft");
    assert_eq!(number(&BOTH, &["two"]), "other two");
    assert_eq!(number(&BOTH, &[]), "nothing");
}

/// Every version has a folder in the kit, which never changes again, and a row
/// in the kit's table.
#[test]
fn every_version_is_documented() {
    let kit = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../sdk");
    let readme = std::fs::read_to_string(kit.join("README.md")).unwrap();
    let rows: Vec<&str> = readme.lines().filter(|line| line.starts_with("| 0")).collect();
    for Version { number, .. } in super::KNOWN {
        let text = std::fs::read_to_string(kit.join("wit").join(number).join("ground.wit")).unwrap();
        assert!(text.contains(&format!("\npackage pairwise:ground@{number};\n")), "{number}");
        assert!(rows.iter().any(|row| row.contains(number)), "{number} is not in sdk/README.md");
    }
    let folders = std::fs::read_dir(kit.join("wit")).unwrap().count();
    assert_eq!(folders, super::KNOWN.len());
}

/// The table is in order and ends with the version whose types the program uses.
#[test]
fn the_table_is_in_order() {
    let numbers: Vec<semver::Version> =
        super::KNOWN.iter().map(|version| semver::Version::parse(version.number).unwrap()).collect();
    assert!(numbers.is_sorted_by(|a, b| a < b));
    assert_eq!(numbers.last().unwrap().to_string(), crate::VERSION);
    assert_eq!(crate::INTERFACE, format!("{INTERFACE_NAME}@{}", crate::VERSION));
}
