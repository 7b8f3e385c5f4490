//! A variety, laid out, with its pictures.

use catalogue::Chosen;
use chart_files::chart_of;
use compare::comparison::unsettled;
use compare::note::Note;
use compare::thumbnail::Thumbnail;
use compare::window::{Repeats, Shown};
use lace::{Grid, Ground};
use picture::export::image::Image;
use picture::layout::Layout;

use crate::GalleryError;
use crate::page::words::in_a_line;
use crate::shared::{Gallery, LARGE_COLOURS, SMALL_COLOURS, VARIETY_PX, small_px};

/// A variety, laid out.
pub struct DrawnVariety<'a> {
    /// The variety.
    pub chosen: &'a Chosen,
    /// The layout of its threads.
    pub layout: Layout,
    /// Where its threads go, a sentence.
    pub travel: String,
    /// What its small picture shows.
    pub small: Shown,
    /// What its large picture shows.
    pub large: Shown,
}

impl<'a> DrawnVariety<'a> {
    /// Lays a variety out.
    pub fn new<E>(gallery: &Gallery<'_, E>, chosen: &'a Chosen) -> Result<DrawnVariety<'a>, GalleryError<E>> {
        let layout = gallery.scale().lay_out(chosen)?;
        let [small, large] = shown(gallery, &chosen.ground, &layout.grid);
        let travel = chosen.ground.travel_sentence();
        Ok(DrawnVariety { chosen, layout, travel, small, large })
    }

    /// The ground.
    pub fn ground(&self) -> &Ground {
        &self.chosen.ground
    }

    /// Its pricking.
    pub fn grid(&self) -> &Grid {
        &self.layout.grid
    }

    /// A line with pairs, pins and where colours go.
    pub fn line<E>(&self, gallery: &Gallery<'_, E>) -> String {
        in_a_line(self.chosen, gallery.scale())
    }

    /// A note if its threads did not come to rest.
    pub fn note(&self) -> Option<Note> {
        unsettled(&self.layout, self.chosen)
    }

    /// Writes the large picture and the small one, which is its corner. Returns
    /// the drawing of the large one.
    pub fn write_pictures<E>(&self, gallery: &Gallery<'_, E>) -> Result<Thumbnail, GalleryError<E>> {
        let name = self.chosen.name();
        let large = Thumbnail::new(self.ground(), self.layout.clone(), self.large.window_mm, VARIETY_PX);
        let px_per_mm = f64::from(VARIETY_PX) / self.large.window_mm;
        let image = large.paint(&gallery.arrangement, &gallery.painted);
        let small = corner(&image, small_px(gallery.scale()));
        let png = |image: &Image, colours| image.reduced(colours).to_png(px_per_mm);
        gallery.write(&format!("large/{name}.png"), &png(&image, LARGE_COLOURS))?;
        gallery.write(&format!("small/{name}.png"), &png(&small, SMALL_COLOURS))?;
        Ok(large)
    }

    /// The variety as the text of a chart.
    pub fn chart(&self) -> String {
        let Chosen { variety, ground, .. } = self.chosen;
        let about = self.chosen.about();
        chart_of(about, variety, &format!("my-{}", about.id), ground.repeat(), ground.places())
    }
}

/// What the small and the large picture of a ground show. The lace of the small
/// one is chosen to suit, and the large one shows more in proportion.
pub fn shown<E>(gallery: &Gallery<'_, E>, ground: &Ground, grid: &Grid) -> [Shown; 2] {
    let scale = gallery.scale();
    let (usual_mm, large_mm) = (scale.window_mm(), scale.large_window_mm());
    let repeats = Repeats::new(ground, grid, &gallery.arrangement);
    let window_mm = scale.window_for(ground, grid, [&gallery.arrangement]);
    let small = Shown { window_mm, usual_mm, repeats };
    [small, Shown { window_mm: window_mm / usual_mm * large_mm, usual_mm: large_mm, repeats }]
}

/// The upper left corner of a picture.
fn corner(image: &Image, px: u32) -> Image {
    let mut part = Image::new(px, px, None);
    part.lay(image, 0, 0);
    part
}
