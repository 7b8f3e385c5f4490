//! `explain`: what a finding means, why it matters, what to do, with examples.

use catalogue::suggest;
use lace::Code;

use crate::cli::ExplainArgs;
use crate::commands::Outcome;
use crate::commands::gallery::pages;
use crate::failure::Failure;
use crate::manual::{page, words};
use crate::output::{print, write_file};

/// Prints the long form of one code or the list of all, or writes the page.
pub fn run(args: &ExplainArgs) -> Result<Outcome, Failure> {
    if let Some(path) = &args.page {
        let ending = path.extension().and_then(|e| e.to_str()).unwrap_or_default().to_ascii_lowercase();
        if !["html", "htm"].contains(&ending.as_str()) {
            return Err(Failure::Value {
                what: format!("the name {} does not say that it is a page", path.display()),
                help: "let it end in .html".to_owned(),
            });
        }
        write_file(path, page::alone(&pages()?)?.as_bytes())?;
        print(&format!("{}: {} findings. Open it in your browser.\n", path.display(), Code::ALL.len()))?;
        return Ok(Outcome::Done);
    }
    let Some(word) = &args.code else {
        print(&words::list())?;
        return Ok(Outcome::Done);
    };
    let Some(code) = Code::ALL.iter().find(|c| c.word() == word) else {
        let help = suggest(word, Code::ALL.iter().map(|c| c.word()), "`pairwise explain` lists all findings");
        return Err(Failure::Unknown { what: "the finding", name: word.clone(), help });
    };
    print(&words::long(*code))?;
    Ok(Outcome::Done)
}
