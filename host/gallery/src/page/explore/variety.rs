//! A variety as the script knows it.

use std::io::Write;

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use catalogue::About;
use catalogue::fold::fold;
use catalogue::list::Listing;
use compare::facts;
use compare::pattern::SoftenedRepeat;
use compare::scale::{Scale, thread_in_words};
use compare::thumbnail::Thumbnail;
use compare::window::windows;
use flate2::Compression;
use flate2::write::DeflateEncoder;
use lace::limits::MAX_ROWS;
use lace::{Grid, Ground, number};
use report::explore::{Fact, Large, Repeat, Softened, Variety};

use super::SMALL_PX;
use super::script::script;
use crate::GalleryError;
use crate::drawings;
use crate::drawn_variety::DrawnVariety;
use crate::page::words::{family_in_words, kind, stitch_in_words};
use crate::shared::Gallery;

/// How many pairs can be followed across a picture.
const FOLLOWED: usize = 24;

/// A variety that can be searched, filtered, sorted and recoloured.
pub struct ExploredVariety {
    /// Its data for the script.
    pub report: Variety,
    /// Its small stencil: packed, compressed, in base64.
    pub picture: String,
    /// The same with as much lace as each of the windows; `None` where that is
    /// what the small one shows.
    pub wider: Vec<Option<String>>,
}

impl ExploredVariety {
    /// Prepares a variety for the script and writes its large data.
    pub fn write<E>(
        gallery: &Gallery<'_, E>,
        drawn: &DrawnVariety<'_>,
        large: &Thumbnail,
    ) -> Result<ExploredVariety, GalleryError<E>> {
        let name = drawn.chosen.name();
        let large = Large { picture: in_letters(large), ways: ways(drawn.ground()) };
        let text = script(&format!("pairwise.large[\"{name}\"]"), &large)?;
        gallery.write(&format!("data/{name}.js"), text.as_bytes())?;
        let draw = |mm: f64| Thumbnail::new(drawn.ground(), drawn.layout.clone(), mm, SMALL_PX);
        let own = drawn.small.window_mm;
        let wider = |mm: f64| (mm != own).then(|| in_letters(&draw(mm)));
        let wider = windows(gallery.scale().window_mm()).map(wider).to_vec();
        let small = draw(own);
        let report = report(gallery, drawn, &small);
        Ok(ExploredVariety { report, picture: in_letters(&small), wider })
    }
}

fn report<E>(gallery: &Gallery<'_, E>, drawn: &DrawnVariety<'_>, small: &Thumbnail) -> Variety {
    let scale = gallery.scale();
    let listing = Listing::new(drawn.chosen.clone(), drawn.grid());
    let (about, measures) = (listing.about(), &listing.measures);
    let names = names(&listing);
    Variety {
        name: drawn.chosen.name(),
        page: format!("grounds/{}.html#variety-{}", about.id, drawn.chosen.variety),
        title: listing.variety().title.clone(),
        ground: about.title.clone(),
        kind: about.kind.into(),
        family: about.family.clone(),
        family_title: family_in_words(&about.family),
        laces: about.laces.clone(),
        goes: listing.colours_go().into(),
        travel: drawn.travel.clone(),
        pin_spacing_mm: measures.pin_spacing_mm,
        diagram_mm: drawings::diagram_mm(gallery, drawn),
        pairs: measures.pairs_per_repeat,
        pins: measures.pins_per_repeat,
        works: listing.stitches.len(),
        pairs_per_cm: measures.pairs_per_cm,
        pins_per_cm2: measures.pins_per_cm2,
        moves_per_cm2: measures.moves_per_cm2,
        softened: softened(drawn),
        open: 100.0 * small.open(),
        small_mm: drawn.small.window_mm,
        large_mm: drawn.large.window_mm,
        repeat: repeat(drawn.ground(), drawn.grid()),
        folded: names.iter().map(|name| fold(name)).collect(),
        names,
        facts: facts_side_by_side(scale, drawn, &listing),
    }
}

