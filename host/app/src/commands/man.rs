//! `man`: manual pages, generated from the definition of commands and options
//! in `cli`.

use std::path::Path;

use catalogue::suggest;
use catalogue::text::path_name;
use clap::{Command, CommandFactory};
use clap_mangen::Man;
use clap_mangen::roff::{Roff, bold, roman};

use crate::cli::{Cli, ManArgs};
use crate::commands::Outcome;
use crate::failure::Failure;
use crate::output::{print, write_file};

/// Prints a page, or writes all of them.
pub fn run(args: &ManArgs) -> Result<Outcome, Failure> {
    let cli = definition();
    let text = match (&args.out, &args.name) {
        (Some(folder), _) => write_all(&cli, folder)?,
        (None, Some(name)) => page(command(&cli, name)?),
        (None, None) => page(&cli),
    };
    print(&text)?;
    Ok(Outcome::Done)
}

/// Writes the pages for the program and every command into a folder. Returns a
/// line that says so.
fn write_all(cli: &Command, folder: &Path) -> Result<String, Failure> {
    std::fs::create_dir_all(folder).map_err(Failure::write(folder))?;
    let commands: Vec<&Command> = std::iter::once(cli).chain(cli.get_subcommands()).collect();
    for command in &commands {
        write_file(&folder.join(format!("{}.1", title(command))), page(command).as_bytes())?;
    }
    Ok(format!("{}: {} manual pages\n", path_name(folder), commands.len()))
}

/// The command with this name.
fn command<'c>(cli: &'c Command, name: &str) -> Result<&'c Command, Failure> {
    cli.find_subcommand(name).ok_or_else(|| {
        let known = cli.get_subcommands().map(Command::get_name);
        let help = suggest(name, known, "`pairwise --help` lists all commands");
        Failure::Unknown { what: "the command", name: name.escape_debug().to_string(), help }
    })
}

/// The command line, with global options repeated at every command.
fn definition() -> Command {
    let cli = Cli::command().disable_help_subcommand(true);
    let mut cli = cli.subcommand_help_heading("COMMANDS").subcommand_value_name("COMMAND");
    cli.build();
    cli
}

/// `pairwise`, or `pairwise-grid` for the command `grid`.
fn title(command: &Command) -> &str {
    command.get_display_name().unwrap_or(command.get_name())
}

/// The page for the program or a command, in roff.
fn page(command: &Command) -> String {
    let version = concat!("pairwise ", env!("CARGO_PKG_VERSION"));
    // No date: it would be that of the build. Two quotation marks stand for it,
    // or what follows would move up into its place.
    let man = Man::new(command.clone()).date("\"\"").source(version).manual("Bobbin lace");
    let mut page = Vec::new();
    // Left-aligned and without hyphenation, so that commands can be copied.
    let mut ragged = Roff::new();
    ragged.control("nh", []).control("ad", ["l"]);
    let written = man
        .render_title(&mut page)
        .and_then(|()| ragged.to_writer(&mut page))
        .and_then(|()| man.render_name_section(&mut page))
        .and_then(|()| man.render_synopsis_section(&mut page))
        .and_then(|()| man.render_description_section(&mut page))
        .and_then(|()| man.render_options_section(&mut page))
        .and_then(|()| match command.has_subcommands() {
            true => man.render_subcommands_section(&mut page),
            false => Ok(()),
        })
        .and_then(|()| examples(command).to_writer(&mut page))
        .and_then(|()| see_also(command).to_writer(&mut page));
    // Writing to memory does not fail.
    debug_assert!(written.is_ok());
    in_bold(&with_one_preamble(&String::from_utf8_lossy(&page)))
}

/// Every part of a page begins with the two lines that say how an apostrophe is
/// written. Once is enough.
fn with_one_preamble(page: &str) -> String {
    let end = page.match_indices('\n').nth(1).map_or(0, |(at, _)| at + 1);
    let (first, rest) = page.split_at(end);
    format!("{first}{}", rest.replace(first, ""))
}

