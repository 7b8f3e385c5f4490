//! Contributions: our own, against outside sources and their crates; charts; other
//! languages; random bytes.

#[path = "../../../host/sandbox/tests/support/mod.rs"]
mod contribution;
#[path = "../../long.rs"]
mod long;
#[path = "../../machine.rs"]
mod machine;
#[path = "../../random.rs"]
mod random;

mod catalogue;
mod charts;
mod components;
mod handbook;
mod new_filling;
mod other_languages;
mod random_bytes;
