//! The commands, one module each.

pub mod build;
pub mod check;
pub mod explain;
pub mod facts;
pub mod gallery;
pub mod grid;
pub mod grounds;
pub mod handout;
pub mod new;
pub mod pack;
pub mod sheet;
pub mod trace;
pub mod unpack;

use crate::output::tell;

/// Says on standard error which contributions failed and why. Returns whether
/// any did.
pub fn report_failures(failures: &[(String, String)]) -> bool {
    for (from, why) in failures {
        tell(&format!("left out {from}: {why}"));
    }
    if !failures.is_empty() {
        let n = failures.len();
        tell(&format!(
            "{n} {} could not be used; everything else is done.",
            if n == 1 { "contribution" } else { "contributions" }
        ));
    }
    !failures.is_empty()
}
