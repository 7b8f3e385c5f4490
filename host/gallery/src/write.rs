//! Writing a gallery from its plan: every page with its pictures.

use compare::note::Note;
use rayon::prelude::*;

use crate::GalleryError;
use crate::page;
use crate::plan::{GalleryPlan, ShownGround};
use crate::shared::{Gallery, Sink};

impl GalleryPlan<'_> {
    /// Makes all files and passes each to `sink`, as its path (with slashes) and
    /// its bytes, on all processors. `step` is called after each ground. Returns
    /// notes for the user about the pictures.
    ///
    /// # Errors
    /// Errors of `sink`, and a ground that cannot be pricked.
    pub fn write<E: Send>(
        &self,
        sink: &Sink<'_, E>,
        step: &(dyn Fn() + Sync),
    ) -> Result<Vec<Note>, GalleryError<E>> {
        let gallery = Gallery::new(self, sink)?;
        gallery.write_sources()?;
        let page = |ground: &ShownGround| -> Result<_, GalleryError<E>> {
            let parts = page::ground::write(&gallery, ground)?;
            step();
            Ok(parts)
        };
        let grounds = self.grounds.par_iter().map(page).collect::<Result<Vec<_>, _>>()?;
        let mut parts = page::ground::Collected::new(grounds);
        page::explore::write(&gallery, &parts.explored)?;
        page::side_by_side::write(&gallery, &parts.rows)?;
        if let Some(class) = &self.request.class {
            page::class::write(&gallery, class)?;
        }
        page::names::write(&gallery)?;
        page::glossary::write(&gallery)?;
        page::faults::write(&gallery)?;
        page::index::write(&gallery, std::mem::take(&mut parts.cards))?;
        Ok(parts.notes)
    }
}
