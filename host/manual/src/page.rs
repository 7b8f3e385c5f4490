//! The page of findings as data for a template: errors, then warnings, each
//! with its words, its examples and their pictures.

use lace::{Code, Severity};
use serde::Serialize;

use crate::findings::{Example, ExampleSection, check, explain, severity_as_heading};
use crate::pictures::{ExamplePictures, Picture};

/// Where the pictures of a page are kept.
#[derive(Clone, Copy, Debug)]
pub enum PicturePlace<'a> {
    /// Inline in the page.
    Inline,
    /// In files in this folder, `FOLDER/NAME.svg`.
    Folder(&'a str),
}

/// All findings of one severity.
#[derive(Debug, Serialize)]
pub struct Part {
    /// Its anchor in links.
    pub anchor: &'static str,
    /// Its heading.
    pub title: &'static str,
    /// The findings.
    pub findings: Vec<FindingView>,
}

/// A finding as the page shows it.
#[derive(Debug, Serialize)]
pub struct FindingView {
    /// Its code, which is also its anchor in links.
    pub code: &'static str,
    /// Heading and text of each section.
    pub sections: Vec<[&'static str; 2]>,
    /// The bad example, then the good one.
    pub examples: Vec<ExampleView>,
}

/// An example as the page shows it.
#[derive(Debug, Serialize)]
pub struct ExampleView {
    /// The heading.
    pub heading: &'static str,
    /// Words, where there is no chart.
    pub words: Option<&'static str>,
    /// The text of the chart.
    pub chart: Option<&'static str>,
    /// What `check` says about it; empty when it finds nothing.
    pub check_says: Vec<String>,
    /// Its pictures.
    pub pictures: Vec<PictureView>,
}

/// A picture as the page shows it.
#[derive(Debug, Serialize)]
pub struct PictureView {
    /// The drawing itself, if it is inline.
    pub svg: Option<String>,
    /// The path of its file, if it is in one.
    pub file: Option<String>,
    /// Alternative text: what it shows.
    pub alt: String,
    /// Width, px.
    pub width: u32,
    /// Height, px.
    pub height: u32,
    /// Whether it shows the worked lace rather than the chart.
    pub worked: bool,
}

/// The page. `pictures` come from [`draw_all`](crate::pictures::draw_all).
pub fn page(pictures: &[ExamplePictures], place: PicturePlace<'_>) -> Vec<Part> {
    let part = |(severity, anchor): (Severity, &'static str)| Part {
        anchor,
        title: severity_as_heading(severity),
        findings: Code::ALL
            .iter()
            .zip(pictures)
            .filter(|(code, _)| code.severity() == severity)
            .map(|(&code, pictures)| finding_view(code, pictures, place))
            .collect(),
    };
    [(Severity::Error, "errors"), (Severity::Warning, "warnings")].map(part).into()
}

fn finding_view(code: Code, pictures: &ExamplePictures, place: PicturePlace<'_>) -> FindingView {
    let explained = explain(code);
    let examples = explained.examples.iter().zip(pictures);
    FindingView {
        code: code.word(),
        sections: explained.sections.map(|section| [section.heading, section.text]).into(),
        examples: examples.map(|(example, pictures)| example_view(*example, pictures, place)).collect(),
    }
}

fn example_view(section: ExampleSection, pictures: &[Picture], place: PicturePlace<'_>) -> ExampleView {
    let (words, chart) = match section.example {
        Example::Words(words) => (Some(words), None),
        Example::Chart(chart) => (None, Some(chart)),
    };
    ExampleView {
        heading: section.heading,
        words,
        chart,
        check_says: chart.and_then(check).map(|checked| checked.sentences()).unwrap_or_default(),
        pictures: pictures.iter().map(|picture| picture_view(picture, place)).collect(),
    }
}

fn picture_view(picture: &Picture, place: PicturePlace<'_>) -> PictureView {
    let [width, height] = picture.size_px();
    let (svg, file) = match place {
        PicturePlace::Inline => (Some(picture.inline_svg()), None),
        PicturePlace::Folder(folder) => (None, Some(format!("{folder}/{}.svg", picture.name))),
    };
    PictureView { svg, file, alt: picture.alt.clone(), width, height, worked: picture.worked }
}
