//! `handout`: the printed pages of a class, from its recipe.

use crate::class::Class;
use crate::cli::{HandoutArgs, Sources};
use crate::commands::{Outcome, report_failures};
use crate::export::Format;
use crate::failure::Failure;
use crate::output::{print, write_file};
use crate::recipe::read;
use crate::sources;

/// Makes the handout. Returns whether something in it is missing or a
/// contribution failed.
pub fn run(args: &HandoutArgs, sources: &Sources) -> Result<Outcome, Failure> {
    // Refuse what cannot be written before any work is done.
    if Format::of(&args.out)? != Format::Pdf {
        return Err(Failure::Value {
            what: format!("a handout is several pages, and {} holds one", args.out.display()),
            help: "let the name end in .pdf".to_owned(),
        });
    }
    let catalogue = sources::catalogue(sources)?;
    let recipe = read(&args.recipe, args.paper, &catalogue).map_err(|faulty| faulty.failure)?;
    let class = Class::new(recipe)?;
    let left_out = class.tell_left_out("handout");
    let printed = class.handout()?;
    write_file(&args.out, &printed.bytes)?;
    let outcome = report_failures(catalogue.left_out());
    let grounds = class.recipe.grounds.len() - left_out;
    print(&format!(
        "{}: {grounds} {} on {} pages of {} by {} mm\n",
        args.out.display(),
        if grounds == 1 { "ground" } else { "grounds" },
        printed.pages,
        class.recipe.paper.width,
        class.recipe.paper.height
    ))?;
    Ok(outcome.and(Outcome::findings(left_out > 0)))
}
