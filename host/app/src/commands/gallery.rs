//! `gallery`: the class gallery, a folder of pages and pictures that opens from
//! disk.
//!
//! ```text
//! index.html           every family, ground, filling and variety
//! explore.html         all varieties to be searched, filtered and recoloured
//! compare.html         a few of them side by side
//! side-by-side.html    every ground in every colour order
//! names.html           names of the trade by language
//! glossary.html        words of the trade
//! findings.html        what can be found wrong with a ground, with examples
//! grounds/ID.html      one ground or filling
//! small/, large/       a picture of every variety, ID/VARIETY.png
//! findings/            pictures of the examples, CODE-bad.svg and CODE-good.svg
//! rows/                every variety in all colour orders, ID/VARIETY.png
//! choices/             every value of every choice, ID/CHOICE/VALUE.png
//! diagrams/, keys/, prickings/, drawings/, charts/
//!                      of every variety, ID/VARIETY.svg, .toml and .pdf
//! class.html           the grounds of a class, if there is a recipe
//! class.pdf, class/    its handout and pictures
//! style.css, fonts/    how pages look, and the typeface they carry
//! explore.js, data/    what explore.html and compare.html work with
//! ```
//!
//! Ids are plain words, so they serve as names of files; folders keep them from
//! meeting names of ours.

mod choices;
mod class;
mod drawings;
mod explore;
mod findings;
mod ground;
mod index;
mod names;
mod table;
mod templates;

use std::sync::Arc;

pub use findings::alone as findings_alone;

use catalogue::{Chosen, LeftOut};
use compare::arrangements::ShownArrangements;
use compare::palette::Palette;
use compare::scale::Scale;
use lace::Arrangement;
use minijinja::value::{Serde, merge_maps};
use minijinja::{Environment, Value, context};
use picture::colour::vision::Vision;
use picture::export::image::Image;
use rayon::prelude::*;

use crate::cli::{GalleryArgs, Sources};
use crate::commands::{Outcome, note_all, report_failures};
use crate::failure::Failure;
use crate::output::{GALLERY_MARK, NewGallery, print};
use crate::progress::Progress;
use crate::remedy::with_remedy;
use crate::request::colours::ArrangementsRequest;
use crate::request::gauge::scale;
use crate::sources;

pub use templates::pages;

/// Pixels of a picture beside a variety.
const VARIETY_PX: u32 = 480;

/// Colours of a picture in the index, of which there are many on one page, and
/// of all others: what one byte for each pixel can tell.
const SMALL_COLOURS: u16 = 48;
const LARGE_COLOURS: u16 = 256;

/// Most arrangements in a table: beyond, it is wider than browsers show.
const MOST_ORDERS: u32 = 256;

/// A ground with all its varieties, each as it can be worked or why not.
struct Entry<'a> {
    entry: &'a Arc<catalogue::Entry>,
    varieties: Vec<(String, Result<Chosen, String>)>,
}

impl<'a> Entry<'a> {
    /// Asks a contribution for all its varieties.
    fn of(entry: &'a Arc<catalogue::Entry>) -> Entry<'a> {
        let varieties = entry.about().varieties.keys();
        let ask = |v: &String| (v.clone(), entry.choose(Some(v), &[]).map_err(|why| why.to_string()));
        Entry { entry, varieties: varieties.map(ask).collect() }
    }

    /// What the contribution says of itself.
    fn about(&self) -> &'a catalogue::About {
        self.entry.about()
    }

    /// The first variety that can be worked; without one it gets no page.
    fn usual(&self) -> Option<&Chosen> {
        self.varieties.iter().find_map(|(_, chosen)| chosen.as_ref().ok())
    }
}

/// Ground or filling, as pages say it.
fn kind(about: &catalogue::About) -> &'static str {
    if about.kind == catalogue::Kind::Ground { "Ground" } else { "Filling" }
}

