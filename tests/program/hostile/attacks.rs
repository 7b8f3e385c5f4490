//! Files that take memory or time: those of `tests/hostile/attacks`, and others
//! that generators make in their manner. Every command ends with a status and a
//! sentence, within bounds, and leaves nothing half written.
//!
//! [`long_run`] goes on with new ones.

mod generators;

use std::path::{Path, PathBuf};

use generators::{Attack, GENERATORS};

use super::limited::{self, Limited};
use crate::long::LongRun;
use crate::random::Random;

/// The file that is the attack, and the commands that take it.
struct Target {
    folder: tempfile::TempDir,
    /// The name of the file.
    file: String,
}

impl Target {
    fn new(attack: &Attack) -> Target {
        let folder = tempfile::tempdir().unwrap();
        std::fs::create_dir(folder.path().join("mine")).unwrap();
        std::fs::write(folder.path().join("mine").join(&attack.file), &attack.bytes).unwrap();
        Target { folder, file: attack.file.clone() }
    }

    /// Tries every command that takes such a file. Returns the runs.
    fn attacked(&self) -> Vec<Limited> {
        let file = format!("mine/{}", self.file);
        let mut runs = vec![self.run(&["check", &file])];
        match Path::new(&self.file).extension().and_then(|ending| ending.to_str()) {
            Some("wasm") => runs.extend(self.as_contribution()),
            Some("toml") => {
                runs.push(self.run(&["handout", &file, "--out", "class.pdf"]));
                runs.push(self.run(&["piece", &file]));
                runs.push(self.run(&["grid", "torchon", "--colours", &file, "--size", "64", "--max", "2"]));
                runs.push(self.run(&["pack", &file, "--out", "mine/packed.wasm"]));
                if self.folder.path().join("mine/packed.wasm").exists() {
                    runs.extend(self.as_contribution());
                }
            }
            _ => panic!("{} is neither a contribution nor a text", self.file),
        }
        runs
    }

    /// The commands that draw and compute, for every contribution in the folder.
    fn as_contribution(&self) -> Vec<Limited> {
        let list = self.run(&["grounds", "--json", "--plugins", "mine"]);
        let strangers = list.strangers();
        let mut runs = vec![list];
        for id in &strangers {
            for command in [
                &["facts", id][..],
                &["grid", id, "--size", "64", "--max", "2"],
                &["grid", id, "--size", "64", "--max", "2", "--arrangement-length", "23"],
                &["sheet", id],
                &["trace", id],
                &["trace", id, "--footsides"],
                &["trace", id, "--why", "stays", "--pair", "1"],
                &["unpack", id],
            ] {
                runs.push(self.run(&[command, &["--plugins", "mine"]].concat()));
            }
        }
        runs
    }

    fn run(&self, args: &[&str]) -> Limited {
        let run = limited::run(self.folder.path(), args);
        run.check(&self.file);
        self.nothing_is_half_written(args);
        run
    }

    /// No temporary file or folder is left.
    fn nothing_is_half_written(&self, args: &[&str]) {
        let left = std::fs::read_dir(self.folder.path()).unwrap().map(|entry| entry.unwrap().file_name());
        let left: Vec<_> = left.filter(|name| name.to_string_lossy().starts_with('.')).collect();
        assert!(left.is_empty(), "{args:?} on {} left {left:?}", self.file);
    }
}

/// The files that once did harm.
fn known() -> Vec<Attack> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/hostile/attacks");
    let mut files: Vec<PathBuf> = std::fs::read_dir(folder).unwrap().map(|e| e.unwrap().path()).collect();
    files.retain(|path| path.extension().is_some_and(|ending| ending != "md"));
    files.sort();
    let attack = |path: PathBuf| Attack {
        file: path.file_name().unwrap().to_str().unwrap().to_owned(),
        bytes: std::fs::read(path).unwrap(),
    };
    files.into_iter().map(attack).collect()
}

#[test]
fn what_once_did_harm_is_answered() {
    let known = known();
    assert!(known.len() >= 9, "the files are there");
    for attack in &known {
        let runs = Target::new(attack).attacked();
        // `check` names the file if it finds fault with it.
        let said = runs[0].printed();
        assert!(runs[0].status == 0 || said.contains(attack.file.as_str()), "{}: {said}", attack.file);
    }
}

#[test]
fn what_is_made_in_their_manner_is_answered() {
    for (number, (_, generator)) in (0..).zip(GENERATORS) {
        let mut random = Random(number);
        Target::new(&generator(&mut random)).attacked();
    }
}

/// Goes on with new attacks, then prints how many of each kind there were, what
/// became of them, and the most processor time that one command took.
#[test]
#[ignore = "goes on for the time given"]
#[allow(clippy::print_stdout, reason = "the numbers are worth reading")]
fn long_run() {
    let time = LongRun::with_share(0.5);
    let seed = std::env::var("PAIRWISE_SEED").map_or(1, |s| s.parse().expect("a number"));
    let mut table = limited::Table::default();
    for round in seed.. {
        for (number, (kind, generator)) in (0..).zip(GENERATORS) {
            let mut random = Random(round * 1000 + number);
            let attack = generator(&mut random);
            let runs = std::panic::catch_unwind(|| Target::new(&attack).attacked());
            table.add(kind, runs.as_deref().ok());
            if let Err(why) = runs {
                let kept = std::env::temp_dir().join(format!("round-{round}-{}", attack.file));
                std::fs::write(&kept, &attack.bytes).unwrap();
                println!("{kind}, seed {round}: {}", limited::message(&*why));
                println!("the file is kept: {}", kept.display());
            }
        }
        if !time.goes_on() {
            break;
        }
    }
    println!("{table}");
    assert_eq!(table.broke(), 0, "see above");
}
