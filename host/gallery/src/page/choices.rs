//! The choices of a ground: a picture of every value of every choice, with the
//! other choices as in the usual variety.

use std::sync::Arc;

use catalogue::{Change, Choice, Chosen, Range, Value};
use compare::thumbnail::Thumbnail;
use picture::layout::Layout;
use rayon::prelude::*;
use serde::Serialize;

use super::words::in_a_line;
use crate::GalleryError;
use crate::drawn_variety::{DrawnVariety, shown};
use crate::shared::{Gallery, SMALL_COLOURS};

/// Side of a picture, in pixels.
pub const CHOICE_PX: u32 = 160;
/// Most values shown for one choice.
const MOST_VALUES: usize = 8;

/// A choice as the page shows it.
#[derive(Serialize)]
pub struct ChoiceView {
    id: String,
    title: String,
    values: String,
    shown: Vec<ValueView>,
    /// Number of values not shown.
    more: usize,
}

/// A value with its picture, or why there is none.
#[derive(Default, Serialize)]
struct ValueView {
    title: String,
    /// Whether the usual variety has it.
    usual: bool,
    file: String,
    alt: String,
    line: String,
    /// What there is to say about the lace it shows.
    shows: String,
    problem: Option<String>,
}

/// Draws all choices of a ground and writes the pictures. `drawn` are the
/// varieties already laid out, which are reused.
pub fn views<E: Send>(
    gallery: &Gallery<'_, E>,
    usual: &Chosen,
    drawn: &[DrawnVariety<'_>],
) -> Result<Vec<ChoiceView>, GalleryError<E>> {
    let choices: Vec<_> = usual.about().choices.iter().collect();
    let view = |(id, choice): (&String, &Choice)| -> Result<ChoiceView, GalleryError<E>> {
        let shown = first_values(&choice.range).into_iter();
        let shown = shown.map(|value| value_view(gallery, usual, drawn, (id, choice), value));
        Ok(ChoiceView {
            id: id.clone(),
            title: choice.title.clone(),
            values: choice.range.in_words(),
            more: count(&choice.range).saturating_sub(MOST_VALUES),
            shown: shown.collect::<Result<_, _>>()?,
        })
    };
    choices.into_par_iter().map(view).collect()
}

/// A value of a choice with its title.
struct TitledValue {
    value: Value,
    title: String,
}

/// The first values of a choice; a range of numbers may have very many.
fn first_values(range: &Range) -> Vec<TitledValue> {
    let named = |(id, title): (&String, &String)| TitledValue {
        value: Value::Named(id.clone()),
        title: title.clone(),
    };
    match range {
        Range::Named(options) => options.iter().map(named).take(MOST_VALUES).collect(),
        Range::Count { least, most } => (*least..=*most)
            .take(MOST_VALUES)
            .map(|n| TitledValue { value: Value::Count(n), title: n.to_string() })
            .collect(),
    }
}

/// Number of values.
fn count(range: &Range) -> usize {
    match range {
        Range::Named(options) => options.len(),
        Range::Count { least, most } => (i64::from(*most) - i64::from(*least)).unsigned_abs() as usize + 1,
    }
}

fn value_view<E>(
    gallery: &Gallery<'_, E>,
    usual: &Chosen,
    drawn: &[DrawnVariety<'_>],
    (id, choice): (&str, &Choice),
    TitledValue { value, title }: TitledValue,
) -> Result<ValueView, GalleryError<E>> {
    let mut view = ValueView { title, usual: usual.settings.get(id) == Some(&value), ..ValueView::default() };
    let chosen = match usual.entry.choose(Some(&usual.variety), &[Change::new(id, &value)]) {
        Ok(chosen) => chosen,
        Err(why) => {
            view.problem = Some(why.to_string());
            return Ok(view);
        }
    };
    let layout = match drawn.iter().find(|one| Arc::ptr_eq(&one.chosen.ground, &chosen.ground)) {
        Some(one) => one.layout.clone(),
        None => gallery.scale().lay_out(&chosen)?,
    };
    view.file = format!("choices/{}/{id}/{value}.png", usual.about().id);
    let [small, _] = shown(gallery, &chosen.ground, &layout.grid);
    view.line = in_a_line(&chosen, gallery.scale());
    view.shows = small.words();
    view.alt = format!(
        "{}: {}, {}, worked in {}. {}",
        usual.title(),
        choice.title,
        view.title,
        gallery.hung(),
        chosen.ground.travel_sentence()
    );
    write_picture(gallery, &chosen, layout, small.window_mm, &view.file)?;
    Ok(view)
}

fn write_picture<E>(
    gallery: &Gallery<'_, E>,
    chosen: &Chosen,
    layout: Layout,
    window_mm: f64,
    file: &str,
) -> Result<(), GalleryError<E>> {
    let drawn = Thumbnail::new(&chosen.ground, layout, window_mm, CHOICE_PX);
    let image = drawn.paint(&gallery.arrangement, &gallery.painted).reduced(SMALL_COLOURS);
    gallery.write(file, &image.to_png(f64::from(CHOICE_PX) / window_mm))
}
