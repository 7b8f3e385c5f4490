//! The request of the `gallery` command.

use catalogue::Catalogue;
use catalogue::text::path_name;
use class::Class;
use compare::note::Note;
use compare::scale::Scale;
use gallery::{ClassRequest, GalleryRequest, MOST_ARRANGEMENTS};

use super::colours::ArrangementsRequest;
use super::gauge::windowed_scale;
use super::recipe::RecipeFile;
use crate::cli::GalleryArgs;
use crate::failure::Failure;

/// A gallery whose grounds have not been looked up yet.
pub struct UnresolvedGallery<'a> {
    args: &'a GalleryArgs,
    scale: Scale,
    colours: ArrangementsRequest,
}

/// A gallery with its grounds.
pub struct ResolvedGallery<'c> {
    /// What to show.
    pub request: GalleryRequest<'c>,
    /// The recipe of the class, if there is one.
    pub recipe: Option<RecipeFile>,
}

impl<'a> UnresolvedGallery<'a> {
    /// Reads the arguments.
    pub fn read(args: &'a GalleryArgs) -> Result<UnresolvedGallery<'a>, Failure> {
        let scale = windowed_scale(&args.gauge, &args.window)?;
        let colours = ArrangementsRequest::read(&args.arrangements)?;
        if args.arrangements.max > MOST_ARRANGEMENTS {
            return Err(Failure::Value {
                what: format!("a table of {} arrangements is too wide for a page", args.arrangements.max),
                help: format!(
                    "give --max {MOST_ARRANGEMENTS} at most; `pairwise grid` puts more on several pictures"
                ),
            });
        }
        Ok(UnresolvedGallery { args, scale, colours })
    }

    /// Notes for the user about the colours.
    pub fn notes(&self) -> Vec<Note> {
        self.colours.notes()
    }

    /// Looks up the grounds of the class.
    pub fn resolve(self, catalogue: &Catalogue) -> Result<ResolvedGallery<'_>, Failure> {
        let UnresolvedGallery { args, scale, colours } = self;
        let recipe =
            args.recipe.as_deref().map(|path| RecipeFile::open(path, None, catalogue)).transpose()?;
        let class = match (&args.recipe, &recipe) {
            (Some(path), Some(recipe)) => Some(ClassRequest {
                file: path_name(path.file_name().unwrap_or_default().as_ref()),
                class: recipe.read.recipe.clone().map(Class::new).transpose()?,
                faults: recipe.read.faults.clone(),
            }),
            _ => None,
        };
        let request = GalleryRequest {
            catalogue,
            arrangements: colours.wanted,
            palette: colours.palette,
            seen_by: colours.seen_by,
            scale,
            class,
            version: env!("CARGO_PKG_VERSION"),
        };
        Ok(ResolvedGallery { request, recipe })
    }
}
