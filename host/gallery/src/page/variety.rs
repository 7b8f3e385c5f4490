//! A variety on the page of its ground: its texts and facts.

use catalogue::language;
use catalogue::{About, OtherName};
use compare::facts;
use compare::scale::thread_in_words;
use lace::{Ground, number};
use serde::Serialize;

use crate::GalleryError;
use crate::drawings::{self, DiagramSize};
use crate::drawn_variety::DrawnVariety;
use crate::page::words::window_in_words;
use crate::shared::{Gallery, VARIETY_PX};

/// Most stitch ids listed in a row of the table of stitches; the rest are only
/// counted.
const STITCHES_NAMED: usize = 6;

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
    /// How much lace the picture shows.
    window: String,
    travel: String,
    stitches: Vec<StitchView>,
    facts: Vec<(&'static str, String)>,
    /// Scale of the working diagram against the lace.
    enlarged: String,
    /// Its side, and the height of its key, in pixels.
    diagram_px: u32,
    key_px: u32,
    /// What to know before the steps, the steps, and how the work goes on.
    start: String,
    steps: Vec<String>,
    going_on: String,
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
        self.window = window_in_words(&drawn.large);
        self.alt = format!("{} worked in {}. {}", self.title, gallery.hung(), self.travel);
        self.stitches = stitches(ground);
        let scale = gallery.scale();
        let about = drawn.chosen.about();
        self.facts = vec![
            ("Pin spacing", scale.spacing_in_words(about)),
            ("Thread", thread_in_words(scale.thread(about))),
        ];
        self.facts.extend(facts::in_words(ground, drawn.grid()));
        let order = ground.order_of_working();
        self.steps = ground.steps_in_words(&order);
        self.start = order.start_in_words();
        self.going_on = ground.going_on_in_words(&order);
        let DiagramSize { enlarged, side, key_height } = drawings::write(gallery, drawn)?;
        self.enlarged = number(enlarged);
        let wide = side * f64::from(VARIETY_PX);
        self.diagram_px = wide.round() as u32;
        self.key_px = (key_height * wide).round() as u32;
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
    letters: Option<String>,
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
            letters: stitch.letters(),
            words: ground.kind_in_words(stitch),
            at: format!("{}{more}", ids.join(", ")),
        }
    };
    ground.distinct_stitches().into_iter().map(view).collect()
}
