//! What it costs to try sixty strangers' contributions, against compiling them
//! without a trial, and against loading them once they have been tried.
//!
//! `cargo bench -p pairwise --bench trial`

use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use divan::Bencher;
use sandbox::{Sandbox, Source};

fn main() {
    divan::main();
}

const MANY: usize = 60;

/// Our own contributions, three times over; an empty section makes each another
/// file.
fn strangers() -> Vec<Vec<u8>> {
    let built = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../plugins/built");
    let mut files: Vec<PathBuf> =
        built.read_dir().expect("they are committed").map(|file| file.expect("a file").path()).collect();
    files.sort();
    let varied = |n: usize| {
        let mut bytes = std::fs::read(&files[n % files.len()]).expect("it can be read");
        bytes.extend([0, 2, 1, n as u8]);
        bytes
    };
    (0..MANY).map(varied).collect()
}

/// Compiled and asked in this process, without a trial.
#[divan::bench(sample_count = 5)]
fn untried(bencher: Bencher) {
    let sources: Vec<Source> = strangers()
        .into_iter()
        .map(|bytes| Source::Bytes { name: "a.wasm".to_owned(), bytes: bytes.into() })
        .collect();
    bencher.bench(|| Sandbox::new(None).expect("a machine for contributions").load_all(&sources));
}

/// A folder of strangers, and one of caches in which the built-in ones are.
fn place() -> (tempfile::TempDir, PathBuf) {
    let place = tempfile::tempdir().expect("a folder");
    let mine = place.path().join("mine");
    std::fs::create_dir(&mine).expect("a folder");
    for (n, bytes) in strangers().into_iter().enumerate() {
        std::fs::write(mine.join(format!("{n}.wasm")), bytes).expect("there is room");
    }
    (place, mine)
}

/// Lists all grounds with a cache of its own.
fn grounds(cache: &Path, mine: Option<&Path>) {
    let mut run = Command::new(env!("CARGO_BIN_EXE_pairwise"));
    run.arg("grounds").env("XDG_CACHE_HOME", cache).stdout(Stdio::null()).stderr(Stdio::null());
    if let Some(mine) = mine {
        run.arg("--plugins").arg(mine);
    }
    run.status().expect("the program runs");
}

/// The program tries all of them.
#[divan::bench(sample_count = 5)]
fn tried(bencher: Bencher) {
    let (place, mine) = place();
    let fresh = || {
        let cache = tempfile::tempdir_in(place.path()).expect("a folder");
        grounds(cache.path(), None);
        cache
    };
    bencher.with_inputs(fresh).bench_refs(|cache| grounds(cache.path(), Some(&mine)));
}

/// The program loads what has been tried.
#[divan::bench(sample_count = 5)]
fn tried_before(bencher: Bencher) {
    let (place, mine) = place();
    grounds(place.path(), Some(&mine));
    bencher.bench(|| grounds(place.path(), Some(&mine)));
}