/// A number with two decimals at most.
fn number(value: f64) -> String {
    let text = format!("{value:.2}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// What all pages of one gallery share.
struct Gallery<'a> {
    folder: NewGallery,
    pages: Environment<'static>,
    common: Value,
    orders: ShownArrangements,
    /// The colour order of pictures that show only one.
    order: Arrangement,
    palette: Palette,
    scale: Scale,
    /// How visitors begin who recolour the pictures.
    begin: explore::Begin,
    /// Pairs after which the colours of stencils begin again.
    stencil_pairs: usize,
    /// Titles of the grounds that have a page, by id.
    titles: indexmap::IndexMap<&'a str, &'a str>,
}

impl Gallery<'_> {
    /// Writes a page; `root` leads from it to the folder of the gallery.
    fn page(&self, name: &str, root: &str, template: &str, what: Value) -> Result<(), Failure> {
        let page = self.pages.get_template(template)?.render(context! {
            root => Value::from_safe_string(root.to_owned()),
            ..merge_maps([what, self.common.clone()])
        })?;
        self.folder.write(name, page.as_bytes())
    }

    /// The colours of the one order by name: `indigo and apricot, hung A A B B`.
    fn hung(&self) -> String {
        let colours = self.palette.colours();
        let worn = self.order.pairs().iter().flatten().map(|&c| usize::from(c));
        let worn: indexmap::IndexSet<usize> = worn.map(|c| c.min(colours.len() - 1)).collect();
        let names: Vec<&str> = worn.iter().map(|&c| colours[c].name.as_str()).collect();
        let names = match names.split_last() {
            Some((last, others)) if !others.is_empty() => format!("{} and {last}", others.join(", ")),
            _ => names.concat(),
        };
        format!("{names}, hung {}", self.order)
    }
}

