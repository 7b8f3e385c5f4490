//! `new`: something to start from: a filling as a chart or as a crate that needs
//! nothing but Rust, or a piece.

mod kit;

use std::path::Path;

use crate::cli::NewArgs;
use crate::commands::Outcome;
use crate::failure::Failure;
use crate::output::{NewFolder, print, write_new_file};
use crate::request::ids;
use crate::sources::BUILT_IN;
use catalogue::text::path_name;

/// The chart to start from.
const CHART: &str = include_str!("new/chart.toml");
/// The piece to start from.
const PIECE: &str = include_str!("new/piece.toml");
const NAME: &str = "my-filling";
const TITLE: &str = "My filling";

/// Writes a crate into a new folder.
pub fn run(args: &NewArgs) -> Result<Outcome, Failure> {
    let name = &args.name;
    ids::check(name)?;
    if args.piece {
        piece(name)?;
        return Ok(Outcome::Done);
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

/// Writes a piece.
fn piece(name: &str) -> Result<(), Failure> {
    let file = Path::new(name).with_extension("toml");
    write_new_file(&file, PIECE.as_bytes())?;
    print(&format!(
        "{0}: a pointed bookmark with four roses, ready to be changed. Open it in any text editor, then\n\n  pairwise piece {0}\n\n`pairwise piece --help` says what each line means.\n",
        path_name(&file)
    ))
}

/// The title a lacemaker reads, made from a plain word.
fn title(name: &str) -> String {
    let words = name.replace('-', " ");
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_ascii_uppercase().to_string() + letters.as_str())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_title_is_made_from_a_plain_word() {
        assert_eq!(title("4-pin-rose"), "4 pin rose");
    }
}
