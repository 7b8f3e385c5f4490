//! `handout`: the printed pages of a class, from its recipe.

use catalogue::text::path_name;
use class::{Class, Printed};
use picture::export::pdf::PdfError;

use crate::cli::HandoutArgs;
use crate::commands::{Outcome, note_all, report_failures};
use crate::export::Format;
use crate::failure::Failure;
use crate::output::{print, write_file};
use crate::request::recipe::{RecipeFile, warn_of_missing};
use crate::request::sources::Sources;
use crate::sources;

/// Makes the handout.
pub fn run(args: &HandoutArgs, sources: &Sources) -> Result<Outcome, Failure> {
    // Refuse an unusable file name before doing any work.
    if Format::of(&args.out)? != Format::Pdf {
        return Err(Failure::Value {
            what: format!("a handout is several pages, and {} holds one", path_name(&args.out)),
            help: "let the name end in .pdf".to_owned(),
        });
    }
    let catalogue = sources::catalogue(sources)?;
    let paper = args.paper.map(Into::into);
    let class = Class::new(RecipeFile::open(&args.recipe, paper, &catalogue)?.without_faults()?)?;
    note_all(class.notes());
    let missing = warn_of_missing(&class, "handout");
    let printed = class.handout()?;
    write_file(&args.out, &printed.bytes)?;
    let outcome = report_failures(catalogue.left_out());
    print(&report(args, &class, &printed, missing))?;
    Ok(outcome.and(Outcome::findings(missing > 0)))
}

/// A line about what was made.
fn report(args: &HandoutArgs, class: &Class, printed: &Printed, missing: usize) -> String {
    let grounds = class.recipe.grounds.len() - missing;
    format!(
        "{}: {grounds} {} on {} pages of {} by {} mm\n",
        path_name(&args.out),
        if grounds == 1 { "ground" } else { "grounds" },
        printed.pages,
        class.recipe.paper.width,
        class.recipe.paper.height
    )
}

impl From<PdfError> for Failure {
    fn from(why: PdfError) -> Failure {
        Failure::Value {
            what: why.to_string(),
            help: "this is a fault of pairwise itself; please report it with the command you gave".to_owned(),
        }
    }
}
