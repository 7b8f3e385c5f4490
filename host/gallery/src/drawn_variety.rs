//! A variety, laid out, with its pictures.

use catalogue::Chosen;
use chart_files::chart_of;
use compare::comparison::unsettled;
use compare::note::Note;
use compare::thumbnail::Thumbnail;
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
}

impl<'a> DrawnVariety<'a> {
    /// Lays a variety out.
    pub fn new<E>(gallery: &Gallery<'_, E>, chosen: &'a Chosen) -> Result<DrawnVariety<'a>, GalleryError<E>> {
        let layout = gallery.scale().lay_out(chosen)?;
        Ok(DrawnVariety { chosen, layout, travel: chosen.ground.travel_sentence() })
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
    /// the stencil of the large one.
    pub fn write_pictures<E>(&self, gallery: &Gallery<'_, E>) -> Result<Thumbnail, GalleryError<E>> {
        let name = self.chosen.name();
        let window = gallery.scale().large_window_mm();
        let lengths = [gallery.stencil_pairs, gallery.arrangement.pairs().len()];
        let large = Thumbnail::new(self.ground(), self.layout.clone(), window, VARIETY_PX, &lengths);
        let px_per_mm = f64::from(VARIETY_PX) / window;
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

/// The upper left corner of a picture.
fn corner(image: &Image, px: u32) -> Image {
    let mut part = Image::new(px, px, None);
    part.lay(image, 0, 0);
    part
}
