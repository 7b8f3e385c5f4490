//! The `pairwise` program: commands in, files and words out.
//!
//! Everything that is read, written or printed is read, written and printed
//! here; the crates below know nothing of files or terminals.

mod area;
mod catalogue;
mod charts;
mod class;
mod cli;
mod colours;
mod commands;
mod export;
mod facts;
mod failure;
mod fold;
mod glossary;
mod language;
mod manual;
mod output;
mod pictures;
mod progress;
mod recipe;
mod span;
mod typeface;

use std::process::ExitCode;

use clap::Parser;

use cli::{Cli, Command};
use failure::Failure;

fn main() -> ExitCode {
    let cli = Cli::parse();
    let sources = &cli.sources;
    let done = match &cli.command {
        Command::Grounds(args) => commands::grounds::run(args, sources),
        Command::Grid(args) => commands::grid::run(args, sources),
        Command::Gallery(args) => commands::gallery::run(args, sources),
        Command::Sheet(args) => commands::sheet::run(args, sources).map(|()| false),
        Command::Handout(args) => commands::handout::run(args, sources),
        Command::Facts(args) => commands::facts::run(args, sources).map(|()| false),
        Command::Trace(args) => commands::trace::run(args, sources).map(|()| false),
        Command::Check(args) => commands::check::run(args, sources),
        Command::Explain(args) => commands::explain::run(args).map(|()| false),
        Command::New(args) => commands::new::run(args).map(|()| false),
        Command::Pack(args) => commands::pack::run(args, sources).map(|()| false),
        Command::Unpack(args) => commands::unpack::run(args, sources).map(|()| false),
        Command::Build(args) => commands::build::run(args, sources).map(|()| false),
    };
    match done {
        Ok(false) => ExitCode::SUCCESS,
        Ok(true) => ExitCode::from(1),
        Err(Failure::NobodyReads) => ExitCode::SUCCESS,
        Err(failure) => {
            output::tell(&format!("{:?}", miette::Report::new(failure)));
            ExitCode::from(2)
        }
    }
}
