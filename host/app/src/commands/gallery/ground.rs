//! The page of one ground or filling.

use catalogue::Chosen;
use catalogue::language;
use compare::comparison::unsettled;
use compare::facts;
use compare::thumbnail::Thumbnail;
use minijinja::value::Serde;
use minijinja::{Value, context};
use picture::drawing::working_diagram::StepsShown;
use picture::layout::Layout;
use serde::Serialize;

use super::index::{Card, Neighbour, Small, family_in_words, in_a_line};
use super::{
    Entry, Gallery, LARGE_COLOURS, SMALL_COLOURS, VARIETY_PX, choices, corner, drawings, explore, kind,
    number, small_px, table,
};
use crate::commands::note_all;
use crate::commands::unpack::chart;
use crate::failure::Failure;

/// A variety as the page shows it.
#[derive(Serialize)]
struct VarietyView {
    id: String,
    name: String,
    title: String,
    notes: String,
    source: String,
    other_names: Vec<NameView>,
    alt: String,
    travel: String,
    works: Vec<WorkView>,
    facts: Vec<FactView>,
    /// How much larger than the lace the working diagram is.
    enlarged: String,
    /// Height of its key in the width of a picture, pixels.
    key_px: u32,
    steps: Vec<String>,
    problem: Option<String>,
}