/// The examples and notes at the end of the help text.
fn examples(command: &Command) -> Roff {
    let text = command.get_after_help().map(ToString::to_string).unwrap_or_default();
    let mut page = Roff::new();
    let mut notes = false;
    let mut literal = false;
    for line in text.lines() {
        let inner = line.trim_start();
        let set_in = inner.len() < line.len() && !inner.is_empty();
        let is_command = set_in && inner.starts_with("pairwise ");
        if literal && (is_command || !set_in) {
            page.control("fi", []).control("RE", []);
            literal = false;
        }
        if is_command {
            let (typed, remark) = inner.split_once("  ").unwrap_or((inner, ""));
            page.control("PP", []).text([bold(typed)]);
            if !remark.is_empty() {
                page.control("RS", ["4"]).text([roman(remark.trim_start())]).control("RE", []);
            }
        } else if set_in {
            if !literal {
                page.control("RS", ["4"]).control("nf", []);
                literal = true;
            }
            page.text([roman(line.strip_prefix("  ").unwrap_or(line))]);
        } else if let Some(heading) = line.strip_suffix(':').filter(|_| !notes) {
            page.control("SH", [heading.to_uppercase().as_str()]);
        } else if line.is_empty() {
            page.control("PP", []);
        } else {
            if !notes {
                page.control("SH", ["NOTES"]);
                notes = true;
            }
            page.text([roman(line)]);
        }
    }
    if literal {
        page.control("fi", []).control("RE", []);
    }
    page
}

/// The "see also" section.
fn see_also(command: &Command) -> Roff {
    let mut page = Roff::new();
    if !command.has_subcommands() {
        page.control("SH", ["SEE ALSO"]).text([bold("pairwise"), roman("(1)")]);
    }
    page
}

/// Sets text between backticks in bold, as manual pages do. Roff would print a
/// plain backtick as a quotation mark.
fn in_bold(page: &str) -> String {
    let line = |line: &str| {
        let parts: Vec<&str> = line.split('`').collect();
        let even = parts.len() % 2 == 1;
        let mut text = String::new();
        for (k, part) in parts.iter().enumerate() {
            if k > 0 {
                text.push_str(match (even, k % 2) {
                    (false, _) => "\\(ga",
                    (true, 1) => "\\fB",
                    (true, _) => "\\fR",
                });
            }
            text.push_str(part);
        }
        text + "\n"
    };
    page.lines().map(line).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The page as plain text, without roff escapes.
    fn words(page: &str) -> String {
        let plain = page.replace("\\fB", "").replace("\\fI", "").replace("\\fR", "").replace("\\-", "-");
        plain.replace("\\*(Aq", "'")
    }

    #[test]
    fn every_option_has_its_words_on_the_page_of_its_command() {
        let cli = definition();
        for command in cli.get_subcommands() {
            let page = words(&page(command));
            assert!(page.contains(&format!(".TH {} 1", title(command))), "{page}");
            for arg in command.get_arguments().filter(|arg| !arg.is_hide_set()) {
                if let Some(long) = arg.get_long() {
                    assert!(
                        page.contains(&format!("\n--{long}")) || page.contains(&format!(", --{long}")),
                        "{long}"
                    );
                }
                let help = arg.get_long_help().or(arg.get_help()).expect("every option says what it does");
                let help = help.to_string().replace('`', "");
                let first = help.lines().next().unwrap_or_default();
                assert!(page.contains(first), "{}: {first}", command.get_name());
                for value in arg.get_possible_values() {
                    assert!(page.contains(value.get_name()), "{}: {}", command.get_name(), value.get_name());
                }
            }
            assert!(!page.contains('`'), "{page}");
            assert_eq!(page.matches(".ds Aq").count(), 2, "{page}");
        }
        let page = words(&page(&cli));
        for command in cli.get_subcommands() {
            assert!(page.contains(&format!("{}(1)", title(command))), "{}", command.get_name());
            let about = command.get_about().unwrap().to_string().replace('`', "");
            assert!(page.contains(&about), "{}: {about}", command.get_name());
        }
    }

    #[test]
    fn examples_are_set_as_commands_with_their_remarks() {
        let cli = definition();
        let grounds = page(cli.find_subcommand("grounds").unwrap());
        assert!(grounds.contains(".SH EXAMPLES\n"), "{grounds}");
        assert!(
            grounds.contains("\n\\fBpairwise grounds\\fR\n.RS 4\nevery ground and filling, by family\n.RE\n"),
            "{grounds}"
        );
        let handout = page(cli.find_subcommand("handout").unwrap());
        assert!(handout.contains(".nf\nformat = \"pairwise\\-recipe/1\"\n"), "{handout}");
        assert_eq!(handout.matches(".nf\n").count(), handout.matches(".fi\n").count());
    }

    #[test]
    fn backticks_become_bold_in_twos() {
        assert_eq!(in_bold("say `rose` or `rose/plain`\n"), "say \\fBrose\\fR or \\fBrose/plain\\fR\n");
        assert_eq!(in_bold("one ` alone\n"), "one \\(ga alone\n");
    }
}
