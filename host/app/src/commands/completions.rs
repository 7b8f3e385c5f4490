//! `completions`: a script that lets a shell complete commands and options,
//! generated from their definition in `cli`.

use clap::CommandFactory;
use clap_complete::{Shell, generate};

use crate::cli::{Cli, CompletionsArgs};
use crate::commands::Outcome;
use crate::failure::Failure;
use crate::output::print;

/// Prints the script.
pub fn run(args: &CompletionsArgs) -> Result<Outcome, Failure> {
    print(&script(args.shell))?;
    Ok(Outcome::Done)
}

fn script(shell: Shell) -> String {
    let mut bytes = Vec::new();
    generate(shell, &mut Cli::command(), "pairwise", &mut bytes);
    // Scripts are generated from UTF-8 texts, so nothing is lost.
    String::from_utf8_lossy(&bytes).into_owned()
}

#[cfg(test)]
mod tests {
    use clap::ValueEnum;

    use super::*;

    #[test]
    fn every_shell_completes_every_command_and_option() {
        let mut cli = Cli::command();
        cli.build();
        for &shell in Shell::value_variants() {
            let script = script(shell);
            for command in cli.get_subcommands() {
                assert!(script.contains(command.get_name()), "{shell}: {}", command.get_name());
                for option in command.get_arguments().filter_map(|arg| arg.get_long()) {
                    // Fish writes `-l name` without the hyphens.
                    let option =
                        if shell == Shell::Fish { format!("-l {option}") } else { format!("--{option}") };
                    assert!(script.contains(&option), "{shell}: {} {option}", command.get_name());
                }
            }
        }
    }
}
