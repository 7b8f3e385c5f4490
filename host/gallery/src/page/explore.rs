//! The pages with a script, and the script's data: every variety with its facts
//! and names, and its pictures as stencils that the browser paints.
//!
//! Pages opened from disk cannot read files, so the data are scripts that set one
//! global variable, `pairwise`, to JSON:
//!
//! ```text
//! data/grounds.js           pairwise: varieties, colours, arrangements, ways to see
//! data/pictures.js          pairwise.pictures: a small stencil of each variety
//! data/ID/VARIETY.js        pairwise.large: a large stencil, and where pairs go
//! ```
//!
//! Stencils are packed by [`picture::export::stencil`], compressed (DEFLATE, RFC
//! 1951), and written in base64 (RFC 4648).

mod script;
mod variety;

use compare::palette::Palette;
use compare::pattern::BOUNDS;
use indexmap::IndexMap;
use lace::{Arrangement, Pattern, colour_letter};
use minijinja::context;
use picture::colour::Rgb;
use picture::colour::vision::Vision;
use picture::drawing::trace_chart::GREY;
use picture::page::contact_sheet::NamedColour;
use report::explore::{Explore, FORMAT, PatternName, Ready, Sight, Swatch};

use crate::GalleryError;
use crate::shared::{Gallery, VARIETY_PX};
use script::script;
pub use variety::ExploredVariety;

/// Side of a small picture, in pixels.
const SMALL_PX: u32 = 160;
/// Colours for letters beyond the gallery's own colours: fern, madder, straw,
/// plum, slate, linen white.
const SPARE: [(&str, Rgb); 6] = [
    ("fern", picture::colour::rgb(0x2f, 0x7d, 0x5b)),
    ("madder", picture::colour::rgb(0xa8, 0x2c, 0x3a)),
    ("straw", picture::colour::rgb(0xe6, 0xc6, 0x5c)),
    ("plum", picture::colour::rgb(0x6c, 0x3f, 0x7a)),
    ("slate", picture::colour::rgb(0x5d, 0x6b, 0x78)),
    ("white", picture::colour::rgb(0xfb, 0xf9, 0xf4)),
];
/// Number of colours that visitors can use, unless the gallery was made with
/// more.
const MOST_COLOURS: usize = 6;
/// Arrangements that are one click away.
const READY: [&str; 6] = ["A", "A B", "A A B B", "A A A B", "4A 4B", "3A 2B C"];

/// Writes the pages with a script, and its data.
pub fn write<E>(gallery: &Gallery<'_, E>, varieties: &[ExploredVariety]) -> Result<(), GalleryError<E>> {
    let grounds = script("var pairwise", &data(gallery, varieties))?;
    gallery.write("data/grounds.js", grounds.as_bytes())?;
    let pictures: IndexMap<&str, &str> =
        varieties.iter().map(|v| (v.report.name.as_str(), v.picture.as_str())).collect();
    gallery.write("data/pictures.js", script("pairwise.pictures", &pictures)?.as_bytes())?;
    for page in ["explore.html", "compare.html"] {
        gallery.page(page, "", page, context! { varieties => varieties.len() })?;
    }
    Ok(())
}

fn data<E>(gallery: &Gallery<'_, E>, varieties: &[ExploredVariety]) -> Explore {
    let scale = gallery.scale();
    let pairs = gallery.stencil_pairs;
    let fits = |length: usize| pairs.is_multiple_of(length);
    let begin = &gallery.arrangement;
    Explore {
        format: FORMAT,
        colours: colours(gallery.palette()),
        given: gallery.palette().colours().len(),
        order: if fits(begin.pairs().len()) { begin.to_string() } else { "A A B B".to_owned() },
        pairs,
        lengths: (1..=pairs).filter(|n| fits(*n)).collect(),
        ready: READY.iter().filter_map(|text| ready(text)).collect(),
        seen_by: gallery.plan.request.seen_by.map_or("", sight_id).to_owned(),
        sights: Vision::ALL.into_iter().map(sight).collect(),
        grey: GREY.to_string(),
        small_px: SMALL_PX,
        large_px: VARIETY_PX,
        small_mm: scale.window_mm(),
        large_mm: scale.large_window_mm(),
        pin_spacing_mm: scale.widest_pin_spacing_mm(),
        usual_pin_spacings: scale.given_pin_spacing_mm().is_none(),
        patterns: Pattern::ALL.iter().map(|pattern| pattern_name(*pattern)).collect(),
        bounds: BOUNDS.into(),
        varieties: varieties.iter().map(|variety| variety.report.clone()).collect(),
    }
}

