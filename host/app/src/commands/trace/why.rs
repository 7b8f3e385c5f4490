//! `trace --why`: what to change so that a pair goes as wished.

use std::ops::Range;
use std::path::Path;

use catalogue::Value;
use indexmap::IndexMap;
use lace::{Ground, PlacedStitch, Travel};
use picture::page::contact_sheet::{Heading, NamedColour, Section, SectionedSheet};

use super::Asked;
use crate::cli::Wish;
use crate::export::Format;
use crate::failure::Failure;
use crate::output::{print, write_file};
use crate::pictures::Thumbnail;
use crate::progress::Progress;

/// Most changes that are told, of either kind.
const TOLD: usize = 6;
/// Most settings of choices that are tried.
const TRIED: usize = 3000;
/// Pixels of a picture.
const PX: u32 = 240;

/// Widest and highest the picture may be, pixels: more than all have room on.
const PAGE: u32 = 5000;

/// One change that does what is wished.
struct Change {
    words: String,
    /// The same in two short lines.
    caption: [String; 2],
    ground: Ground,
}

/// Looks for changes, prints the shortest and draws them when asked to.
pub(super) fn run(asked: &Asked<'_>) -> Result<(), Failure> {
    let ground = &asked.chosen.ground;
    let own = ground.hanging().pairs().len();
    let &[number] = asked.args.pair.as_slice() else {
        return Err(Failure::Value {
            what: format!("{} pairs are named", asked.args.pair.len()),
            help: "say which one is to go so, for example --why stays --pair 1".to_owned(),
        });
    };
    if let Some(out) = &asked.args.out
        && Format::of(out)? != Format::Png
    {
        return Err(Failure::Value {
            what: format!("{} cannot hold these pictures", out.display()),
            help: "changes are drawn side by side in a .png".to_owned(),
        });
    }
    asked.check_places(super::USUAL_PAIRS.max(own).max(asked.order.pairs().len()))?;
    let (wish, to) = match asked.args.why {
        Some(Wish::Left) => (Travel::Left, "travel to the left"),
        Some(Wish::Right) => (Travel::Right, "travel to the right"),
        _ => (Travel::Stays, "stay"),
    };
    let pair = (number - 1) % own;
    let now = ground.travel_of_pair(pair).map_or("parts: its two threads go different ways", Travel::words);
    let mut text = format!("{} ({}): pair {number} {now}.\n", asked.chosen.title(), asked.chosen.name());
    if ground.travel_of_pair(pair) == Some(wish) {
        text.push_str("That is what you wish; nothing needs to change.\n");
        return print(&text);
    }
    let (mut changes, all_tried) = by_choices(asked, pair, wish);
    let choices = changes.len();
    let works =
        ground.steering_changes(pair, wish, usize::from(asked.args.longest)).into_iter().take(TOLD).map(
            |change| {
                let PlacedStitch { id, stitch: now, .. } = &ground.stitches()[change.position];
                Change {
                    words: format!(
                        "{id}: {} ({}) instead of {now} ({} {} changed)",
                        change.stitch,
                        change.stitch.words(),
                        change.moves,
                        if change.moves == 1 { "move" } else { "moves" }
                    ),
                    caption: [format!("{id}: {}", change.stitch), format!("instead of {now}")],
                    ground: change.ground,
                }
            },
        );
    changes.extend(works);
    let list = |text: &mut String, numbers: Range<usize>, head: &str, none: &str| {
        text.push_str(&format!("\n{head}\n"));
        for k in numbers.clone() {
            text.push_str(&format!("  {}. {}\n", k + 1, changes[k].words));
        }
        if numbers.is_empty() {
            text.push_str(&format!("  {none}\n"));
        }
    };
    list(
        &mut text,
        0..choices,
        &format!("So that it will {to}, by the choices of this ground:"),
        if all_tried {
            "none: no setting of one or two choices does it"
        } else {
            "none among the settings of one or two choices that were tried; there are more"
        },
    );
    list(
        &mut text,
        choices..changes.len(),
        &format!("By working one stitch otherwise, crosses and twists up to {} moves:", asked.args.longest),
        "none: no work of this length at any single stitch does it",
    );
    if let Some(out) = &asked.args.out {
        draw(asked, &changes, number, out)?;
        text.push_str(&format!("\n{}: {} pictures side by side\n", out.display(), 1 + changes.len()));
    }
    print(&text)
}

