//! `trace --why`: what to change so that a pair goes as wished.

use std::cell::OnceCell;
use std::path::Path;

use catalogue::Change;
use catalogue::text::path_name;
use compare::trace::steering::{Steering, SteeringRequest};
use lace::{StitchChange, Travel};

use crate::commands::Outcome;
use crate::export::Format;
use crate::failure::Failure;
use crate::output::{print, write_file};
use crate::progress::Progress;

/// Looks for changes, prints the shortest, and draws them if `--out` is given.
pub fn run(request: SteeringRequest, out: Option<&Path>) -> Result<Outcome, Failure> {
    if let Some(out) = out
        && Format::of(out)? != Format::Png
    {
        return Err(Failure::Value {
            what: format!("{} cannot hold these pictures", path_name(out)),
            help: "changes are drawn side by side in a .png".to_owned(),
        });
    }
    let progress = OnceCell::new();
    let steering = Steering::new(request, &|all| {
        progress.get_or_init(|| Progress::new(all, "Trying two choices at once")).step();
    })?;
    drop(progress);
    let mut text = text(&steering);
    if let Some(out) = out.filter(|_| !steering.is_so_already()) {
        let picture = steering.picture(typed)?;
        write_file(out, &picture.image.into_png(picture.px_per_mm))?;
        text.push_str(&format!("\n{}: {} pictures side by side\n", path_name(out), picture.pictures));
    }
    print(&text)?;
    Ok(Outcome::Done)
}

/// A choice as the user types it.
fn typed(change: &Change) -> String {
    format!("--with {change}")
}

fn text(steering: &Steering) -> String {
    let request = &steering.request;
    let now = steering.now.map_or("parts: its two threads go different ways", Travel::words);
    let (title, name) = (request.chosen.title(), request.chosen.name());
    let mut text = format!("{title} ({name}): pair {} {now}.\n", request.pair);
    if steering.is_so_already() {
        text.push_str("That is what you wish; nothing needs to change.\n");
        return text;
    }
    let to = match request.wish {
        Travel::Left => "travel to the left",
        Travel::Right => "travel to the right",
        Travel::Stays => "stay",
    };
    let by_choices: Vec<String> = steering
        .by_choices
        .iter()
        .map(|change| change.choices.iter().map(typed).collect::<Vec<_>>().join(" "))
        .collect();
    text.push_str(&format!("\nSo that it will {to}, by the choices of this ground:\n"));
    text.push_str(&list(1, &by_choices));
    if by_choices.is_empty() {
        text.push_str(match steering.all_tried {
            true => "  none: no setting of one or two choices does it\n",
            false => "  none among the settings of one or two choices that were tried; there are more\n",
        });
    }
    let by_stitch: Vec<String> = steering.by_stitch.iter().map(|change| in_words(steering, change)).collect();
    text.push_str(&format!(
        "\nBy working one stitch otherwise, crosses and twists up to {} moves:\n",
        request.longest
    ));
    text.push_str(&list(1 + by_choices.len(), &by_stitch));
    if by_stitch.is_empty() {
        text.push_str("  none: no work of this length at any single stitch does it\n");
    }
    text
}

/// A change of one stitch.
fn in_words(steering: &Steering, change: &StitchChange) -> String {
    let placed = steering.placed(change);
    format!(
        "{}: {} ({}) instead of {} ({} {} changed)",
        placed.id,
        change.stitch,
        change.stitch.words(),
        placed.stitch.letters().unwrap_or_else(|| steering.placed_in_words(change)),
        change.moves,
        if change.moves == 1 { "move" } else { "moves" }
    )
}

/// Lines numbered from `first`.
fn list(first: usize, lines: &[String]) -> String {
    lines.iter().zip(first..).map(|(line, number)| format!("  {number}. {line}\n")).collect()
}
