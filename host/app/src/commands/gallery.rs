//! `gallery`: the class gallery, a folder of pages and pictures that opens from
//! disk.

use lace::Arrangement;
use minijinja::value::Serde;
use minijinja::{Environment, Value, context};
use picture::colour::Rgb;
use rayon::prelude::*;
use serde::Serialize;

use crate::catalogue::{Catalogue, Chosen, choose};
use crate::cli::{GalleryArgs, Sources};
use crate::colours::Palette;
use crate::commands::grid::{Orders, whole};
use crate::commands::report_failures;
use crate::facts::Facts;
use crate::failure::Failure;
use crate::output::{GALLERY_MARK, NewGallery, print};
use crate::pictures::{Scale, Thumbnail};
use crate::progress::Progress;

/// Pixels of the picture on a card, of one beside a variety, and in a grid.
const CARD_PX: u32 = 320;
const VARIETY_PX: u32 = 480;
const GRID_PX: u32 = 128;

/// Most colour orders in a table: beyond, it is wider than browsers show.
const MOST_ORDERS: u32 = 256;

/// A ground with all its varieties that can be worked.
struct Entry<'a> {
    plugin: &'a sandbox::Plugin,
    varieties: Vec<(String, Result<Chosen<'a>, String>)>,
}

#[derive(Serialize)]
struct Card {
    title: String,
    kind: &'static str,
    page: String,
    picture: String,
    alt: String,
    travel: String,
    varieties: usize,
}

#[derive(Serialize)]
struct VarietyView {
    id: String,
    name: String,
    title: String,
    notes: String,
    source: String,
    picture: String,
    alt: String,
    travel: String,
    works: Vec<WorkView>,
    facts: Vec<FactView>,
    problem: Option<String>,
}

#[derive(Serialize)]
struct WorkView {
    work: String,
    words: String,
    at: String,
}

#[derive(Serialize)]
struct FactView {
    name: &'static str,
    value: String,
}

#[derive(Serialize)]
struct Picture {
    file: String,
    width: u32,
    height: u32,
    alt: String,
}

/// The pages' templates; names that end in `.html` escape what they are given.
fn pages() -> Result<Environment<'static>, Failure> {
    let mut pages = Environment::new();
    pages.add_template("frame.html", include_str!("../pages/frame.html"))?;
    pages.add_template("index.html", include_str!("../pages/index.html"))?;
    pages.add_template("ground.html", include_str!("../pages/ground.html"))?;
    Ok(pages)
}

