//! What the pages with a script work on: every variety with its facts and
//! names, and its pictures as stencils that the browser paints.
//!
//! Pages opened from disk can read no files, so data come as scripts that give
//! one global name, `pairwise`, its value, as JSON:
//!
//! ```text
//! data/grounds.js           pairwise: varieties, colours, orders, ways to see
//! data/pictures.js          pairwise.pictures: a small stencil of each variety
//! data/ID/VARIETY.js        pairwise.large: a large stencil, and where pairs go
//! ```
//!
//! Stencils are as [`picture::export::stencil::Stencil::packed`] says, compressed
//! (DEFLATE, RFC 1951), in base64 (RFC 4648).

use std::io::Write;

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use catalogue::Chosen;
use catalogue::fold::fold;
use catalogue::list::{ColoursGo, ThreadCounts};
use compare::drawn_pairs::{USUAL_PAIRS, for_repainting};
use compare::facts;
use compare::palette::Palette;
use compare::thumbnail::stencil;
use flate2::Compression;
use flate2::write::DeflateEncoder;
use lace::{Arrangement, Grid, Ground, colour_letter};
use minijinja::{Value, context};
use picture::colour::Rgb;
use picture::colour::vision::Vision;
use picture::export::stencil::Stencil;
use picture::layout::Layout;
use serde::Serialize;

use super::Gallery;
use crate::failure::Failure;

/// Pixels of a small picture.
pub const SMALL_PX: u32 = 160;
/// Pairs after which colours begin again in pictures, unless the order of the
/// gallery needs more: orders of 1, 2, 3, 4, 6, 8, 12 and 24 pairs go into it.
const PAIRS: usize = USUAL_PAIRS;
/// Colours for letters beyond those the gallery was made with: madder, fern,
/// straw, plum, slate, linen white.
const SPARE: [(&str, [u8; 3]); 6] = [
    ("fern", [0x2f, 0x7d, 0x5b]),
    ("madder", [0xa8, 0x2c, 0x3a]),
    ("straw", [0xe6, 0xc6, 0x5c]),
    ("plum", [0x6c, 0x3f, 0x7a]),
    ("slate", [0x5d, 0x6b, 0x78]),
    ("white", [0xfb, 0xf9, 0xf4]),
];

/// Colours that visitors can hang at once, unless the gallery was made with
/// more.
const MOST_COLOURS: usize = 6;

/// Colour orders that are one click away.
const READY: [&str; 6] = ["A", "A B", "A A B B", "A A A B", "4A 4B", "3A 2B C"];

/// How visitors begin.
pub struct Begin {
    /// The colours, as they are.
    pub palette: Palette,
    /// How they are seen.
    pub seen_by: Option<Vision>,
}

#[derive(Serialize)]
struct All<'a> {
    format: &'static str,
    /// Colours of the letters from A on.
    colours: Vec<Swatch>,
    /// How many of them the gallery was made with.
    given: usize,
    /// The order to begin with.
    order: String,
    /// After how many pairs colours begin again in stencils.
    pairs: usize,
    /// Lengths of orders that can be painted.
    lengths: Vec<usize>,
    ready: Vec<Ready>,
    seen_by: &'static str,
    sights: Vec<Sight>,
    /// Colour of threads that are not followed.
    grey: String,
    small_px: u32,
    large_px: u32,
    small_mm: f64,
    large_mm: f64,
    pin_spacing_mm: f64,
    varieties: &'a [Variety],
}

#[derive(Serialize)]
struct Swatch {
    letter: char,
    name: String,
    rgb: String,
}

#[derive(Serialize)]
struct Ready {
    name: String,
    order: String,
}

/// A way to see colours: what becomes of red, green and blue light.
#[derive(Serialize)]
struct Sight {
    id: String,
    words: &'static str,
    matrix: [[f64; 3]; 3],
}

