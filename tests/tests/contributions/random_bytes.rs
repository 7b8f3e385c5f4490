//! Random contributions: modules and components made from random bytes, and real
//! ones changed. All are refused with a message or give a checked definition;
//! nothing panics and nothing runs for ever.
//!
//! [`long_run`] goes on with new ones.

use std::collections::BTreeMap;
use std::ops::Range;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::Path;
use std::sync::LazyLock;

use crate::contribution::{Text, carrying_version};
use crate::long::LongRun;
use crate::random::Random;
use pairwise_tests::oracle::{Came, component};
use rayon::prelude::*;
use sandbox::Sandbox;
use wasm_mutate::WasmMutate;
use wasm_smith::{Component, Config, Module};
use wasmparser::{Parser, Payload};

/// Our own components, in order of name.
static BUILT: LazyLock<Vec<Vec<u8>>> = LazyLock::new(|| {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../plugins/built");
    let mut files: Vec<_> = std::fs::read_dir(folder).unwrap().map(|e| e.unwrap().path()).collect();
    files.retain(|path| path.extension().is_some_and(|e| e == "wasm"));
    files.sort();
    files.iter().map(|path| std::fs::read(path).unwrap()).collect()
});

/// The module inside each component that does the work.
static CORES: LazyLock<Vec<Vec<u8>>> = LazyLock::new(|| BUILT.iter().map(|built| core_of(built)).collect());

/// The largest module in a component.
fn core_of(component: &[u8]) -> Vec<u8> {
    let modules = Parser::new(0).parse_all(component).filter_map(|payload| match payload.unwrap() {
        Payload::ModuleSection { unchecked_range, .. } => Some(component[unchecked_range].to_vec()),
        _ => None,
    });
    modules.max_by_key(Vec::len).unwrap()
}

/// The exports that a module needs in order to be called.
static ASKED: LazyLock<Vec<u8>> = LazyLock::new(|| {
    let interface = sandbox::INTERFACE;
    wat::parse_str(format!(
        r#"(module
            (memory (export "memory") 2)
            (func (export "cabi_realloc") (param i32 i32 i32 i32) (result i32) unreachable)
            (func (export "{interface}#about") (result i32) unreachable)
            (func (export "{interface}#define") (param i32 i32) (result i32) unreachable))"#
    ))
    .unwrap()
});

/// The origin of a random contribution.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum From {
    /// A module generated from random bytes.
    Module,
    /// The same, with the interface's functions.
    Asked,
    /// A component generated from random bytes.
    Component,
    /// The module of one of our contributions, changed but still valid.
    Changed,
    /// A simple contribution written by hand, changed but still valid.
    ChangedByHand,
    /// One of our components with bytes changed, moved or left out.
    Spoilt,
    /// Random bytes after the header of a component.
    Noise,
}

const ALL: [From; 7] = [
    From::Module,
    From::Asked,
    From::Component,
    From::Changed,
    From::ChangedByHand,
    From::Spoilt,
    From::Noise,
];

/// The contribution for a seed; `None` if there were too few bytes for one.
fn contribution_of(seed: u64) -> (From, Option<Vec<u8>>) {
    let mut random = Random(seed);
    let from = ALL[seed as usize % ALL.len()];
    let size = 1 + random.below(8192);
    let raw = random.bytes(size);
    let mut raw = arbitrary::Unstructured::new(&raw);
    let bytes = match from {
        From::Module => {
            Module::new(config(random.below(4) == 0), &mut raw).ok().map(|module| module.to_bytes())
        }
        From::Asked => {
            let config = Config {
                exports: Some(ASKED.clone()),
                max_imports: 0,
                min_funcs: 3,
                // Only the one asked for.
                max_memories: 0,
                max_memory32_bytes: 2 << 16,
                ..config(false)
            };
            Module::new(config, &mut raw)
                .ok()
                .map(|module| carrying_version(&module.to_bytes(), sandbox::VERSION))
        }
        From::Component => {
            Component::new(config(random.below(4) == 0), &mut raw).ok().map(|component| component.to_bytes())
        }
        From::Changed => {
            let core = &CORES[random.below(CORES.len())];
            Some(carrying_version(&changed(core, &mut random), sandbox::VERSION))
        }
        From::ChangedByHand => Some(changed(&Text::plain().core(), &mut random)),
        From::Spoilt => {
            let built = &BUILT[random.below(BUILT.len())];
            Some(spoilt(built, &mut random))
        }
        From::Noise => {
            let count = random.below(400);
            Some([b"\0asm\x0d\0\x01\0".to_vec(), random.bytes(count)].concat())
        }
    };
    (from, bytes)
}

