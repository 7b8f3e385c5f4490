//! Every hostile contribution is refused with a message or is harmless, and the
//! others are unaffected.

use std::collections::BTreeSet;

use sandbox::{Sandbox, Source};
use serde_json::Value;

use super::contributions::{Expected, write_all, write_texts};
use super::run;
use crate::support::text;

fn list(out: &[u8]) -> Vec<Value> {
    let list: Value = serde_json::from_slice(out).unwrap();
    list["grounds"].as_array().unwrap().clone()
}

#[test]
fn each_is_refused_with_a_message_and_the_good_ones_are_all_there() {
    let folder = tempfile::tempdir().unwrap();
    let mine = folder.path().join("mine");
    std::fs::create_dir(&mine).unwrap();
    let hostile = write_all(&mine);
    assert!(hostile.len() >= 90, "{}", hostile.len());
    let good = crate::contribution::Text::describing(|about| about.id = b"good".to_vec());
    std::fs::write(mine.join("good.wasm"), good.core()).unwrap();

    let alone = run(folder.path(), &["grounds", "--json"]);
    let out = run(folder.path(), &["grounds", "--json", "--plugins", "mine"]);
    let told = text(&out.stderr);
    assert_eq!(out.status.code(), Some(1), "{told}");
    super::terminal::harmless("grounds --json", &out);

    // The built-in ones, unchanged, then the harmless ones.
    let (alone, grounds) = (list(&alone.stdout), list(&out.stdout));
    assert_eq!(grounds[..alone.len()], alone[..]);
    let more: BTreeSet<&str> = grounds[alone.len()..].iter().map(|g| g["id"].as_str().unwrap()).collect();
    let mut taken = BTreeSet::from(["good"]);
    let mut failed = 0;
    for case in &hostile {
        let name = catalogue::text::clean(&format!("mine/{}", case.file));
        let lines: Vec<&str> = told.lines().filter(|l| l.contains(&format!("{name}: "))).collect();
        let own: Vec<&&str> = lines.iter().filter(|l| l.starts_with(&format!("left out {name}: "))).collect();
        match &case.expected {
            Expected::Says(words) => {
                assert_eq!(own.len(), 1, "{name}: {lines:#?}");
                for words in words {
                    assert!(own[0].contains(words), "{name} should say {words}: {}", own[0]);
                }
                failed += 1;
            }
            Expected::Taken(id) => {
                assert!(own.is_empty(), "{own:?}");
                taken.insert(id);
            }
        }
    }
    assert_eq!(more, taken);
    assert!(told.contains(&format!("{failed} contributions could not be used")), "{told}");
}

/// Called twice, each gives the same answer or refusal: it has no memory of the
/// first call.
#[test]
fn each_gives_the_same_answer_twice() {
    let folder = tempfile::tempdir().unwrap();
    let mut twists = None;
    let sandbox = Sandbox::new(None).unwrap();
    for case in write_texts(folder.path()) {
        let Ok(plugin) = sandbox.load(&Source::File(folder.path().join(&case.file))) else { continue };
        let settings = plugin.about.defaults();
        if case.file.contains("spins") || case.file.contains("eats") {
            continue;
        }
        let ask = || plugin.define(&settings).map_err(|why| why.to_string());
        let first = format!("{:?}", ask());
        assert_eq!(first, format!("{:?}", ask()), "{}", case.file);
        if case.file == "counts-in-memory.wasm" {
            twists = Some(ask().unwrap().legs[0].twists);
        }
    }
    assert_eq!(twists, Some(1), "it always counts one");
}
