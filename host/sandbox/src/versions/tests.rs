//! Two versions side by side: a program that knows 0.1.0 and a version 0.2.0
//! that is there for tests alone.

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

/// What a program would hold that had both.
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
    let said = contribution.pairwise_ground_ground().call_about(store).map_err(Unanswered::Stopped)?;
    Ok(wire::Description {
        id: said.id,
        title: said.title,
        kind: match said.kind {
            other::Kind::Ground => wire::Kind::Ground,
            other::Kind::Filling => wire::Kind::Filling,
        },
        family: said.family,
        other_names: names(said.other_names),
        laces: said.laces,
        sits_in: said.sits_in,
        angle: said.angle,
        // What the other version has no field for goes where it is read.
        notes: format!("{} For year {} of a class.", said.notes, said.level),
        source: said.source,
        choices: said.choices.into_iter().map(choice).collect(),
        varieties: said.varieties.into_iter().map(variety).collect(),
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
    let said =
        contribution.pairwise_ground_ground().call_define(store, &settings).map_err(Unanswered::Stopped)?;
    Ok(said.map(repeat).map_err(|said| wire::Problem { choice: said.choice, sentence: said.sentence }))
}

fn names(said: Vec<other::OtherName>) -> Vec<wire::OtherName> {
    let name = |n: other::OtherName| wire::OtherName { language: n.language, name: n.name, source: n.source };
    said.into_iter().map(name).collect()
}

fn value(said: other::Value) -> wire::Value {
    match said {
        other::Value::Named(id) => wire::Value::Named(id),
        other::Value::Count(count) => wire::Value::Count(count),
    }
}

fn choice(said: other::Choice) -> wire::Choice {
    let option = |o: other::OptionOf| wire::OptionOf { id: o.id, title: o.title };
    wire::Choice {
        id: said.id,
        title: said.title,
        range: match said.range {
            other::Range::Named(options) => wire::Range::Named(options.into_iter().map(option).collect()),
            other::Range::Count(range) => wire::Range::Count(range),
        },
        default: value(said.default),
    }
}

fn variety(said: other::Variety) -> wire::Variety {
    let setting = |s: other::Setting| wire::Setting { choice: s.choice, value: value(s.value) };
    wire::Variety {
        id: said.id,
        title: said.title,
        other_names: names(said.other_names),
        settings: said.settings.into_iter().map(setting).collect(),
        notes: said.notes,
        source: said.source,
    }
}

fn repeat(said: other::Repeat) -> wire::Repeat {
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
        across: point(said.across),
        down: point(said.down),
        stitches: said.stitches.into_iter().map(stitch).collect(),
        legs: said.legs.into_iter().map(leg).collect(),
    }
}

/// The same contribution, made for either version.
fn made_for(version: &'static str) -> Vec<u8> {
    let mut text = Text { version, ..Text::plain() };
    text.said.id = format!("for-{}", version.replace('.', "-")).into_bytes();
    text.said.notes = "Notes.".into();
    text.said.level = 3;
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
        // A component that was built long ago, and is not built again.
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
fn a_version_that_came_later_is_refused_with_words() {
    let told = |versions, name: &str, bytes| {
        let error = Sandbox::knowing(versions).unwrap().load(&source(name, bytes)).unwrap_err();
        assert!(matches!(error, SandboxError::NewerVersion { .. }), "{error}");
        error.to_string()
    };
    assert_eq!(
        told(&FIRST, "new.wasm", made_for("0.2.0")),
        "new.wasm: is made for version 0.2.0 of the interface, which is newer than this program; it knows \
         0.1.0: update the program"
    );
    let later =
        wat::parse_str(r#"(component (instance $i) (export "pairwise:ground/ground@0.3.0" (instance $i)))"#);
    assert_eq!(
        told(&BOTH, "later.wasm", later.unwrap()),
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

/// Every version has a folder of its own in the kit, which never changes again,
/// and a place in the kit's table.
#[test]
fn every_version_is_written_down() {
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

/// The table is in order and ends with what the program calls its own.
#[test]
fn the_table_is_in_order() {
    let numbers: Vec<semver::Version> =
        super::KNOWN.iter().map(|version| semver::Version::parse(version.number).unwrap()).collect();
    assert!(numbers.is_sorted_by(|a, b| a < b));
    assert_eq!(numbers.last().unwrap().to_string(), crate::VERSION);
    assert_eq!(crate::INTERFACE, format!("{INTERFACE_NAME}@{}", crate::VERSION));
}
