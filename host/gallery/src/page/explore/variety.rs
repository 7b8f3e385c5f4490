//! A variety as the script knows it.

use std::io::Write;

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use catalogue::About;
use catalogue::fold::fold;
use catalogue::list::Listing;
use compare::drawn_pairs::USUAL_PAIRS;
use compare::facts;
use compare::pattern::SoftenedRepeat;
use compare::scale::{Scale, thread_in_words};
use compare::thumbnail::{Thumbnail, stencil};
use flate2::Compression;
use flate2::write::DeflateEncoder;
use lace::{Ground, number};
use picture::export::stencil::Stencil;
use report::explore::{Fact, Large, Softened, Variety};

use super::SMALL_PX;
use super::script::script;
use crate::GalleryError;
use crate::drawn_variety::DrawnVariety;
use crate::page::words::{family_in_words, kind, stitch_in_words};
use crate::shared::Gallery;

/// A variety that can be searched, filtered, sorted and recoloured.
pub struct ExploredVariety {
    /// Its data for the script.
    pub report: Variety,
    /// Its small stencil: packed, compressed, in base64.
    pub picture: String,
}

impl ExploredVariety {
    /// Prepares a variety for the script and writes its large data.
    pub fn write<E>(
        gallery: &Gallery<'_, E>,
        drawn: &DrawnVariety<'_>,
        large: &Thumbnail,
    ) -> Result<ExploredVariety, GalleryError<E>> {
        let pairs = gallery.stencil_pairs;
        if let Some(large) = large.stencil(pairs) {
            let name = drawn.chosen.name();
            let large = Large { picture: in_letters(large, pairs), ways: ways(drawn.ground()) };
            let text = script(&format!("pairwise.large[\"{name}\"]"), &large)?;
            gallery.write(&format!("data/{name}.js"), text.as_bytes())?;
        }
        let side = gallery.scale().window_mm();
        let small = stencil(drawn.ground(), &drawn.layout, side, SMALL_PX, pairs);
        Ok(ExploredVariety {
            report: report(gallery.scale(), drawn, &small),
            picture: in_letters(&small, pairs),
        })
    }
}

fn report(scale: &Scale, drawn: &DrawnVariety<'_>, small: &Stencil) -> Variety {
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
        diagram_mm: scale.diagram_window_mm(about),
        pairs: measures.pairs_per_repeat,
        pins: measures.pins_per_repeat,
        works: listing.stitches.len(),
        pairs_per_cm: measures.pairs_per_cm,
        pins_per_cm2: measures.pins_per_cm2,
        moves_per_cm2: measures.moves_per_cm2,
        softened: softened(drawn),
        open: 100.0 * (1.0 - small.seen().iter().sum::<f64>()),
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
    let stitches: Vec<String> = listing.stitches.iter().map(|s| stitch_in_words(&s.stitch)).collect();
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
    let Ok(trace) = ground.trace(USUAL_PAIRS, 1) else { return Vec::new() };
    (1..=USUAL_PAIRS).map(|pair| ground.pair_in_words(&trace, pair)).collect()
}

/// What is seen of the threads of a repeat.
fn softened(drawn: &DrawnVariety<'_>) -> Softened {
    let softened = SoftenedRepeat::new(drawn.ground(), &drawn.layout);
    Softened {
        size: softened.size,
        shift: softened.shift,
        row: (0..softened.slots() as i64).map(|slot| softened.row.apply(slot)).collect(),
        places: compressed(&softened.packed()),
    }
}

/// A stencil packed, compressed and encoded in base64.
fn in_letters(stencil: &Stencil, pairs: usize) -> String {
    let period = u8::try_from(2 * pairs).unwrap_or(u8::MAX);
    compressed(&stencil.packed(period).unwrap_or_default())
}

/// Bytes compressed and encoded in base64.
fn compressed(bytes: &[u8]) -> String {
    let mut small = DeflateEncoder::new(Vec::new(), Compression::default());
    let small = small.write_all(bytes).and_then(|()| small.finish());
    STANDARD.encode(small.expect("writing to memory does not fail"))
}