/// A variety as the script knows it.
#[derive(Serialize)]
pub struct Variety {
    /// As users name it.
    name: String,
    page: String,
    title: String,
    ground: String,
    kind: &'static str,
    family: String,
    family_title: String,
    laces: Vec<String>,
    goes: ColoursGo,
    travel: String,
    /// In one repeat.
    pairs: usize,
    pins: usize,
    /// How many different stitches there are to remember.
    works: usize,
    pairs_per_cm: f64,
    pins_per_cm2: f64,
    moves_per_cm2: f64,
    /// Share of the small picture in which no thread lies, per cent.
    open: f64,
    /// All names, and the same in small letters without accents.
    names: Vec<String>,
    folded: Vec<String>,
    facts: Vec<(&'static str, String)>,
    /// Packed, compressed, base64.
    #[serde(skip)]
    picture: String,
}

#[derive(Serialize)]
struct Large {
    picture: String,
    /// Where each pair goes, in words.
    ways: Vec<String>,
}

/// After how many pairs the colours of stencils begin again, when the gallery's
/// own order has so many.
pub fn pairs(order: usize) -> usize {
    // The threads of a packed stencil are numbered with one byte.
    for_repainting(order).unwrap_or(PAIRS)
}

/// Packed, compressed and written in letters.
fn in_letters(stencil: &Stencil, pairs: usize) -> Result<String, Failure> {
    let period = u8::try_from(2 * pairs).unwrap_or(u8::MAX);
    let packed = stencil.packed(period).unwrap_or_default();
    let mut small = DeflateEncoder::new(Vec::new(), Compression::default());
    let small = small.write_all(&packed).and_then(|()| small.finish());
    // Writing to memory does not fail.
    let small = small.map_err(|why| Failure::Contribution(why.to_string()))?;
    Ok(STANDARD.encode(small))
}

/// `NAME = VALUE;`, the value as JSON that no page can take for its own marks
/// and no older script for the end of a line.
fn script(name: &str, value: &impl Serialize) -> Result<String, Failure> {
    let json = serde_json::to_string(value)?
        .replace('<', "\\u003c")
        .replace('\u{2028}', "\\u2028")
        .replace('\u{2029}', "\\u2029");
    Ok(format!("{name} = {json};\n"))
}

/// Works a variety out for the script and writes what is only wanted large.
pub fn variety(
    gallery: &Gallery<'_>,
    chosen: &Chosen,
    layout: &Layout,
    large: Option<&Stencil>,
) -> Result<Variety, Failure> {
    let about = chosen.about();
    let said = &about.varieties[&chosen.variety];
    let ground = &chosen.ground;
    let scale = &gallery.scale;
    let pairs = gallery.stencil_pairs;
    let small = stencil(ground, layout, scale.window_mm(), SMALL_PX, pairs);
    let name = chosen.name();
    if let Some(large) = large {
        let large = Large { picture: in_letters(large, pairs)?, ways: ways(ground) };
        let text = script(&format!("pairwise.large[\"{name}\"]"), &large)?;
        gallery.folder.write(&format!("data/{name}.js"), text.as_bytes())?;
    }
    let other_names = about.other_names.iter().chain(&said.other_names).map(|n| n.name.clone());
    let own = [said.title.clone(), about.title.clone(), name.clone()];
    let mut names: Vec<String> = own.into_iter().chain(other_names).collect();
    names.extend(about.laces.iter().cloned());
    names.dedup();
    let measures = ground.measures(&layout.grid);
    let works = super::ground::different(ground);
    Ok(Variety {
        page: format!("grounds/{}.html#variety-{}", about.id, chosen.variety),
        title: said.title.clone(),
        ground: about.title.clone(),
        kind: if about.kind == catalogue::Kind::Ground { "ground" } else { "filling" },
        family: about.family.clone(),
        family_title: super::index::family_in_words(&about.family),
        laces: about.laces.clone(),
        goes: ThreadCounts::of(ground).colours_go(),
        travel: ground.travel_sentence(),
        pairs: measures.pairs_per_repeat,
        pins: measures.pins_per_repeat,
        works,
        pairs_per_cm: measures.pairs_per_cm,
        pins_per_cm2: measures.pins_per_cm2,
        moves_per_cm2: measures.moves_per_cm2,
        open: 100.0 * (1.0 - small.seen().iter().sum::<f64>()),
        folded: names.iter().map(|name| fold(name)).collect(),
        names,
        facts: told(chosen, &layout.grid, works),
        picture: in_letters(&small, pairs)?,
        name,
    })
}

/// The facts that are laid side by side: the same names for every ground.
fn told(chosen: &Chosen, grid: &Grid, works: usize) -> Vec<(&'static str, String)> {
    let about = chosen.about();
    let m = chosen.ground.measures(grid);
    let stitches: Vec<String> = super::ground::works_in_short(&chosen.ground);
    let mut told = vec![
        ("Kind", super::kind(about).to_owned()),
        ("Family", super::index::family_in_words(&about.family)),
        ("Used in", about.laces.join(", ")),
        ("Angle", format!("{} degrees", super::number(m.angle_from_footside_deg))),
        ("Where the threads go", chosen.ground.travel_sentence()),
        ("Stitches", stitches.join("; ")),
        ("Different stitches", works.to_string()),
        ("Pairs in a repeat", m.pairs_per_repeat.to_string()),
        ("Pins in a repeat", m.pins_per_repeat.to_string()),
        ("Stitches in a repeat", m.stitches_per_repeat.to_string()),
        ("Moves in a repeat", m.moves_per_repeat.to_string()),
    ];
    // The first line says in one what stands above in four.
    told.extend(facts::in_words(&chosen.ground, grid).into_iter().skip(1));
    told
}

/// A way to see colours as the script names it.
fn id(vision: Vision) -> &'static str {
    match vision {
        Vision::Protan => "protan",
        Vision::Deutan => "deutan",
        Vision::Tritan => "tritan",
        Vision::Grey => "grey",
    }
}

