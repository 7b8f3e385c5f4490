//! Texts on the pages of a comparison: titles, heads of pages, captions.

use catalogue::Chosen;
use lace::{Arrangement, number_to};
use picture::colour::vision::Vision;
use picture::page::contact_sheet::{Heading, Wordings};

use super::setting::Setting;
use crate::cell::Cell;
use crate::palette::Palette;
use crate::scale::Scale;
use crate::window::Shown;

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
    let caption_lines = if matches!(setting, Setting::Table { .. }) { 1 } else { 4 };
    Heading { title, subtitle, palette: palette.swatches(), side: px, caption_lines }
}

/// Most letters of a title that stay on one line of a caption.
const LINE: usize = 24;

/// A title on one line or two. What tells it from the titles of other varieties stands
/// at its end and must not be cut off; nor does the name to type take its place, which
/// among titles would look like another ground.
fn title_lines(title: &str) -> Vec<String> {
    if title.chars().count() <= LINE {
        return vec![title.to_owned()];
    }
    let at =
        |split: &str| title.split_once(split).map(|(first, rest)| vec![first.to_owned(), rest.to_owned()]);
    // Without a comma at the last gap within the line.
    let gap = || {
        let end = title.char_indices().nth(LINE).map_or(title.len(), |(end, _)| end);
        let (first, rest) = title.split_at(title[..end].rfind(' ')?);
        Some(vec![first.to_owned(), rest.trim_start().to_owned()])
    };
    at(", ").or_else(gap).unwrap_or_else(|| vec![title.to_owned()])
}

/// The title, and the scale if it is smaller than that of the others: below a title on
/// one line, behind one on two.
fn ground_lines(title: &str, shown: &Shown) -> Vec<Wordings> {
    let mut lines: Vec<Wordings> = title_lines(title).into_iter().map(|line| vec![line]).collect();
    let Some(wider) = shown.scale_in_words() else { return lines };
    let short = format!("{} mm", number_to(shown.window_mm, 2));
    match &mut lines[..] {
        [_, second] => {
            *second = [wider, short].iter().map(|scale| format!("{}, {scale}", second[0])).collect();
        }
        _ => lines.push(vec![wider, short]),
    }
    lines
}

/// The caption of a picture outside a table: ground, arrangement, result.
pub(super) fn caption(
    chosen: &Chosen,
    arrangement: &Arrangement,
    cell: &Cell,
    likeness: Option<f64>,
) -> Vec<Wordings> {
    let (letters, runs) = (arrangement.to_string(), arrangement.in_runs());
    let mut written = Vec::new();
    if let Some(name) = arrangement.name() {
        written.extend([&letters, &runs].map(|text| format!("{text} · {name}")));
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
    ground_lines(chosen.title(), &cell.shown).into_iter().chain([written, words]).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn long_titles_stand_on_two_lines() {
        let lines = |title: &str| title_lines(title).join(" | ");
        assert_eq!(lines("Torchon ground"), "Torchon ground");
        assert_eq!(lines("Spider, two legs a side"), "Spider, two legs a side");
        assert_eq!(lines("Rose ground, half stitch crossings"), "Rose ground | half stitch crossings");
        assert_eq!(lines("Double torchon ground with a twist"), "Double torchon ground | with a twist");
        assert_eq!(lines("Überlangerundungebrochenername"), "Überlangerundungebrochenername");
    }
}
