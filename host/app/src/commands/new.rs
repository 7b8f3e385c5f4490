//! `new`: a filling to start from, as a chart or as a crate that needs nothing
//! but Rust.

mod kit;

use std::path::Path;

use crate::cli::NewArgs;
use crate::commands::Outcome;
use crate::failure::Failure;
use crate::output::{NewFolder, print, write_new_file};
use crate::sources::BUILT_IN;
use catalogue::text::path_name;

/// The chart to start from.
const CHART: &str = include_str!("new/chart.toml");
const NAME: &str = "my-filling";
const TITLE: &str = "My filling";

/// Writes a crate into a new folder.
pub fn run(args: &NewArgs) -> Result<Outcome, Failure> {
    let name = &args.name;
    if !catalogue::text::is_plain_word(name) {
        return Err(Failure::Value {
            what: format!("`{}` is not a plain word", catalogue::text::clean_and_cut(name, 80)),
            help: format!(
                "write the letters a to z, digits and -, a letter or digit first, at most 40 of them{}",
                plain(name).map_or_else(String::new, |word| format!("; for example `{word}`"))
            ),
        });
    }
    if catalogue::text::is_device(name) {
        return Err(Failure::Value {
            what: format!("`{name}` is the name of a device on some systems, so no file can have it"),
            help: format!("choose another, for example `my-{name}`"),
        });
    }
    if BUILT_IN.iter().any(|(id, _)| id == name) {
        return Err(Failure::Value {
            what: format!("`{name}` is the name of a ground or filling that is built in"),
            help: format!("choose another, for example `my-{name}`"),
        });
    }
    if args.chart {
        chart(args)?;
        return Ok(Outcome::Done);
    }
    let folder = NewFolder::begin(Path::new(name))?;
    for (path, bytes) in kit::files(name) {
        folder.write(&path, &bytes)?;
    }
    folder.finish()?;
    print(&format!(
        "{name}: a filling to begin with. {name}/README.md explains how to go on. First:\n  \
         cd {name}\n  cargo test\n  pairwise build .\n  pairwise sheet {name} --plugins .\n"
    ))?;
    Ok(Outcome::Done)
}

/// Writes a chart: a ground written by hand, which needs no compiler.
fn chart(args: &NewArgs) -> Result<(), Failure> {
    let file = Path::new(&args.name).with_extension("toml");
    let text = CHART.replace(NAME, &args.name).replace(TITLE, &title(&args.name));
    write_new_file(&file, text.as_bytes())?;
    print(&format!(
        "{0}: a small filling, ready to be changed. Open it in any text editor, then\n\n  pairwise check {0} --watch\n\nand look at {1}-check.png. `pairwise explain charts` says what each line means.\n",
        path_name(&file),
        args.name
    ))
}

/// The title a lacemaker reads, made from a plain word.
fn title(name: &str) -> String {
    let words = name.replace('-', " ");
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_ascii_uppercase().to_string() + letters.as_str())
}

/// The plain word that was probably meant.
fn plain(name: &str) -> Option<String> {
    let ascii = deunicode::deunicode(name).to_ascii_lowercase();
    let words = ascii.split(|c: char| !c.is_ascii_alphanumeric()).filter(|word| !word.is_empty());
    let word = words.collect::<Vec<_>>().join("-");
    catalogue::text::is_plain_word(&word).then_some(word)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn plain_words_are_suggested() {
        assert_eq!(plain("My Filling").as_deref(), Some("my-filling"));
        assert_eq!(plain("Häkchen / Grund_2").as_deref(), Some("hakchen-grund-2"));
        assert_eq!(plain("../.."), None);
        assert_eq!(title("4-pin-rose"), "4 pin rose");
    }
}
