//! A variety on the page of its ground: its drawing and its texts.

use catalogue::language;
use catalogue::{About, Chosen, OtherName};
use chart_files::chart_of;
use compare::comparison::unsettled;
use compare::facts;
use compare::note::Note;
use compare::thumbnail::Thumbnail;
use lace::{Grid, Ground, number};
use picture::drawing::working_diagram::StepsShown;
use picture::export::image::Image;
use picture::layout::Layout;
use serde::Serialize;

use super::words::in_a_line;
use crate::GalleryError;
use crate::drawings::{self, DiagramSize};
use crate::shared::{Gallery, LARGE_COLOURS, SMALL_COLOURS, VARIETY_PX, small_px};

/// Most stitch ids listed in a row of the table of stitches; the rest are only
/// counted.
const STITCHES_NAMED: usize = 6;

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
        let layout = gallery.scale().lay_out(&chosen.ground, chosen.about().angle)?;
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
    pub fn line(&self) -> String {
        in_a_line(self.ground(), self.grid())
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
    fn chart(&self) -> String {
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

/// A variety as the page shows it.
#[derive(Default, Serialize)]
pub struct VarietyView {
    id: String,
    name: String,
    /// Its title.
    pub title: String,
    notes: String,
    source: String,
    other_names: Vec<NameView>,
    /// What its picture shows, in words.
    pub alt: String,
    travel: String,
    stitches: Vec<StitchView>,
    facts: Vec<(&'static str, String)>,
    /// Scale of the working diagram against the lace.
    enlarged: String,
    /// Height of its key at the width of a picture, in pixels.
    key_px: u32,
    steps: Vec<String>,
    /// Why it cannot be worked.
    pub problem: Option<String>,
}

impl VarietyView {
    /// What the contribution says about a variety.
    pub fn new(about: &About, id: &str) -> VarietyView {
        let variety = &about.varieties[id];
        VarietyView {
            id: id.to_owned(),
            name: format!("{}/{id}", about.id),
            title: variety.title.clone(),
            notes: variety.notes.clone(),
            source: if variety.source.is_empty() { &about.source } else { &variety.source }.clone(),
            other_names: NameView::all(&variety.other_names),
            ..VarietyView::default()
        }
    }

    /// Adds the computed facts, and writes the drawings and the chart.
    pub fn fill<E>(
        &mut self,
        gallery: &Gallery<'_, E>,
        drawn: &DrawnVariety<'_>,
    ) -> Result<(), GalleryError<E>> {
        let ground = drawn.ground();
        self.travel.clone_from(&drawn.travel);
        self.alt = format!("{} worked in {}. {}", self.title, gallery.hung(), self.travel);
        self.stitches = stitches(ground);
        self.facts = facts::in_words(ground, drawn.grid());
        let StepsShown { repeats, rows } = StepsShown::of(ground);
        self.steps = ground.steps_in_words(repeats, rows);
        let DiagramSize { enlarged, key_height } = drawings::write(gallery, drawn)?;
        self.enlarged = number(enlarged);
        self.key_px = (key_height * f64::from(VARIETY_PX)).round() as u32;
        gallery.write(&format!("charts/{}.toml", self.name), drawn.chart().as_bytes())
    }
}

/// A name of the trade.
#[derive(Serialize)]
pub struct NameView {
    name: String,
    tag: String,
    language: String,
    source: String,
}

impl NameView {
    /// Names in the order given.
    pub fn all(names: &[OtherName]) -> Vec<NameView> {
        let view = |n: &OtherName| NameView {
            name: n.name.clone(),
            tag: n.language.clone(),
            language: language::in_words(&n.language),
            source: n.source.clone(),
        };
        names.iter().map(view).collect()
    }
}

/// A stitch with the places where it is worked.
#[derive(Serialize)]
struct StitchView {
    moves: String,
    words: String,
    at: String,
}

/// The different stitches of a ground.
fn stitches(ground: &Ground) -> Vec<StitchView> {
    let view = |(stitch, places): (&lace::Stitch, Vec<usize>)| {
        let ids: Vec<&str> =
            places.iter().take(STITCHES_NAMED).map(|&k| ground.stitches()[k].id.as_str()).collect();
        let more = places.len().saturating_sub(STITCHES_NAMED);
        let more = if more > 0 { format!(" and {more} more") } else { String::new() };
        StitchView {
            moves: stitch.to_string(),
            words: stitch.words(),
            at: format!("{}{more}", ids.join(", ")),
        }
    };
    ground.distinct_stitches().into_iter().map(view).collect()
}
