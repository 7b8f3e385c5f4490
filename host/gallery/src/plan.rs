//! What a gallery shows: the request, and the plan made from it.

use std::sync::Arc;

use catalogue::{About, Catalogue, Chosen, Entry, LeftOut};
use class::Class;
use class::recipe::RecipeFault;
use compare::arrangements::{ArrangementsWanted, ShownArrangements};
use compare::note::Note;
use compare::palette::Palette;
use compare::scale::Scale;
use picture::colour::vision::Vision;
use rayon::prelude::*;
use thiserror::Error;

/// Most arrangements in a table; with more it is wider than browsers can show.
pub const MOST_ARRANGEMENTS: u32 = 256;

/// A request for a gallery.
#[derive(Clone, Debug)]
pub struct GalleryRequest<'a> {
    /// The grounds and fillings.
    pub catalogue: &'a Catalogue,
    /// The arrangements in the tables, at most [`MOST_ARRANGEMENTS`].
    pub arrangements: ArrangementsWanted,
    /// The colours themselves.
    pub palette: Palette,
    /// Colour vision to paint them for; `None` for normal vision.
    pub seen_by: Option<Vision>,
    /// Pin spacing and thread.
    pub scale: Scale,
    /// The class, if there is one.
    pub class: Option<ClassRequest>,
    /// The version of the program, for the foot of each page.
    pub version: &'a str,
}

/// The recipe of a class, as far as it could be read.
#[derive(Clone, Debug)]
pub struct ClassRequest {
    /// The name of the recipe's file.
    pub file: String,
    /// The class; `None` if nothing of the recipe can be read.
    pub class: Option<Class>,
    /// The faults of the recipe. The page lists them, and there is no handout if
    /// there are any.
    pub faults: Vec<RecipeFault>,
}

/// Why no gallery can be made.
#[derive(Debug, Error)]
pub enum PlanError {
    /// No ground can be worked.
    #[error("there is no ground to show")]
    NoGround(Vec<LeftOut>),
    /// No arrangement has one of the names asked for.
    #[error(transparent)]
    Compare(#[from] compare::error::Error),
}

/// A gallery ready to be written.
#[derive(Debug)]
pub struct GalleryPlan<'a> {
    pub(crate) request: GalleryRequest<'a>,
    pub(crate) grounds: Vec<ShownGround>,
    pub(crate) arrangements: ShownArrangements,
    left_out: Vec<LeftOut>,
}

/// A ground with all its varieties, at least one of which can be worked.
#[derive(Debug)]
pub(crate) struct ShownGround {
    pub entry: Arc<Entry>,
    pub varieties: Vec<ShownVariety>,
}

/// A variety, or why it cannot be worked.
#[derive(Debug)]
pub(crate) struct ShownVariety {
    pub id: String,
    pub chosen: Result<Chosen, String>,
}

impl ShownGround {
    /// Asks a contribution for all its varieties.
    fn new(entry: &Arc<Entry>) -> ShownGround {
        let variety = |id: &String| ShownVariety {
            id: id.clone(),
            chosen: entry.choose(Some(id), &[]).map_err(|why| why.to_string()),
        };
        ShownGround { entry: entry.clone(), varieties: entry.about().varieties.keys().map(variety).collect() }
    }

    /// The contribution's description of itself.
    pub fn about(&self) -> &About {
        self.entry.about()
    }

    /// The first variety that can be worked; a ground without one gets no page.
    pub fn usual(&self) -> Option<&Chosen> {
        self.varieties.iter().find_map(|variety| variety.chosen.as_ref().ok())
    }

    fn left_out(&self) -> impl Iterator<Item = LeftOut> {
        let faults = self.varieties.iter().filter_map(|variety| variety.chosen.as_ref().err());
        faults.map(|why| LeftOut { file: self.entry.file().to_owned(), why: why.clone() })
    }
}

impl<'a> GalleryPlan<'a> {
    /// Looks up all varieties, on all processors, and decides which arrangements
    /// to show.
    ///
    /// # Errors
    /// If no ground can be worked, or no arrangement has a name asked for.
    pub fn new(request: GalleryRequest<'a>) -> Result<GalleryPlan<'a>, PlanError> {
        let catalogue = request.catalogue;
        let mut grounds: Vec<ShownGround> = catalogue.entries().par_iter().map(ShownGround::new).collect();
        let mut left_out = catalogue.left_out().to_vec();
        left_out.extend(grounds.iter().flat_map(ShownGround::left_out));
        grounds.retain(|ground| ground.usual().is_some());
        let usual: Vec<&Chosen> = grounds.iter().filter_map(ShownGround::usual).collect();
        if usual.is_empty() {
            return Err(PlanError::NoGround(left_out));
        }
        let scale = request.scale.showing(usual.iter().map(|chosen| chosen.about()));
        let request = GalleryRequest { scale, ..request };
        let colours = request.palette.colours().len();
        let arrangements = ShownArrangements::new(&request.arrangements, colours, &usual)?;
        Ok(GalleryPlan { request, grounds, arrangements, left_out })
    }

    /// Number of grounds and fillings that have a page.
    pub fn grounds(&self) -> usize {
        self.grounds.len()
    }

    /// Contributions and varieties that cannot be shown. The index page says why.
    pub fn left_out(&self) -> &[LeftOut] {
        &self.left_out
    }

    /// The class, if there is one.
    pub fn class(&self) -> Option<&ClassRequest> {
        self.request.class.as_ref()
    }

    /// Notes for the user before the gallery is made.
    pub fn notes(&self) -> Vec<Note> {
        let crowded = self.request.scale.note(self.grounds.iter().map(ShownGround::about));
        crowded.into_iter().chain(self.arrangements.fit.clone()).collect()
    }

    /// A note for the user about the finished gallery, if arrangements are left
    /// out.
    pub fn left_out_note(&self) -> Option<Note> {
        self.arrangements.left_out_note()
    }
}
