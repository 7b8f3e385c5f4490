//! The program end to end, as a user starts it. Its gallery has a test program of
//! its own.
//!
//! All in one test program, because separate ones would be linked one by one and
//! run one after the other.

#[path = "../../host/app/src/cli.rs"]
#[allow(dead_code, reason = "only the definition is looked at")]
mod cli;
#[path = "../../host/sandbox/tests/support/mod.rs"]
mod contribution;
#[path = "../long.rs"]
mod long;
#[path = "../machine.rs"]
mod machine;
#[path = "../random.rs"]
mod random;
#[path = "../rendered.rs"]
mod rendered;
mod schema;
mod support;
mod typeface;

mod charts;
mod commands;
mod contracts;
mod explain;
mod grid;
mod grounds;
mod handout;
mod hostile;
mod mistakes;
mod new;
mod options;
mod piece;
mod spacing;
mod trace;
mod trial;
mod whole;
