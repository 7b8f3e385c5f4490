//! What can be chosen: a picture of every value of every choice, the others as
//! in the usual variety.

use catalogue::Chosen;
use catalogue::{Choice, Range};
use compare::thumbnail::Thumbnail;
use rayon::prelude::*;
use serde::Serialize;

use super::index::in_a_line;
use super::{Gallery, SMALL_COLOURS};
use crate::failure::Failure;

/// Pixels of a picture.
pub const CHOICE_PX: u32 = 160;
/// Most values that are shown of a choice.
const MOST_VALUES: usize = 8;

/// A choice as the page shows it.
#[derive(Serialize)]
pub struct ChoiceView {
    id: String,
    title: String,
    values: String,
    shown: Vec<ValueView>,
    /// How many values are not shown.
    more: usize,
}

/// A value with its picture, or why there is none.
#[derive(Serialize, Default)]
struct ValueView {
    title: String,
    /// Whether the usual variety has it.
    usual: bool,
    file: String,
    alt: String,
    line: String,
    problem: Option<String>,
}

/// Draws all choices of a ground and writes the pictures.
pub fn views(gallery: &Gallery<'_>, usual: &Chosen) -> Result<Vec<ChoiceView>, Failure> {
    let choices: Vec<_> = usual.about().choices.iter().collect();
    choices.into_par_iter().map(|(id, choice)| view(gallery, usual, id, choice)).collect()
}

fn view(gallery: &Gallery<'_>, usual: &Chosen, id: &str, choice: &Choice) -> Result<ChoiceView, Failure> {
    let shown = values(&choice.range).into_iter().map(|(value, title)| {
        let mut view = ValueView {
            usual: usual.settings.get(id).is_some_and(|now| now.to_string() == value),
            title,
            ..ValueView::default()
        };
        match usual.entry.choose(Some(&usual.variety), &[(id.to_owned(), value.clone())]) {
            Err(why) => view.problem = Some(why.to_string()),
            Ok(chosen) => {
                view.file = format!("choices/{}/{id}/{value}.png", usual.about().id);
                let grid = gallery.scale.grid(chosen.about().angle)?;
                view.line = in_a_line(&chosen.ground, &grid);
                view.alt = format!(
                    "{}: {}, {}, worked in {}. {}",
                    usual.title(),
                    choice.title,
                    view.title,
                    gallery.hung(),
                    chosen.ground.travel_sentence()
                );
                draw(gallery, &chosen, &view.file)?;
            }
        }
        Ok(view)
    });
    Ok(ChoiceView {
        id: id.to_owned(),
        title: choice.title.clone(),
        values: choice.range.in_words(),
        more: count(&choice.range).saturating_sub(MOST_VALUES),
        shown: shown.collect::<Result<_, Failure>>()?,
    })
}

/// How many values there are.
fn count(range: &Range) -> usize {
    match range {
        Range::Named(options) => options.len(),
        Range::Count { least, most } => (i64::from(*most) - i64::from(*least)).unsigned_abs() as usize + 1,
    }
}

/// The first values of a choice as they are written, with their titles.
fn values(range: &Range) -> Vec<(String, String)> {
    match range {
        Range::Named(options) => {
            let named = options.iter().map(|(id, title)| (id.clone(), title.clone()));
            named.take(MOST_VALUES).collect()
        }
        Range::Count { least, most } => {
            (*least..=*most).take(MOST_VALUES).map(|n| (n.to_string(), n.to_string())).collect()
        }
    }
}

fn draw(gallery: &Gallery<'_>, chosen: &Chosen, file: &str) -> Result<(), Failure> {
    let Gallery { scale, order, .. } = gallery;
    let side = scale.window_mm();
    let layout = scale.lay_out(&chosen.ground, chosen.about().angle)?;
    let drawn = Thumbnail::new(&chosen.ground, layout, side, CHOICE_PX, &[order.pairs().len()]);
    let image = drawn.paint(order, &gallery.palette).reduced(SMALL_COLOURS);
    gallery.folder.write(file, &image.to_png(f64::from(CHOICE_PX) / side))
}
