//! Bytes of a component or module, made up by the fuzzer: they are refused in
//! words, or what comes out of them has been checked. What must hold is written
//! once, in `pairwise_tests::oracle`, for this and for the tests with random
//! bytes.

#![no_main]

use std::sync::LazyLock;

use libfuzzer_sys::fuzz_target;
use sandbox::Sandbox;

static SANDBOX: LazyLock<Sandbox> =
    LazyLock::new(|| Sandbox::new(None).expect("this machine runs WebAssembly"));

fuzz_target!(|bytes: &[u8]| {
    pairwise_tests::oracle::component(&SANDBOX, bytes);
});
