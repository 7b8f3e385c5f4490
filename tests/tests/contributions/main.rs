//! Contributions: those of the house against what is known of them outside and
//! against their crates, charts, other languages, random bytes.

#[path = "../../../host/sandbox/tests/support/mod.rs"]
mod contribution;
#[path = "../../machine.rs"]
mod machine;

mod catalogue;
mod charts;
mod components;
mod new_filling;
mod other_languages;
mod random_bytes;