/// All names that a search can find a variety by.
fn names(listing: &Listing) -> Vec<String> {
    let (about, variety) = (listing.about(), listing.variety());
    let own = [variety.title.clone(), about.title.clone(), listing.chosen.name()];
    let other = about.other_names.iter().chain(&variety.other_names).map(|n| n.name.clone());
    let mut names: Vec<String> = own.into_iter().chain(other).collect();
    names.extend(about.laces.iter().cloned());
    names.dedup();
    names
}

/// The facts to compare side by side, with the same names for every ground.
fn facts_side_by_side(scale: &Scale, drawn: &DrawnVariety<'_>, listing: &Listing) -> Vec<Fact> {
    let about: &About = listing.about();
    let m = &listing.measures;
    let stitches: Vec<String> =
        listing.stitches.iter().map(|s| stitch_in_words(&listing.chosen.ground, &s.stitch)).collect();
    let mut all = vec![
        ("Kind", kind(about).to_owned()),
        ("Family", family_in_words(&about.family)),
        ("Used in", about.laces.join(", ")),
        ("Angle", format!("{} degrees", number(m.angle_from_footside_deg))),
        ("Pin spacing", scale.spacing_in_words(about)),
        ("Thread", thread_in_words(scale.thread(about))),
        ("Where the threads go", drawn.travel.clone()),
        ("Stitches", stitches.join("; ")),
        ("Different stitches", stitches.len().to_string()),
        ("Pairs in a repeat", m.pairs_per_repeat.to_string()),
        ("Pins in a repeat", m.pins_per_repeat.to_string()),
        ("Stitches in a repeat", m.stitches_per_repeat.to_string()),
        ("Moves in a repeat", m.moves_per_repeat.to_string()),
    ];
    // The first fact would repeat the four above.
    all.extend(facts::in_words(drawn.ground(), drawn.grid()).into_iter().skip(1));
    all.into_iter().map(|(what, value)| Fact(what.to_owned(), value)).collect()
}

/// Where each pair goes, from left to right, one sentence each; empty if the
/// ground is too wide to trace.
fn ways(ground: &Ground) -> Vec<String> {
    let Ok(trace) = ground.trace(FOLLOWED, 1) else { return Vec::new() };
    (1..=FOLLOWED).map(|pair| ground.pair_in_words(&trace, pair)).collect()
}

/// What is seen of the threads of a repeat.
fn softened(drawn: &DrawnVariety<'_>) -> Softened {
    let softened = SoftenedRepeat::new(drawn.ground(), &drawn.layout);
    Softened {
        size: softened.size,
        place: softened.place,
        shift: softened.shift,
        row: (0..softened.slots() as i64).map(|slot| softened.row.apply(slot)).collect(),
        places: compressed(&softened.packed()),
    }
}

/// What the script needs to know to tell where colours repeat.
fn repeat(ground: &Ground, grid: &Grid) -> Repeat {
    let (upright, inverse) = (ground.upright(), ground.hanging().row_inverse());
    let below = (1..=MAX_ROWS as i64).find_map(|rows| Some((rows, upright.columns_back(rows)?)));
    let (every, back) = below.unwrap_or((MAX_ROWS as i64 + 1, 0));
    Repeat {
        width_mm: upright.width() * grid.step_x_mm(),
        row_mm: upright.row_height() * grid.step_y_mm(),
        row: (0..inverse.period() as i64).map(|place| inverse.apply(place)).collect(),
        every,
        back,
    }
}

/// The stencil of a picture packed, compressed and encoded in base64.
fn in_letters(picture: &Thumbnail) -> String {
    compressed(&picture.packed())
}

/// Bytes compressed and encoded in base64.
fn compressed(bytes: &[u8]) -> String {
    let mut small = DeflateEncoder::new(Vec::new(), Compression::default());
    let small = small.write_all(bytes).and_then(|()| small.finish());
    STANDARD.encode(small.expect("writing to memory does not fail"))
}
