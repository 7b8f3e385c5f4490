//! Contributions written by hand, good and bad, and what the sandbox makes of
//! them.

#[path = "../support/mod.rs"]
mod support;

mod cache;
mod hostile;
mod rules;
mod words;