/// The colours the gallery was made with, and spare ones.
fn colours(palette: &Palette) -> Vec<Swatch> {
    let own = palette.swatches();
    let spare = SPARE.iter().filter(|(_, rgb)| own.iter().all(|given| given.colour != *rgb));
    let spare = spare.map(|(name, rgb)| NamedColour { colour: *rgb, name: (*name).to_owned() });
    let count = own.len().max(MOST_COLOURS);
    let all = own.clone().into_iter().chain(spare).take(count).enumerate();
    all.map(|(k, NamedColour { colour, name })| Swatch {
        letter: colour_letter(k as u8),
        name,
        rgb: colour.to_string(),
    })
    .collect()
}

fn ready(text: &str) -> Option<Ready> {
    let arrangement: Arrangement = text.parse().ok()?;
    Some(Ready { name: arrangement.name()?.to_string(), order: arrangement.to_string() })
}

fn pattern_name(pattern: Pattern) -> PatternName {
    PatternName { id: pattern.word().to_owned(), words: pattern.words().to_owned() }
}

fn sight(vision: Vision) -> Sight {
    Sight { id: sight_id(vision).to_owned(), words: vision.words().to_owned(), matrix: vision.matrix() }
}

/// The name of a colour vision in addresses.
fn sight_id(vision: Vision) -> &'static str {
    match vision {
        Vision::Protan => "protan",
        Vision::Deutan => "deutan",
        Vision::Tritan => "tritan",
        Vision::Grey => "grey",
    }
}

/// The address fragment that opens a page with a script in a given arrangement
/// and colours; `None` if the page cannot show them.
pub fn address<E>(gallery: &Gallery<'_, E>, arrangement: &Arrangement, palette: &Palette) -> Option<String> {
    let most = gallery.palette().colours().len().max(MOST_COLOURS);
    let fits = gallery.stencil_pairs.is_multiple_of(arrangement.pairs().len());
    let colours: Vec<String> = palette
        .swatches()
        .into_iter()
        .take(most)
        .map(|named| named.colour.to_string().trim_start_matches('#').to_owned())
        .collect();
    let letters = arrangement.to_string().replace(' ', "");
    let shown = fits && arrangement.colours() <= most;
    shown.then(|| format!("arrangement={letters}&colours={}", colours.join("-")))
}

#[cfg(test)]
mod tests {
    use compare::drawn_pairs::USUAL_PAIRS;

    use super::*;

    #[test]
    fn ready_made_arrangements_have_names_and_go_into_the_pairs() {
        let names: Vec<String> = READY
            .iter()
            .map(|text| {
                let arrangement: Arrangement = text.parse().unwrap();
                assert!(USUAL_PAIRS.is_multiple_of(arrangement.pairs().len()), "{text}");
                ready(text).unwrap().name
            })
            .collect();
        assert_eq!(names, ["one-colour", "1-and-1", "2-and-2", "one-in-4", "half-and-half", "graded"]);
    }

    #[test]
    fn spare_colours_follow_those_that_are_given_and_repeat_none() {
        let palette: Palette = "navy,#2f7d5b".parse().unwrap();
        let all: Vec<String> = colours(&palette).into_iter().map(|c| c.name).collect();
        assert_eq!(all, ["navy", "#2f7d5b", "madder", "straw", "plum", "slate"]);
    }
}
