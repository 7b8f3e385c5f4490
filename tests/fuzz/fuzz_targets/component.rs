//! Fuzzes the bytes of a component or module: they must be refused with a
//! message, or give a checked result. The checks are in `pairwise_tests::oracle`,
//! shared with the tests on random bytes.

#![no_main]

use std::sync::LazyLock;

use libfuzzer_sys::fuzz_target;
use sandbox::Sandbox;

static SANDBOX: LazyLock<Sandbox> =
    LazyLock::new(|| Sandbox::new(None).expect("this machine runs WebAssembly"));

fuzz_target!(|bytes: &[u8]| {
    pairwise_tests::oracle::component(&SANDBOX, bytes);
});
