//! The pages with a script, and the script's data: every variety with its facts
//! and names, and its pictures as stencils that the browser paints.
//!
//! Pages opened from disk cannot read files, so the data are scripts that set one
//! global variable, `pairwise`, to JSON:
//!
//! ```text
//! data/grounds.js           pairwise: varieties, colours, arrangements, ways to see
//! data/pictures.js          pairwise.pictures: a small stencil of each variety
//! data/window-MM.js         pairwise.wider["MM"]: the same with so much lace, where
//!                           that is not what the others show
//! data/ID/VARIETY.js        pairwise.large: a large stencil, and where pairs go
//! ```
//!
//! Stencils are packed by [`picture::export::stencil`], compressed (DEFLATE, RFC
//! 1951), and written in base64 (RFC 4648).

mod class;
mod script;
mod variety;

use compare::palette::Palette;
use compare::pattern::BOUNDS;
use compare::window::windows;
use indexmap::IndexMap;
use lace::limits::{MAX_ARRANGEMENT_PAIRS, MAX_ROWS};
use lace::{Arrangement, Pattern, colour_letter, number_to};
use minijinja::context;
use picture::colour::Rgb;
use picture::colour::backdrop::BACKDROPS;
use picture::colour::vision::{STANDS_OUT, Vision};
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
/// Number of colours that visitors can use, unless the gallery or the class has
/// more.
const MOST_COLOURS: usize = 6;
/// Most pairs of an arrangement in the list of lengths.
const MOST_PAIRS: usize = 24;
/// Arrangements that are one click away.
const READY: [&str; 6] = ["A", "A B", "A A B B", "A A A B", "4A 4B", "3A 2B C"];

/// Writes the pages with a script, and its data.
pub fn write<E>(gallery: &Gallery<'_, E>, varieties: &[ExploredVariety]) -> Result<(), GalleryError<E>> {
    let grounds = script("var pairwise", &data(gallery, varieties))?;
    gallery.write("data/grounds.js", grounds.as_bytes())?;
    let pictures: IndexMap<&str, &str> =
        varieties.iter().map(|v| (v.report.name.as_str(), v.picture.as_str())).collect();
    gallery.write("data/pictures.js", script("pairwise.pictures", &pictures)?.as_bytes())?;
    for (k, mm) in windows(gallery.scale().window_mm()).into_iter().enumerate() {
        let wider = varieties.iter().filter_map(|v| Some((v.report.name.as_str(), v.wider[k].as_deref()?)));
        let (mm, wider) = (number_to(mm, 2), wider.collect::<IndexMap<&str, &str>>());
        let text = script(&format!("pairwise.wider[\"{mm}\"]"), &wider)?;
        gallery.write(&format!("data/window-{mm}.js"), text.as_bytes())?;
    }
    for page in ["explore.html", "compare.html"] {
        gallery.page(page, "", page, context! { varieties => varieties.len() })?;
    }
    Ok(())
}

fn data<E>(gallery: &Gallery<'_, E>, varieties: &[ExploredVariety]) -> Explore {
    let scale = gallery.scale();
    let class = class::of(gallery);
    let worn = class.as_ref().map_or(0, |class| class.colours.len());
    Explore {
        format: FORMAT,
        colours: colours(gallery.palette(), worn),
        given: gallery.palette().colours().len(),
        arrangement: gallery.arrangement.to_string(),
        most_pairs: MOST_PAIRS,
        longest: MAX_ARRANGEMENT_PAIRS,
        most_rows: MAX_ROWS,
        ready: READY.iter().filter_map(|text| ready(text)).collect(),
        seen_by: gallery.plan.request.seen_by.map_or("", sight_id).to_owned(),
        sights: Vision::ALL.into_iter().map(sight).collect(),
        grey: GREY.to_string(),
        small_px: SMALL_PX,
        large_px: VARIETY_PX,
        backdrops: BACKDROPS.iter().map(Rgb::to_string).collect(),
        stands_out: STANDS_OUT,
        windows: windows(scale.window_mm()).to_vec(),
        window: scale.given_window_mm(),
        large_mm: scale.large_window_mm(),
        pin_spacing_mm: scale.widest_pin_spacing_mm(),
        usual_pin_spacings: scale.given_pin_spacing_mm().is_none(),
        patterns: Pattern::ALL.iter().map(|pattern| pattern_name(*pattern)).collect(),
        bounds: BOUNDS.into(),
        class,
        varieties: varieties.iter().map(|variety| variety.report.clone()).collect(),
    }
}

/// The colours the gallery was made with, and spare ones: at least as many as a
/// class wears.
fn colours(palette: &Palette, worn: usize) -> Vec<Swatch> {
    let own = palette.swatches();
    let spare: Vec<NamedColour> = SPARE
        .iter()
        .filter(|(_, rgb)| own.iter().all(|given| given.colour != *rgb))
        .map(|(name, rgb)| NamedColour { colour: *rgb, name: (*name).to_owned() })
        .collect();
    let count = own.len().max(MOST_COLOURS).max(worn);
    // So many colours are seldom wanted that the spare ones may come again.
    let all = own.into_iter().chain(spare.into_iter().cycle()).take(count);
    swatches(all)
}

/// Colours with their letters, A first.
fn swatches(all: impl IntoIterator<Item = NamedColour>) -> Vec<Swatch> {
    let swatch = |(k, NamedColour { colour, name }): (usize, NamedColour)| Swatch {
        letter: colour_letter(k as u8),
        name,
        rgb: colour.to_string(),
    };
    all.into_iter().enumerate().map(swatch).collect()
}

fn ready(text: &str) -> Option<Ready> {
    let arrangement: Arrangement = text.parse().ok()?;
    Some(Ready { name: arrangement.name()?.to_string(), arrangement: arrangement.to_string() })
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

/// The address fragment that opens a page with a script in the arrangement and
/// colours of a class.
pub fn address(arrangement: &Arrangement, palette: &Palette) -> String {
    let hex = |named: NamedColour| named.colour.to_string().trim_start_matches('#').to_owned();
    let colours: Vec<String> = palette.swatches().into_iter().map(hex).collect();
    let letters = arrangement.to_string().replace(' ', "");
    format!("arrangement={letters}&colours={}", colours.join("-"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ready_made_arrangements_have_names() {
        let names: Vec<String> = READY.iter().map(|text| ready(text).unwrap().name).collect();
        assert_eq!(names, ["one-colour", "1-and-1", "2-and-2", "one-in-4", "half-and-half", "graded"]);
    }

    #[test]
    fn spare_colours_follow_those_that_are_given_and_repeat_none() {
        let palette: Palette = "navy,#2f7d5b".parse().unwrap();
        let names = |worn| colours(&palette, worn).into_iter().map(|c| c.name).collect::<Vec<String>>();
        assert_eq!(names(0), ["navy", "#2f7d5b", "madder", "straw", "plum", "slate"]);
        // A class may wear as many as there are letters.
        assert_eq!((names(8)[6].as_str(), names(26).len()), ("white", 26));
    }
}
