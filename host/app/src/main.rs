//! The `pairwise` program: commands in, files and text out.
//!
//! All reading, writing and printing is done here; the crates below know nothing
//! of files or terminals.

mod building;
mod charts;
mod cli;
mod commands;
mod export;
mod failure;
mod faults;
mod input;
#[cfg(test)]
#[path = "../../../tests/long.rs"]
mod long;
mod output;
mod progress;
mod remedy;
mod request;
mod sources;
mod trial;

use std::process::ExitCode;

use catalogue::text::harmless;
use clap::Parser;
use clap::error::ErrorKind;

use cli::{Cli, Command};
use commands::Outcome;
use failure::Failure;
use request::sources::Sources;

/// Prints what is wrong with the arguments, or the help that they ask for. An
/// argument may be the name of a stranger's file.
fn refuse(why: &clap::Error) -> ! {
    if why.kind() == ErrorKind::InvalidUtf8 {
        output::warn(
            "error: an argument holds characters that are no text (UTF-8)\n  \
             help: only files may be named so; type names, words and numbers anew",
        );
        std::process::exit(why.exit_code())
    }
    let plain = why.render().to_string();
    let shown = harmless(&plain);
    if shown == plain {
        why.exit()
    }
    output::warn(&shown);
    std::process::exit(why.exit_code())
}

fn main() -> ExitCode {
    output::outlive_full_files();
    // Not one of the commands for people, who have no use for it.
    if let Some(cache) = trial::asked(std::env::args_os()) {
        return trial::child::run(&cache).map_or(ExitCode::FAILURE, |()| ExitCode::SUCCESS);
    }
    let cli = Cli::try_parse().unwrap_or_else(|why| refuse(&why));
    let sources = &Sources::from(&cli.sources);
    let done = match &cli.command {
        Command::Grounds(args) => commands::grounds::run(args, sources),
        Command::Grid(args) => commands::grid::run(args, sources),
        Command::Gallery(args) => commands::gallery::run(args, sources),
        Command::Sheet(args) => commands::sheet::run(args, sources),
        Command::Handout(args) => commands::handout::run(args, sources),
        Command::Piece(args) => commands::piece::run(args, sources),
        Command::Facts(args) => commands::facts::run(args, sources),
        Command::Trace(args) => commands::trace::run(args, sources),
        Command::Check(args) => commands::check::run(args, sources),
        Command::Explain(args) => commands::explain::run(args),
        Command::New(args) => commands::new::run(args),
        Command::Pack(args) => commands::pack::run(args, sources),
        Command::Unpack(args) => commands::unpack::run(args, sources),
        Command::Build(args) => commands::build::run(args, sources),
        Command::Completions(args) => commands::completions::run(args),
        Command::Man(args) => commands::man::run(args),
    };
    match done {
        Ok(Outcome::Done) | Err(Failure::NobodyReads) => ExitCode::SUCCESS,
        Ok(Outcome::Findings) => ExitCode::from(1),
        Err(failure) => {
            commands::report(failure);
            ExitCode::from(2)
        }
    }
}