/// Where each of so many pairs goes that hang side by side, a sentence each.
fn ways(ground: &Ground) -> Vec<String> {
    // Rows enough to tell of; where a ground is too wide to be traced nothing
    // is told of single pairs.
    let Ok(trace) = ground.trace(PAIRS, 1) else { return Vec::new() };
    let pairs = if trace.by_threads { trace.places / 2 } else { trace.places };
    let names = ["other", "followed"].map(str::to_owned);
    let way = |k: usize| {
        let colours: Vec<u8> = (0..pairs).map(|pair| u8::from(pair == k)).collect();
        ground.trace_in_words(&trace, &Arrangement::of_pairs(&colours), &names).pop().unwrap_or_default()
    };
    (0..PAIRS).map(way).collect()
}

/// What the address of a page with a script says that begins with an order and
/// colours of one's own; `None` where the page cannot show them.
pub fn address(gallery: &Gallery<'_>, order: &Arrangement, palette: &Palette) -> Option<String> {
    let most = gallery.begin.palette.colours().len().max(MOST_COLOURS);
    let fits = gallery.stencil_pairs.is_multiple_of(order.pairs().len()) && order.colours() <= most;
    let colours = palette.colours().iter().take(most);
    let colours: Vec<String> =
        colours.map(|c| Rgb::from(c.rgb).to_string().trim_start_matches('#').to_owned()).collect();
    let order = order.to_string().replace(' ', "");
    fits.then(|| format!("arrangement={order}&colours={}", colours.join("-")))
}

