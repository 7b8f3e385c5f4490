//! Hand-written contributions, good and bad, and how the sandbox handles them.

#[path = "../support/mod.rs"]
mod support;

mod cache;
mod costly;
mod hostile;
mod rules;
mod words;