/// Makes the gallery. Returns whether a contribution failed.
pub fn run(args: &GalleryArgs, sources: &Sources) -> Result<bool, Failure> {
    let scale = Scale::new(&args.gauge)?;
    let palette = Palette::read(args.colouring.colours.as_deref())?;
    palette.tell_confusions(Rgb::LINEN, palette.colours().len());
    let seen_by = args.colouring.seen_by.map(|who| who.vision().words());
    let palette = palette.painted(args.colouring.seen_by);
    if args.colouring.max > MOST_ORDERS {
        return Err(Failure::Value {
            what: format!("a table of {} colour orders is too wide for a page", args.colouring.max),
            help: format!("give --max {MOST_ORDERS} at most; `pairwise grid` puts more on several pictures"),
        });
    }
    // Refuse the place before any work is done.
    let folder = NewGallery::begin(&args.out)?;
    let catalogue = Catalogue::load(sources)?;
    let mut failures = catalogue.failures.clone();
    let entries: Vec<Entry<'_>> = catalogue
        .plugins
        .par_iter()
        .map(|plugin| Entry {
            plugin,
            varieties: plugin
                .about
                .varieties
                .keys()
                .map(|v| (v.clone(), choose(plugin, Some(v), &[]).map_err(|why| why.to_string())))
                .collect(),
        })
        .collect();
    for entry in &entries {
        let faults = entry.varieties.iter().filter_map(|(_, c)| c.as_ref().err());
        failures.extend(faults.map(|why| (entry.plugin.from.clone(), why.clone())));
    }
    let usual: Vec<&Chosen<'_>> =
        entries.iter().filter_map(|e| e.varieties.iter().find_map(|(_, c)| c.as_ref().ok())).collect();
    if usual.is_empty() {
        report_failures(&failures);
        return Err(Failure::Value {
            what: "there is no ground to show".to_owned(),
            help: "`pairwise check` says what is wrong with each".to_owned(),
        });
    }
    let orders = Orders::new(&args.colouring, &palette, &usual)?;
    // The order for single pictures: the first that hangs more than one colour
    // side by side, half of each.
    let main_order = orders
        .shown
        .iter()
        .find(|o| {
            let pairs = o.pairs();
            let first = pairs.iter().filter(|p| **p == pairs[0]).count();
            first * 2 == pairs.len() && pairs.windows(2).any(|w| w[0] == w[1])
        })
        .or(orders.shown.last())
        .cloned()
        .unwrap_or(Arrangement::of_pairs(&[0]));

    let pages = pages()?;
    let common = context! {
        version => env!("CARGO_PKG_VERSION"),
        gauge => context! { pin_spacing_mm => scale.pin_spacing_mm, thread_mm => format!("{:.2}", scale.thread_mm) },
        pairs => orders.pairs,
        seen_by,
        palette => palette.colours().iter().enumerate().map(|(k, c)| context! {
            letter => lace::arrangement::letter(k as u8).to_string(),
            name => c.name.clone(),
            hex => format!("#{:02x}{:02x}{:02x}", c.rgb[0], c.rgb[1], c.rgb[2]),
        }).collect::<Vec<_>>(),
        card_px => CARD_PX,
        variety_px => VARIETY_PX,
    };
    folder.write("style.css", include_bytes!("../pages/style.css"))?;

    let progress = Progress::new(entries.len(), "Making pages");
    let cards: Vec<Option<Card>> = entries
        .par_iter()
        .map(|entry| {
            let card = ground_page(entry, &folder, &pages, &common, &orders, &main_order, &palette, &scale)?;
            progress.step();
            Ok(card)
        })
        .collect::<Result<_, Failure>>()?;
    drop(progress);

    let chosen: Vec<Chosen<'_>> = usual.iter().map(|c| again(c)).collect::<Result<_, _>>()?;
    let rows = chosen.len();
    let image =
        whole("Every ground in every colour order", chosen, &orders.shown, &palette, &scale, GRID_PX)?;
    let px_per_mm = f64::from(GRID_PX) / scale.window_mm();
    folder.write("grid.png", &image.to_png(px_per_mm))?;
    let grid = Picture {
        file: "grid.png".to_owned(),
        width: image.width(),
        height: image.height(),
        alt: format!(
            "Table of pictures: {rows} grounds in rows, {} colour orders in columns",
            orders.shown.len()
        ),
    };
    let index = pages.get_template("index.html")?.render(context! {
        grounds => Value::from(Serde(cards.into_iter().flatten().collect::<Vec<Card>>())),
        grid => Value::from(Serde(grid)),
        left_out => u64::try_from(orders.left_out()).unwrap_or(u64::MAX),
        failures => failures.iter().map(|(source, sentence)| context! { source, sentence }).collect::<Vec<_>>(),
        ..common
    })?;
    folder.write("index.html", index.as_bytes())?;
    let mark = serde_json::json!({ "format": "pairwise-gallery/1", "version": env!("CARGO_PKG_VERSION") });
    folder.write(GALLERY_MARK, mark.to_string().as_bytes())?;
    folder.finish()?;

    let mut text = format!(
        "The gallery is made. Open {} in your browser.\n",
        std::path::absolute(&args.out).unwrap_or(args.out.clone()).join("index.html").display()
    );
    if let Some(notice) = orders.notice() {
        text.push_str(&format!("{notice}\n"));
    }
    print(&text)?;
    Ok(report_failures(&failures))
}

/// The same ground once more, for lists that own their grounds.
fn again<'a>(chosen: &Chosen<'a>) -> Result<Chosen<'a>, Failure> {
    choose(chosen.plugin, Some(&chosen.variety), &[])
}

