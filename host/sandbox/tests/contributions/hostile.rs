//! Bytes that are wrong, cut, flipped or hostile: each gives an error of the
//! expected class; none crashes or hangs.

use crate::support::{Text, carrying, load, source, torchon};
use sandbox::{Sandbox, SandboxError, Stopped, limits};
use serde_json::Value;

fn cases() -> Vec<(Value, Vec<u8>)> {
    let data: Value = serde_json::from_str(include_str!("../data/wasm_hostile_bytes.json")).unwrap();
    let bytes = |hex: &str| {
        (0..hex.len()).step_by(2).map(|n| u8::from_str_radix(&hex[n..n + 2], 16).unwrap()).collect()
    };
    let cases = data["cases"].as_array().unwrap();
    cases.iter().map(|case| (case.clone(), bytes(case["hex"].as_str().unwrap()))).collect()
}

/// Source of the verdicts: see `data/README.md`.
#[test]
fn every_case_ends_as_expected() {
    let cases = cases();
    assert!(cases.len() >= 50);
    let sandbox = Sandbox::new(None).unwrap();
    for (case, bytes) in cases {
        let id = case["id"].as_str().unwrap();
        let class = case["class"].as_str().unwrap();
        let is_core = bytes.get(4..8) == Some(&[1, 0, 0, 0]);
        let error = sandbox.load(&source(id, bytes)).unwrap_err();
        let message = error.to_string();
        assert!(message.starts_with(&format!("{id}: ")), "{message}");
        assert!(!message.chars().any(char::is_control), "{message:?}");
        let as_expected = match class {
            // The import itself is invalid: refused for being an import.
            "invalid" if id.starts_with("comp-import-") => matches!(error, SandboxError::Imports { .. }),
            "malformed" | "invalid" | "limit" => matches!(error, SandboxError::Invalid { .. }),
            "valid-link-fails" => matches!(error, SandboxError::Imports { .. }),
            // Valid, but built to be costly: refused before it is compiled.
            "valid-hostile" if !is_core => matches!(error, SandboxError::Invalid { .. }),
            // Valid, but not a contribution: refused before any of it runs.
            "valid" if !is_core => matches!(error, SandboxError::NoInterface { .. }),
            "valid" | "valid-hostile" | "valid-traps" => {
                matches!(error, SandboxError::Invalid { .. } | SandboxError::NoInterface { .. })
            }
            other => panic!("{id}: unknown class {other}"),
        };
        assert!(as_expected, "{id} ({class}): {message}");
    }
}

/// The same hostile modules with the interface added, so that they run.
#[test]
fn hostile_modules_that_carry_the_interface_are_stopped() {
    let started =
        |function: &str| Text::fields(&format!("(func $start {function}) (start $start)")).ask().unwrap_err();
    let why = |error| match error {
        SandboxError::Stopped { why, .. } => why,
        other => panic!("{other}"),
    };
    assert_eq!(why(started("unreachable")), Stopped::GaveUp);
    assert_eq!(why(started("(call $start)")), Stopped::Stack);
    assert_eq!(why(Text::fields("(table 10000000 funcref)").ask().unwrap_err()), Stopped::Table);
    let nested = |depth| Text::define(&format!("{}{}", "(block ".repeat(depth), ")".repeat(depth))).ask();
    assert!(nested(limits::BLOCKS - 1).is_ok());
    assert!(matches!(nested(20_000), Err(SandboxError::Invalid { .. })));
    let locals = Text::define(&format!("(local {})", "i64 ".repeat(20_000))).ask();
    assert!(matches!(locals, Ok(_) | Err(SandboxError::Stopped { .. } | SandboxError::Invalid { .. })));
}

/// Components inside components, as deep as the file size allows: a library that
/// followed them would use up all memory.
#[test]
fn deep_nesting_is_refused_before_it_is_followed() {
    let leb = |mut n: usize| {
        let mut bytes = Vec::new();
        while n >= 0x80 {
            bytes.push(n as u8 | 0x80);
            n >>= 7;
        }
        bytes.push(n as u8);
        bytes
    };
    for depth in [limits::NESTING, 1_000, 150_000] {
        // Written from the inside out, back to front.
        let header = b"\0asm\x0d\0\x01\0";
        let mut backwards: Vec<u8> = header.iter().rev().copied().collect();
        for _ in 0..depth {
            let size = leb(backwards.len());
            backwards.extend(size.iter().rev());
            backwards.push(4);
            backwards.extend(header.iter().rev());
        }
        backwards.reverse();
        assert!(backwards.len() < limits::FILE_BYTES);
        let message = load(backwards).unwrap_err().to_string();
        assert!(message.contains("more than 8 components one inside the other"), "{depth}: {message}");
    }
}

#[test]
fn every_truncated_contribution_is_refused() {
    let sandbox = Sandbox::new(None).unwrap();
    let core = Text::plain().core();
    for whole in [torchon(), core] {
        let step = (whole.len() / 60).max(1);
        for length in (0..whole.len()).step_by(step) {
            let result = sandbox.load(&source("cut.wasm", whole[..length].to_vec()));
            assert!(result.is_err(), "{length} of {} bytes were accepted", whole.len());
        }
    }
}

/// Single bytes changed all over a contribution: it is refused, or still answers
/// within the rules, and the program continues.
#[test]
fn flipped_bytes_never_do_worse_than_an_error() {
    let sandbox = Sandbox::new(None).unwrap();
    let whole = Text::plain().core();
    // A fixed sequence: the Lehmer generator with Park and Miller's constants.
    let mut number: u64 = 1;
    let mut next = |below: usize| {
        number = number * 48_271 % 2_147_483_647;
        number as usize % below
    };
    let mut loaded = 0;
    for _ in 0..300 {
        let mut bytes = whole.clone();
        for _ in 0..=next(3) {
            let at = next(bytes.len());
            bytes[at] ^= 1 << next(8);
        }
        if let Ok(plugin) = sandbox.load(&source("flipped.wasm", bytes)) {
            loaded += 1;
            _ = plugin.define(&plugin.about.defaults());
        }
    }
    assert!(loaded > 0, "some flips change only a number");
}

#[test]
fn a_module_that_only_pretends_is_refused() {
    // It carries the interface, but not its functions.
    let error = load(carrying(&wat::parse_str("(module)").unwrap())).unwrap_err();
    assert!(matches!(error, SandboxError::Invalid { .. }), "{error}");
    // It has functions of these names, but of other shapes.
    let text = "(module (memory (export \"memory\") 1)
        (func (export \"cabi_realloc\") (param i32 i32 i32 i32) (result i32) unreachable)
        (func (export \"pairwise:ground/ground@0.1.0#about\") (result i64) unreachable)
        (func (export \"pairwise:ground/ground@0.1.0#define\")))";
    let error = load(carrying(&wat::parse_str(text).unwrap())).unwrap_err();
    assert!(matches!(error, SandboxError::Invalid { .. }), "{error}");
}
