//! The text of a chart, made up by the fuzzer: every fault has its place and its
//! remedy, and a ground comes back from the chart that is written of it. What
//! must hold is written once, in `pairwise_tests::charts`.

#![no_main]

use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| {
    if let Ok(text) = std::str::from_utf8(bytes) {
        pairwise_tests::charts::text(text);
    }
});