/// Writes the page of one ground; `None` when no variety of it can be shown.
#[allow(clippy::too_many_arguments, reason = "all of it is what one page is made of")]
fn ground_page(
    entry: &Entry<'_>,
    folder: &NewGallery,
    pages: &Environment<'_>,
    common: &Value,
    orders: &Orders,
    main_order: &Arrangement,
    palette: &Palette,
    scale: &Scale,
) -> Result<Option<Card>, Failure> {
    let about = &entry.plugin.about;
    let id = &about.id;
    let kind = if about.kind == sandbox::Kind::Ground { "Ground" } else { "Filling" };
    let mut views = Vec::new();
    let mut card = None;
    let mut good = Vec::new();
    for (variety, chosen) in &entry.varieties {
        let said = &about.varieties[variety];
        let picture = format!("{id}-{variety}.png");
        let mut view = VarietyView {
            id: variety.clone(),
            name: format!("{id}/{variety}"),
            title: said.title.clone(),
            notes: said.notes.clone(),
            source: said.source.clone(),
            picture: picture.clone(),
            alt: String::new(),
            travel: String::new(),
            works: Vec::new(),
            facts: Vec::new(),
            problem: None,
        };
        match chosen {
            Err(why) => view.problem = Some(why.clone()),
            Ok(chosen) => {
                let grid = scale.grid(about.angle)?;
                let pairs = main_order.pairs().len();
                let large =
                    Thumbnail::new(&chosen.ground, &grid, scale, scale.large_window_mm(), VARIETY_PX, pairs);
                let facts = Facts::new(id, variety, chosen.settings.clone(), &chosen.ground, &large.layout);
                let px_per_mm = f64::from(VARIETY_PX) / scale.large_window_mm();
                folder.write(&picture, &large.paint(main_order, palette).to_png(px_per_mm))?;
                view.travel = facts.travel.clone();
                view.alt = format!("{} worked, pairs hung {main_order}. {}", said.title, facts.travel);
                view.works = works(&chosen.ground);
                view.facts =
                    facts.lines().into_iter().map(|(name, value)| FactView { name, value }).collect();
                if card.is_none() {
                    card = Some(Card {
                        title: about.title.clone(),
                        kind,
                        page: format!("{id}.html"),
                        picture,
                        alt: view.alt.clone(),
                        travel: facts.travel.clone(),
                        varieties: about.varieties.len(),
                    });
                }
                good.push(again(chosen)?);
            }
        }
        views.push(view);
    }
    if card.is_none() {
        return Ok(None);
    }
    let rows = good.len();
    let image = whole(&about.title, good, &orders.shown, palette, scale, GRID_PX)?;
    let file = format!("{id}-grid.png");
    folder.write(&file, &image.to_png(f64::from(GRID_PX) / scale.window_mm()))?;
    let grid = Picture {
        file,
        width: image.width(),
        height: image.height(),
        alt: format!(
            "Table of pictures: {rows} varieties in rows, {} colour orders in columns",
            orders.shown.len()
        ),
    };
    let choices: Vec<Value> = about
        .choices
        .iter()
        .map(|(id, c)| context! { id, title => c.title.clone(), values => c.range.in_words() })
        .collect();
    let page = pages.get_template("ground.html")?.render(context! {
        about => context! {
            title => about.title.clone(), notes => about.notes.clone(), kind, family => about.family.clone(), laces => about.laces.clone(),
            angle => about.angle, source => about.source.clone(), other_names => Value::from(Serde(&about.other_names)), choices,
        },
        varieties => Value::from(Serde(views)),
        grid => Value::from(Serde(grid)),
        ..common.clone()
    })?;
    folder.write(&format!("{id}.html"), page.as_bytes())?;
    Ok(card)
}

/// The works of a ground, each once, with the stitches worked so.
fn works(ground: &lace::Ground) -> Vec<WorkView> {
    let mut works: indexmap::IndexMap<&lace::Work, Vec<&str>> = indexmap::IndexMap::new();
    for stitch in ground.stitches() {
        works.entry(&stitch.work).or_default().push(&stitch.id);
    }
    const NAMED: usize = 6;
    works
        .into_iter()
        .map(|(work, at)| {
            let more = at.len().saturating_sub(NAMED);
            let mut names = at.iter().take(NAMED).copied().collect::<Vec<_>>().join(", ");
            if more > 0 {
                names.push_str(&format!(" and {more} more"));
            }
            WorkView { work: work.to_string(), words: work.words(), at: names }
        })
        .collect()
}
