//! `gallery`: a folder of pages and pictures that opens from disk.

use std::path::Path;

use catalogue::text::path_name;
use gallery::{ClassRequest, GalleryError, GalleryPlan, PlanError};

use crate::cli::GalleryArgs;
use crate::commands::{Outcome, note_all, report_failures};
use crate::failure::Failure;
use crate::output::{NewGallery, print, warn};
use crate::progress::Progress;
use crate::remedy::with_remedy;
use crate::request::gallery::{ResolvedGallery, UnresolvedGallery};
use crate::request::recipe::{RecipeFile, warn_of_missing};
use crate::request::sources::Sources;
use crate::sources;

/// Makes the gallery.
pub fn run(args: &GalleryArgs, sources: &Sources) -> Result<Outcome, Failure> {
    let request = UnresolvedGallery::read(args)?;
    note_all(request.notes());
    // Refuse an unusable place before doing any work.
    let folder = NewGallery::begin(&args.out)?;
    let catalogue = sources::catalogue(sources)?;
    let ResolvedGallery { request, recipe } = request.resolve(&catalogue)?;
    note_all(request.class.iter().flat_map(|class| &class.class).flat_map(|class| class.notes()));
    let plan = GalleryPlan::new(request)?;
    note_all(plan.notes());
    write(&plan, folder)?;
    print(&report(&plan, &args.out))?;
    let class = match (plan.class(), &recipe) {
        (Some(class), Some(recipe)) => report_class(class, recipe),
        _ => Outcome::Done,
    };
    Ok(report_failures(plan.left_out()).and(class))
}

/// Writes all files into a temporary folder, then moves it into place.
fn write(plan: &GalleryPlan<'_>, folder: NewGallery) -> Result<(), Failure> {
    let progress = Progress::new(plan.grounds(), "Making pages");
    let notes = plan.write(&|path, bytes| folder.write(path, bytes), &|| progress.step())?;
    drop(progress);
    note_all(notes);
    folder.finish(env!("CARGO_PKG_VERSION"))
}

/// Where the gallery is, and a note if arrangements were left out.
fn report(plan: &GalleryPlan<'_>, place: &Path) -> String {
    let index = std::path::absolute(place).unwrap_or(place.to_owned()).join("index.html");
    let mut text = format!("The gallery is made. Open {} in your browser.\n", path_name(&index));
    if let Some(note) = plan.left_out_note() {
        text.push_str(&format!("{}\n", with_remedy(&note)));
    }
    text
}

/// Prints to standard error what is wrong with the recipe and which grounds are
/// missing.
fn report_class(class: &ClassRequest, recipe: &RecipeFile) -> Outcome {
    let missing = class.class.as_ref().map_or(0, |class| warn_of_missing(class, "class"));
    let faults = recipe.faults();
    let faulty = faults.is_some();
    if let Some(faults) = faults {
        warn(&format!("{:?}", miette::Report::new(faults)));
        warn(
            "The gallery is made all the same; its page for the class says what is wrong. There is no handout.",
        );
    }
    Outcome::findings(faulty || missing > 0)
}

impl From<PlanError> for Failure {
    fn from(why: PlanError) -> Failure {
        match why {
            PlanError::NoGround(left_out) => Failure::NoGround {
                what: "there is no ground to show",
                help: "`pairwise check` says what is wrong with each",
                left_out,
            },
            PlanError::Compare(why) => why.into(),
        }
    }
}

impl From<GalleryError<Failure>> for Failure {
    fn from(why: GalleryError<Failure>) -> Failure {
        match why {
            GalleryError::Write(why) => why,
            GalleryError::Compare(why) => why.into(),
            GalleryError::Pdf(why) => why.into(),
            GalleryError::Page(why) => why.into(),
            GalleryError::Json(why) => why.into(),
        }
    }
}