#[derive(Serialize)]
struct NameView {
    name: String,
    tag: String,
    language: String,
    source: String,
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

/// A ground on the pages that show all of them.
pub struct Made {
    /// Its card for the index.
    pub card: Card,
    /// Its varieties, to be explored.
    pub varieties: Vec<explore::Variety>,
    /// Its usual variety in every colour order, by the title of the ground.
    pub row: Option<table::Row>,
}

/// Writes the page and pictures of a ground.
pub fn page(gallery: &Gallery<'_>, entry: &Entry<'_>) -> Result<Made, Failure> {
    let about = entry.about();
    let kind = kind(about);
    let mut views = Vec::new();
    let mut small = Vec::new();
    let mut good = Vec::new();
    let mut explored = Vec::new();
    for (variety, chosen) in &entry.varieties {
        let said = &about.varieties[variety];
        let mut view = VarietyView {
            id: variety.clone(),
            name: format!("{}/{variety}", about.id),
            title: said.title.clone(),
            notes: said.notes.clone(),
            source: if said.source.is_empty() { &about.source } else { &said.source }.clone(),
            other_names: names(&said.other_names),
            alt: String::new(),
            travel: String::new(),
            works: Vec::new(),
            facts: Vec::new(),
            enlarged: String::new(),
            key_px: 0,
            steps: Vec::new(),
            problem: None,
        };
        let line = match chosen {
            Err(why) => {
                view.problem = Some(why.clone());
                "cannot be worked".to_owned()
            }
            Ok(chosen) => {
                let (line, variety, layout) = shown(gallery, chosen, &mut view)?;
                explored.push(variety);
                good.push((chosen.clone(), layout));
                line
            }
        };
        small.push(Small {
            id: variety.clone(),
            title: said.title.clone(),
            alt: view.alt.clone(),
            line: format!("{kind}; {line}"),
            drawn: chosen.is_ok(),
        });
        views.push(view);
    }
    let choices = entry.usual().map(|usual| choices::views(gallery, usual)).transpose()?;
    let rows = table::rows(gallery, good)?;
    let sits_in = about.sits_in.as_ref().map(|id| Neighbour {
        id: id.clone(),
        title: gallery.titles.get(id.as_str()).map(|title| (*title).to_owned()),
    });
    gallery.page(
        &format!("grounds/{}.html", about.id),
        "../",
        "ground.html",
        context! {
            about => context! {
                id => about.id.clone(),
                title => about.title.clone(),
                notes => about.notes.clone(),
                kind,
                family => about.family.clone(),
                family_title => family_in_words(&about.family),
                laces => about.laces.clone(),
                sits_in => Value::from(Serde(sits_in.clone())),
                angle => number(about.angle),
                source => about.source.clone(),
                other_names => Value::from(Serde(names(&about.other_names))),
                choices => Value::from(Serde(choices)),
            },
            usual_title => entry.usual().map(Chosen::title),
            choice_px => choices::CHOICE_PX,
            varieties => Value::from(Serde(views)),
            columns => Value::from(Serde(table::columns(&gallery.orders.shown))),
            rows => Value::from(Serde(&rows)),
            cell_px => table::CELL_PX,
        },
    )?;
    let card = Card {
        id: about.id.clone(),
        title: about.title.clone(),
        kind,
        family: about.family.clone(),
        laces: about.laces.clone(),
        sits_in,
        notes: about.notes.clone(),
        small,
    };
    let row = rows.into_iter().next().map(|row| row.named(&about.title));
    Ok(Made { card, varieties: explored, row })
}

/// Draws a variety and fills in what is computed. Returns it in a line, for
/// the pages on which it is explored, and how its threads lie.
fn shown(
    gallery: &Gallery<'_>,
    chosen: &Chosen,
    view: &mut VarietyView,
) -> Result<(String, explore::Variety, Layout), Failure> {
    let Gallery { scale, order, palette, .. } = gallery;
    let (id, variety) = (&chosen.about().id, &chosen.variety);
    let ground = &chosen.ground;
    let layout = scale.lay_out(ground, chosen.about().angle)?;
    let window = scale.large_window_mm();
    let lengths = [gallery.stencil_pairs, order.pairs().len()];
    let drawn = Thumbnail::new(ground, layout, window, VARIETY_PX, &lengths);
    note_all(unsettled(&drawn.layout, chosen));
    let px_per_mm = f64::from(VARIETY_PX) / window;
    let image = drawn.paint(order, palette);
    let large = image.reduced(LARGE_COLOURS);
    gallery.folder.write(&format!("large/{id}/{variety}.png"), &large.to_png(px_per_mm))?;
    let small = corner(&image, small_px(scale)).reduced(SMALL_COLOURS);
    gallery.folder.write(&format!("small/{id}/{variety}.png"), &small.to_png(px_per_mm))?;

    view.travel = ground.travel_sentence();
    view.alt = format!("{} worked in {}. {}", view.title, gallery.hung(), view.travel);
    view.works = works(ground);
    view.facts = facts::in_words(ground, &drawn.layout.grid)
        .into_iter()
        .map(|(name, value)| FactView { name, value })
        .collect();
    let drawings = drawings::write(gallery, chosen, &drawn.layout)?;
    view.enlarged = number(drawings.enlarged);
    view.key_px = (drawings.key_height * f64::from(VARIETY_PX)).round() as u32;
    let StepsShown { repeats, rows } = StepsShown::of(ground);
    view.steps = ground.steps_in_words(repeats, rows);
    let chart = chart(chosen.about(), variety, &format!("my-{id}"), ground.repeat(), ground.places());
    gallery.folder.write(&format!("charts/{id}/{variety}.toml"), chart.as_bytes())?;
    let variety = explore::variety(gallery, chosen, &drawn.layout, drawn.stencil(gallery.stencil_pairs))?;
    Ok((in_a_line(ground, &drawn.layout.grid), variety, drawn.layout))
}

/// How many different works a ground has.
pub fn different(ground: &lace::Ground) -> usize {
    ground.distinct_stitches().len()
}

/// The works of a ground as they are written, each once with its words.
pub fn works_in_short(ground: &lace::Ground) -> Vec<String> {
    ground.distinct_stitches().keys().map(|stitch| format!("{stitch} ({})", stitch.words())).collect()
}

fn names(names: &[catalogue::OtherName]) -> Vec<NameView> {
    let view = |n: &catalogue::OtherName| NameView {
        name: n.name.clone(),
        tag: n.language.clone(),
        language: language::in_words(&n.language),
        source: n.source.clone(),
    };
    names.iter().map(view).collect()
}

/// The works of a ground, each once, with the stitches worked so.
fn works(ground: &lace::Ground) -> Vec<WorkView> {
    const NAMED: usize = 6;
    ground
        .distinct_stitches()
        .into_iter()
        .map(|(work, at)| {
            let more = at.len().saturating_sub(NAMED);
            let mut names = at
                .iter()
                .take(NAMED)
                .map(|&k| ground.stitches()[k].id.as_str())
                .collect::<Vec<_>>()
                .join(", ");
            if more > 0 {
                names.push_str(&format!(" and {more} more"));
            }
            WorkView { work: work.to_string(), words: work.words(), at: names }
        })
        .collect()
}