/// Makes the gallery.
pub fn run(args: &GalleryArgs, sources: &Sources) -> Result<Outcome, Failure> {
    let scale = scale(&args.gauge)?;
    note_all(scale.note());
    let colours = ArrangementsRequest::read(&args.arrangements)?;
    note_all(colours.notes());
    let ArrangementsRequest { palette, seen_by: sight, wanted } = colours;
    let seen_by = sight.map(Vision::words);
    let begin = explore::Begin { palette: palette.clone(), seen_by: sight };
    let palette = palette.seen_by(sight);
    if args.arrangements.max > MOST_ORDERS {
        return Err(Failure::Value {
            what: format!("a table of {} arrangements is too wide for a page", args.arrangements.max),
            help: format!("give --max {MOST_ORDERS} at most; `pairwise grid` puts more on several pictures"),
        });
    }
    // Refuse the place before any work is done.
    let folder = NewGallery::begin(&args.out)?;
    let catalogue = sources::catalogue(sources)?;
    let class = args.recipe.as_deref().map(|recipe| class::ForClass::read(recipe, &catalogue)).transpose()?;
    let mut left_out = catalogue.left_out().to_vec();
    let mut entries: Vec<Entry<'_>> = catalogue.entries().par_iter().map(Entry::of).collect();
    for entry in &entries {
        let faults = entry.varieties.iter().filter_map(|(_, c)| c.as_ref().err());
        left_out.extend(faults.map(|why| LeftOut { file: entry.entry.file().to_owned(), why: why.clone() }));
    }
    entries.retain(|entry| entry.usual().is_some());
    let usual: Vec<&Chosen> = entries.iter().filter_map(Entry::usual).collect();
    if usual.is_empty() {
        return Err(Failure::NoGround {
            what: "there is no ground to show",
            help: "`pairwise check` says what is wrong with each",
            left_out,
        });
    }
    let orders = ShownArrangements::new(&wanted, palette.colours().len(), &usual)?;
    note_all(orders.fit.clone());
    let order = order_of_single_pictures(&orders);
    let gallery = Gallery {
        begin,
        stencil_pairs: explore::pairs(order.pairs().len()),
        pages: pages()?,
        common: context! {
            version => env!("CARGO_PKG_VERSION"),
            scale => context! {
                pin_spacing_mm => number(scale.pin_spacing_mm),
                thread_mm => number(scale.thread_mm),
                small_mm => number(scale.window_mm()),
                large_mm => number(scale.large_window_mm()),
            },
            pairs => orders.pairs,
            seen_by,
            palette => palette.colours().iter().enumerate().map(|(k, c)| context! {
                letter => lace::colour_letter(k as u8).to_string(),
                name => c.name.clone(),
                hex => format!("#{:02x}{:02x}{:02x}", c.rgb[0], c.rgb[1], c.rgb[2]),
            }).collect::<Vec<_>>(),
            small_px => small_px(&scale),
            large_px => VARIETY_PX,
            has_class => class.is_some(),
        },
        order,
        titles: entries.iter().map(|e| (e.about().id.as_str(), e.about().title.as_str())).collect(),
        folder,
        orders,
        palette,
        scale,
    };
    gallery.folder.write("style.css", ::gallery::sources::STYLE.as_bytes())?;
    for (name, bytes) in ::gallery::typeface::FILES {
        gallery.folder.write(name, bytes)?;
    }

    let progress = Progress::new(entries.len(), "Making pages");
    let made = entries
        .par_iter()
        .map(|entry| {
            let made = ground::page(&gallery, entry)?;
            progress.step();
            Ok(made)
        })
        .collect::<Result<Vec<_>, Failure>>()?;
    drop(progress);
    let (mut cards, mut varieties, mut rows) = (Vec::new(), Vec::new(), Vec::new());
    for made in made {
        cards.push(made.card);
        varieties.extend(made.varieties);
        rows.extend(made.row);
    }
    explore::pages(&gallery, &varieties)?;
    gallery.page(
        "side-by-side.html",
        "",
        "side-by-side.html",
        context! {
            columns => Value::from(Serde(table::columns(&gallery.orders.shown))),
            rows => Value::from(Serde(rows)),
            cell_px => table::CELL_PX,
            left_out => u64::try_from(gallery.orders.left_out()).unwrap_or(u64::MAX),
        },
    )?;
    if let Some(class) = &class {
        class::page(&gallery, class)?;
    }
    names::page(&gallery, &entries)?;
    gallery.page("glossary.html", "", "glossary.html", templates::glossary(manual::glossary::TERMS))?;
    findings::page(&gallery)?;
    index::page(&gallery, cards, &left_out)?;
    let mark = serde_json::json!({ "format": "pairwise-gallery/1", "version": env!("CARGO_PKG_VERSION") });
    gallery.folder.write(GALLERY_MARK, mark.to_string().as_bytes())?;
    let notice = gallery.orders.left_out_note();
    gallery.folder.finish()?;

    let mut text = format!(
        "The gallery is made. Open {} in your browser.\n",
        std::path::absolute(&args.out).unwrap_or(args.out.clone()).join("index.html").display()
    );
    if let Some(notice) = notice {
        text.push_str(&format!("{}\n", with_remedy(&notice)));
    }
    print(&text)?;
    let incomplete = class.is_some_and(class::ForClass::tell);
    Ok(report_failures(&left_out).and(Outcome::findings(incomplete)))
}

/// The order for single pictures: the first that hangs more than one colour
/// side by side, half of each.
fn order_of_single_pictures(orders: &ShownArrangements) -> Arrangement {
    let halves = |order: &&Arrangement| {
        let pairs = order.pairs();
        let first = pairs.iter().filter(|p| **p == pairs[0]).count();
        first * 2 == pairs.len() && pairs.windows(2).any(|w| w[0] == w[1])
    };
    let found = orders.shown.iter().find(halves).or(orders.shown.last());
    found.cloned().unwrap_or(Arrangement::of_pairs(&[0]))
}

/// Pixels of a picture in the index: as much of a large picture as a table
/// shows, at the scale of the large one.
fn small_px(scale: &Scale) -> u32 {
    (f64::from(VARIETY_PX) * scale.window_mm() / scale.large_window_mm()).round() as u32
}

/// The upper left corner of a picture.
fn corner(image: &Image, px: u32) -> Image {
    let mut part = Image::new(px, px, None);
    part.lay(image, 0, 0);
    part
}
