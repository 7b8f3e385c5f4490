//! `trace --why`: what to change so that a pair goes as wished.

use indexmap::IndexMap;
use lace::{Ground, Travel};
use picture::contact::{ContactSheet, Row};
use sandbox::{Range, Value};

use super::Asked;
use crate::cli::Wish;
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

/// One change that does what is wished.
struct Change {
    words: String,
    ground: Ground,
}

/// Looks for changes, prints the shortest and draws them when asked to.
pub(super) fn run(asked: &Asked<'_>) -> Result<(), Failure> {
    let ground = &asked.chosen.ground;
    let own = ground.hanging().pairs().len();
    let Some(&number) = asked.args.pair.first() else {
        return Err(Failure::Value {
            what: "no pair is named".to_owned(),
            help: "say which pair is to go so, for example --why stays --pair 1".to_owned(),
        });
    };
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
    let choices = by_choices(asked, pair, wish);
    let works: Vec<Change> = ground
        .works_that_steer(pair, wish, usize::from(asked.args.longest))
        .into_iter()
        .take(TOLD)
        .map(|change| Change {
            words: format!(
                "{}: {} ({}) instead of {} ({} {} changed)",
                ground.stitches()[change.stitch].id,
                change.work,
                change.work.words(),
                ground.stitches()[change.stitch].work,
                change.moves,
                if change.moves == 1 { "move" } else { "moves" }
            ),
            ground: change.ground,
        })
        .collect();
    let list = |text: &mut String, changes: &[Change], head: &str, none: &str| {
        text.push_str(&format!("\n{head}\n"));
        for (k, change) in changes.iter().enumerate() {
            text.push_str(&format!("  {}. {}\n", k + 1, change.words));
        }
        if changes.is_empty() {
            text.push_str(&format!("  {none}\n"));
        }
    };
    list(
        &mut text,
        &choices,
        &format!("So that it will {to}, by the choices of this ground:"),
        "none: no setting of one or two choices does it",
    );
    list(
        &mut text,
        &works,
        &format!("By working one stitch otherwise, crosses and twists up to {} moves:", asked.args.longest),
        "none: no work of this length at any single stitch does it",
    );
    if let Some(out) = &asked.args.out {
        let count = draw(asked, choices.into_iter().chain(works), number, out)?;
        text.push_str(&format!("\n{}: {count} pictures side by side\n", out.display()));
    }
    print(&text)
}

/// Settings of one choice, or of two when one does not do, that steer the pair.
fn by_choices(asked: &Asked<'_>, pair: usize, wish: Travel) -> Vec<Change> {
    let about = &asked.chosen.plugin.about;
    let values = |range: &Range| -> Vec<String> {
        match range {
            Range::Named(options) => options.keys().cloned().collect(),
            Range::Count { least, most } => (*least..=*most).map(|n| Value::Count(n).to_string()).collect(),
        }
    };
    let now = &asked.chosen.settings;
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
        let ground = Ground::new(asked.chosen.plugin.define(&settings).ok()?).ok()?;
        (ground.travel_of_pair(pair) == Some(wish)).then(|| Change {
            words: changes
                .iter()
                .map(|(id, value)| format!("--with {id}={value}"))
                .collect::<Vec<_>>()
                .join(" "),
            ground,
        })
    };
    let mut found: Vec<Change> = single.iter().filter_map(|c| attempt(std::slice::from_ref(c))).collect();
    if found.is_empty() {
        let two: Vec<[(String, String); 2]> = single
            .iter()
            .enumerate()
            .flat_map(|(k, a)| single[k + 1..].iter().map(move |b| [a.clone(), b.clone()]))
            .filter(|[a, b]| a.0 != b.0)
            .take(TRIED)
            .collect();
        let progress = Progress::new(two.len(), "Trying two choices at once");
        found.extend(two.iter().filter_map(|changes| {
            progress.step();
            attempt(changes)
        }));
    }
    found.truncate(TOLD);
    found
}

/// Draws the ground as it is and with each change. Returns how many pictures.
fn draw(
    asked: &Asked<'_>,
    changes: impl Iterator<Item = Change>,
    number: usize,
    out: &std::path::Path,
) -> Result<usize, Failure> {
    if crate::export::Format::of(out)? != crate::export::Format::Png {
        return Err(Failure::Value {
            what: format!("{} cannot hold these pictures", out.display()),
            help: "changes are drawn side by side in a .png".to_owned(),
        });
    }
    let grid = asked.scale.grid(asked.chosen.plugin.about.angle)?;
    let pairs = asked.order.pairs().len();
    let picture = |ground: &Ground| {
        let side = asked.scale.window_mm();
        Thumbnail::new(ground, &grid, &asked.scale, side, PX, pairs).paint(&asked.order, &asked.palette)
    };
    let mut rows = vec![Row {
        label: "As it is".to_owned(),
        notes: vec![asked.chosen.name()],
        cells: vec![picture(&asked.chosen.ground)],
    }];
    rows.extend(changes.enumerate().map(|(k, change)| Row {
        label: format!("Change {}", k + 1),
        notes: vec![change.words],
        cells: vec![picture(&change.ground)],
    }));
    let count = rows.len();
    let sheet = ContactSheet {
        title: format!("Ways to steer pair {number} of {}", asked.chosen.title()),
        subtitle: format!("Pairs hang {}, again and again.", asked.order),
        palette: asked.palette.colours().iter().map(|c| (c.rgb.into(), c.name.clone())).collect(),
        columns: vec![asked.order.clone()],
        rows,
        px_per_mm: f64::from(PX) / asked.scale.window_mm(),
    };
    write_file(out, &sheet.draw().to_png(sheet.px_per_mm))?;
    Ok(count)
}
