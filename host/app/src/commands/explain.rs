//! `explain`: what a finding means, why it matters, what to do.

use lace::{Code, Severity};

use crate::cli::ExplainArgs;
use crate::failure::{Failure, suggest};
use crate::output::print;

/// Prints the long form of one code, or the list of all.
pub fn run(args: &ExplainArgs) -> Result<(), Failure> {
    let Some(word) = &args.code else {
        let list: String = Code::ALL.iter().map(|c| format!("{:<20} {}\n", c.word(), c.means())).collect();
        return print(&list);
    };
    let Some(code) = Code::ALL.iter().find(|c| c.word() == word) else {
        let help = suggest(word, Code::ALL.iter().map(|c| c.word()), "`pairwise explain` lists all findings");
        return Err(Failure::Unknown { what: "the finding", name: word.clone(), help });
    };
    let kind = match code.severity() {
        Severity::Error => "an error: the lace cannot be worked as defined",
        Severity::Warning => "a warning: the lace can be worked, but look at it",
    };
    print(&format!(
        "{}, {kind}\n\nWhat it means\n  {}\n\nWhy it matters on the pillow\n  {}\n\nWhat to do\n  {}\n",
        code.word(),
        code.means(),
        code.why(),
        code.remedy()
    ))
}