/// Settings of one choice, or of two when one does not do, that steer the pair;
/// and whether there are no others.
fn by_choices(asked: &Asked<'_>, pair: usize, wish: Travel) -> (Vec<Change>, bool) {
    let about = asked.chosen.about();
    let values = |range: &catalogue::Range| -> Vec<String> {
        match range {
            catalogue::Range::Named(options) => options.keys().cloned().collect(),
            catalogue::Range::Count { least, most } => {
                (*least..=*most).map(|n| Value::Count(n).to_string()).collect()
            }
        }
    };
    let now = &asked.chosen.settings_as_typed();
    let single: Vec<(String, String)> = about
        .choices
        .iter()
        .flat_map(|(id, c)| values(&c.range).into_iter().map(move |v| (id.clone(), v)))
        .filter(|(id, value)| now.get(id) != Some(value))
        .collect();
    let attempt = |changes: &[(String, String)]| -> Option<Change> {
        let mut all: IndexMap<String, String> = now.clone();
        all.extend(changes.iter().cloned());
        let all: Vec<(String, String)> = all.into_iter().collect();
        let settings = about.resolve(Some(&asked.chosen.variety), &all).ok()?;
        let ground = Ground::new(asked.chosen.entry.define(&settings).ok()?).ok()?;
        let words: Vec<String> = changes.iter().map(|(id, value)| format!("--with {id}={value}")).collect();
        (ground.travel_of_pair(pair) == Some(wish)).then(|| Change {
            words: words.join(" "),
            caption: [0, 1].map(|k| words.get(k).cloned().unwrap_or_default()),
            ground,
        })
    };
    let mut found: Vec<Change> = single.iter().filter_map(|c| attempt(std::slice::from_ref(c))).collect();
    let mut all_tried = true;
    if found.is_empty() {
        let mut two: Vec<[(String, String); 2]> = single
            .iter()
            .enumerate()
            .flat_map(|(k, a)| single[k + 1..].iter().map(move |b| [a.clone(), b.clone()]))
            .filter(|[a, b]| a.0 != b.0)
            .collect();
        all_tried = two.len() <= TRIED;
        two.truncate(TRIED);
        let progress = Progress::new(two.len(), "Trying two choices at once");
        found.extend(two.iter().filter_map(|changes| {
            progress.step();
            attempt(changes)
        }));
    }
    found.truncate(TOLD);
    (found, all_tried)
}

/// Draws the ground as it is and with each change, side by side.
fn draw(asked: &Asked<'_>, changes: &[Change], number: usize, out: &Path) -> Result<(), Failure> {
    let grid = asked.scale.grid(asked.chosen.about().angle)?;
    let side = asked.scale.window_mm();
    let pairs = asked.order.pairs().len();
    let thumbnail = |ground: &Ground| Thumbnail::new(ground, &grid, &asked.scale, side, PX, pairs);
    let drawn: Vec<Thumbnail> = std::iter::once(&*asked.chosen.ground)
        .chain(changes.iter().map(|change| &change.ground))
        .map(thumbnail)
        .collect();
    let heading = Heading {
        title: format!("Ways to steer pair {number} of {}", asked.chosen.title()),
        subtitle: format!("Hang on {}, repeating.", asked.order),
        palette: asked
            .palette
            .colours()
            .iter()
            .map(|c| NamedColour { colour: c.rgb.into(), name: c.name.clone() })
            .collect(),
        side: PX,
        caption_lines: 3,
    };
    let mut sections = vec![Section { title: "As it is".to_owned(), cells: 1 }];
    if !changes.is_empty() {
        sections.push(Section { title: "Changed".to_owned(), cells: changes.len() });
    }
    let sheet = SectionedSheet { heading: &heading, sections };
    // Few enough for one page.
    let part: Vec<_> = sheet.pages(PAGE).into_iter().flatten().collect();
    let mut page = sheet.page(PAGE, &part, None, |cell| match cell.checked_sub(1).map(|k| &changes[k]) {
        None => vec![vec![asked.chosen.name()], Vec::new(), Vec::new()],
        Some(change) => {
            let [what, instead] = &change.caption;
            vec![vec![format!("Change {cell}")], vec![what.clone()], vec![instead.clone()]]
        }
    });
    for line in page.lines() {
        for (cell, x) in line.cells {
            drawn[cell].paint_into(&asked.order, &asked.palette, &mut line.pixels[x..], line.stride);
        }
    }
    write_file(out, &page.into_image().into_png(f64::from(PX) / side))
}
