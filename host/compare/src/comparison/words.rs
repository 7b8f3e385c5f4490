//! Texts on the pages of a comparison: titles, heads of pages, captions.

use catalogue::Chosen;
use lace::{Arrangement, number_to};
use picture::colour::vision::Vision;
use picture::page::contact_sheet::{Heading, Wordings};

use super::setting::Setting;
use crate::cell::Cell;
use crate::palette::Palette;
use crate::scale::Scale;

/// The title of the pages; `like` is the picture that all are compared with.
pub(super) fn title(by_pattern: bool, like: Option<(&Chosen, &Arrangement)>) -> String {
    let mut title = match like {
        None => "Grounds in every arrangement".to_owned(),
        Some((chosen, arrangement)) => format!("What looks like {} in {arrangement}", chosen.title()),
    };
    if by_pattern {
        title.push_str(", by the kind of pattern");
    }
    title
}

/// The head of every page.
pub(super) fn heading(
    title: String,
    setting: &Setting,
    scale: &Scale,
    palette: &Palette,
    px: u32,
    seen_by: Option<Vision>,
) -> Heading {
    let mut subtitle = format!(
        "Each picture shows {} mm of lace{}; {}. Hang on from left to right as the letters say, repeating.",
        number_to(scale.window_mm(), 2),
        if scale.given_window_mm().is_some() { "" } else { ", or more where it says so" },
        scale.in_words()
    );
    if let Some(vision) = seen_by {
        subtitle.push_str(&format!(" Colours are painted as seen {}.", vision.words()));
    }
    let caption_lines = if matches!(setting, Setting::Table { .. }) { 1 } else { 3 };
    Heading { title, subtitle, palette: palette.swatches(), side: px, caption_lines }
}

/// The caption of a picture outside a table: ground, arrangement, result.
pub(super) fn caption(
    chosen: &Chosen,
    arrangement: &Arrangement,
    cell: &Cell,
    likeness: Option<f64>,
) -> Vec<Wordings> {
    // Always the title: among titles, a name to type would look like another ground.
    let title = chosen.title();
    let ground = match cell.shown.scale_in_words() {
        Some(wider) => {
            vec![format!("{title}, {wider}"), format!("{title}, {} mm", number_to(cell.shown.window_mm, 2))]
        }
        None => vec![title.to_owned()],
    };
    let (letters, runs) = (arrangement.to_string(), arrangement.in_runs());
    let mut written = Vec::new();
    if let Some(name) = arrangement.name() {
        written.extend([&letters, &runs].map(|text| format!("{text} · {}", name.words())));
    }
    written.extend([letters, runs]);
    let words = cell.captions();
    let words = match likeness {
        None => words,
        Some(likeness) => {
            let percent = format!("{:.0} % alike", likeness * 100.0);
            let first = words.into_iter().map(|w| format!("{percent}: {w}"));
            first.chain([percent.clone()]).collect()
        }
    };
    vec![ground, written, words]
}