/// Writes the pages with a script, the script and its data.
pub fn pages(gallery: &Gallery<'_>, varieties: &[Variety]) -> Result<(), Failure> {
    let Gallery { scale, begin, .. } = gallery;
    let given = begin.palette.colours().len();
    let own = begin.palette.colours().iter().map(|c| (c.name.clone(), c.rgb));
    let spare = SPARE.iter().map(|(name, rgb)| ((*name).to_owned(), *rgb));
    let colours = own.chain(spare.filter(|(_, rgb)| begin.palette.colours().iter().all(|c| c.rgb != *rgb)));
    let order = if gallery.stencil_pairs.is_multiple_of(gallery.order.pairs().len()) {
        gallery.order.to_string()
    } else {
        "A A B B".to_owned()
    };
    let ready = READY.iter().filter_map(|text| {
        let order: Arrangement = text.parse().ok()?;
        Some(Ready { name: order.name()?.words(), order: order.to_string() })
    });
    let all = All {
        format: "pairwise-explore/1",
        colours: colours
            .take(given.max(MOST_COLOURS))
            .enumerate()
            .map(|(k, (name, rgb))| Swatch {
                letter: colour_letter(k as u8),
                name,
                rgb: Rgb::from(rgb).to_string(),
            })
            .collect(),
        given,
        order,
        pairs: gallery.stencil_pairs,
        lengths: (1..=gallery.stencil_pairs).filter(|n| gallery.stencil_pairs.is_multiple_of(*n)).collect(),
        ready: ready.collect(),
        seen_by: begin.seen_by.map_or("", id),
        sights: Vision::ALL
            .iter()
            .map(|&v| Sight { id: id(v).to_owned(), words: v.words(), matrix: v.matrix() })
            .collect(),
        grey: picture::drawing::trace_chart::GREY.to_string(),
        small_px: SMALL_PX,
        large_px: super::VARIETY_PX,
        small_mm: scale.window_mm(),
        large_mm: scale.large_window_mm(),
        pin_spacing_mm: scale.pin_spacing_mm,
        varieties,
    };
    gallery.folder.write("data/grounds.js", script("var pairwise", &all)?.as_bytes())?;
    let pictures: indexmap::IndexMap<&str, &str> =
        varieties.iter().map(|v| (v.name.as_str(), v.picture.as_str())).collect();
    gallery.folder.write("data/pictures.js", script("pairwise.pictures", &pictures)?.as_bytes())?;
    gallery.folder.write("explore.js", ::gallery::sources::SCRIPT.as_bytes())?;
    gallery.folder.write("explore.css", ::gallery::sources::EXPLORE_STYLE.as_bytes())?;
    let count: Value = context! { varieties => varieties.len() };
    gallery.page("explore.html", "", "explore.html", count.clone())?;
    gallery.page("compare.html", "", "compare.html", count)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_in_scripts_cannot_end_them() {
        let text = "</script><!-- \u{2028}\u{2029} \" \\ ü";
        let script = script("pairwise.x", &[text]).unwrap();
        assert!(!script.contains(['<', '\u{2028}', '\u{2029}']), "{script}");
        let json = script.strip_prefix("pairwise.x = ").unwrap().strip_suffix(";\n").unwrap();
        assert_eq!(serde_json::from_str::<Vec<String>>(json).unwrap(), [text]);
    }

    #[test]
    fn ready_made_orders_have_names_and_go_into_the_pairs() {
        let names: Vec<String> = READY
            .iter()
            .map(|text| {
                let order: Arrangement = text.parse().unwrap();
                assert!(PAIRS.is_multiple_of(order.pairs().len()), "{text}");
                order.name().unwrap().words()
            })
            .collect();
        assert_eq!(
            names,
            ["one colour", "one and one", "two and two", "one in four", "half and half", "graded"]
        );
    }

    #[test]
    fn stencils_take_orders_of_any_length_that_a_byte_can_number() {
        for (order, all) in [(1, 24), (4, 24), (5, 120), (9, 72), (24, 24), (7, 24), (512, 24)] {
            assert_eq!(pairs(order), all, "{order}");
            assert!(2 * all <= 255);
        }
    }
}
