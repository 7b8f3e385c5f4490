//! Fuzzes the text of a chart: every fault must have a place and a remedy, and a
//! ground must survive being written as a chart and read again. The checks are in
//! `pairwise_tests::charts`.

#![no_main]

use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| {
    if let Ok(text) = std::str::from_utf8(bytes) {
        pairwise_tests::charts::text(text);
    }
});