/// The features random modules may use: only those allowed here, or all.
fn config(anything: bool) -> Config {
    Config {
        gc_enabled: anything,
        exceptions_enabled: anything,
        memory64_enabled: anything,
        threads_enabled: anything,
        relaxed_simd_enabled: anything,
        tail_call_enabled: true,
        simd_enabled: true,
        reference_types_enabled: anything,
        bulk_memory_enabled: true,
        max_memories: if anything { 3 } else { 1 },
        max_imports: if anything { 10 } else { 0 },
        allow_start_export: true,
        ..Config::default()
    }
}

/// A module changed a few times, and valid after each change.
fn changed(module: &[u8], random: &mut Random) -> Vec<u8> {
    let mut module = module.to_vec();
    for _ in 0..=random.below(4) {
        let mut mutate = WasmMutate::default();
        mutate.seed(random.next()).fuel(300).preserve_semantics(false);
        let next = mutate.run(&module).ok().and_then(|mut all| all.next()?.ok());
        if let Some(next) = next {
            module = next;
        }
    }
    module
}

/// Bytes of a component changed, moved or left out.
fn spoilt(component: &[u8], random: &mut Random) -> Vec<u8> {
    let mut bytes = component.to_vec();
    for _ in 0..=random.below(3) {
        let at = random.below(bytes.len());
        let count = random.below(16).min(bytes.len() - at);
        match random.below(5) {
            0 => bytes[at] ^= 1 << random.below(8),
            1 => bytes[at] = random.next() as u8,
            2 => drop(bytes.drain(at..at + count)),
            3 => {
                let piece = bytes[at..at + count].to_vec();
                let to = random.below(bytes.len());
                bytes.splice(to..to, piece);
            }
            _ => {
                let fill = [0, 0xff, 0x7f][random.below(3)];
                bytes[at..at + count].fill(fill);
            }
        }
    }
    bytes
}

/// How many of each origin came to what; `None` where there were too few bytes.
type Counts = BTreeMap<(From, Option<Came>), usize>;

/// Tries the contributions of these seeds.
fn try_all(seeds: Range<u64>, counts: &mut Counts) {
    let sandbox = Sandbox::new(None).unwrap();
    let came = |seed: u64| {
        let (from, bytes) = contribution_of(seed);
        let came = bytes.map(|bytes| {
            let tried = catch_unwind(AssertUnwindSafe(|| component(&sandbox, &bytes)));
            tried.unwrap_or_else(|_| panic!("seed {seed} ({from:?}) broke a rule"))
        });
        (from, came)
    };
    for one in seeds.into_par_iter().map(came).collect::<Vec<_>>() {
        *counts.entry(one).or_default() += 1;
    }
}

#[test]
#[ignore = "goes on for the time given"]
#[allow(clippy::print_stdout, reason = "the numbers are worth reading")]
fn long_run() {
    let time = LongRun::with_share(0.25);
    let (mut counts, mut next) = (Counts::new(), 1000);
    while time.goes_on() {
        try_all(next..next + 200, &mut counts);
        next += 200;
    }
    println!("{counts:#?}");
}

#[test]
fn whatever_comes_is_refused_or_checked() {
    let mut counts = Counts::new();
    try_all(0..300, &mut counts);
    // The test would be worth little if everything were refused, or nothing.
    let of = |from: From, came: &[Option<Came>]| -> usize {
        came.iter().filter_map(|came| counts.get(&(from, *came))).sum()
    };
    for from in [From::Changed, From::ChangedByHand] {
        assert!(of(from, &[Some(Came::Ground)]) > 0, "{from:?}: {counts:?}");
        assert!(
            of(from, &[Some(Came::Refused), Some(Came::Said), Some(Came::Defined)]) > 0,
            "{from:?}: {counts:?}"
        );
    }
    for from in ALL {
        let tried =
            of(from, &[Some(Came::Refused), Some(Came::Said), Some(Came::Defined), Some(Came::Ground)]);
        assert!(tried > 10, "{from:?}: {counts:?}");
    }
}
