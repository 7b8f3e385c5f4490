//! The manual as a page: one file by itself, or among the pages of a gallery,
//! whose pictures are files of their own.

use compare::thumbnail::sample;
use lace::{Code, Ground, Severity};
use minijinja::value::{Serde, merge_maps};
use minijinja::{Environment, Value, context};
use picture::drawing::Drawing;
use picture::drawing::sketch::bare_sketch;
use picture::export::svg::{to_inline_svg, to_svg};
use rayon::prelude::*;
use serde::Serialize;

use super::{Checked, Example, HEADINGS, check, examples, said, words};
use crate::failure::Failure;
use crate::typeface;

/// A grid step in the pictures of charts, mm: one scale for all, so that four
/// steps fit a small screen.
const STEP: f64 = 16.0;
/// How much worked lace is shown either way, in pin spacings.
const SHOWN: f64 = 3.0;
/// For how many pixels to the millimetre its threads are shaded.
const PX_PER_MM: f64 = 8.0;

/// A picture of an example.
pub struct Picture {
    /// Its name: the code, then what it shows.
    pub name: String,
    /// What it shows, in words.
    alt: String,
    drawing: Drawing,
    worked: bool,
}

impl Picture {
    /// The picture as the text of an SVG file.
    pub fn file(&self) -> String {
        to_svg(&self.drawing, "")
    }

    fn view(&self, folder: Option<&str>) -> PictureView {
        PictureView {
            svg: match folder {
                None => Some(to_inline_svg(&self.drawing, &format!("{}-", self.name))),
                Some(_) => None,
            },
            file: folder.map(|folder| format!("{folder}/{}.svg", self.name)),
            alt: self.alt.clone(),
            // Whole pixels of 96 to the inch: CSS, Values and Units 3, 5.2.
            width: (self.drawing.width * 96.0 / 25.4).round() as u32,
            height: (self.drawing.height * 96.0 / 25.4).round() as u32,
            worked: self.worked,
        }
    }
}

#[derive(Serialize)]
struct PictureView {
    svg: Option<String>,
    file: Option<String>,
    alt: String,
    width: u32,
    height: u32,
    worked: bool,
}

#[derive(Serialize)]
struct ExampleView {
    heading: &'static str,
    words: Option<&'static str>,
    chart: Option<&'static str>,
    said: Vec<String>,
    pictures: Vec<PictureView>,
}

#[derive(Serialize)]
struct Entry {
    code: &'static str,
    /// Heading and words.
    told: Vec<[&'static str; 2]>,
    examples: Vec<ExampleView>,
}

#[derive(Serialize)]
struct Part {
    anchor: &'static str,
    title: String,
    entries: Vec<Entry>,
}

/// The pictures of every code, each with those of its bad and its good example.
pub struct Pictures(Vec<[Vec<Picture>; 2]>);

impl Pictures {
    /// Draws them all.
    pub fn draw() -> Pictures {
        let of = |code: &Code| {
            let [bad, good] = examples(*code);
            [drawn(*code, "bad", bad), drawn(*code, "good", good)]
        };
        Pictures(Code::ALL.par_iter().map(of).collect())
    }

    /// All of them.
    pub fn all(&self) -> impl Iterator<Item = &Picture> {
        self.0.iter().flatten().flatten()
    }
}

fn drawn(code: Code, kind: &str, example: Example) -> Vec<Picture> {
    let Example::Chart(chart) = example else { return Vec::new() };
    let Some(checked) = check(chart) else { return Vec::new() };
    let Checked { title, angle, repeat, findings } = checked;
    let mut pictures = Vec::new();
    if let Some(mut drawing) = bare_sketch(&repeat, &title, &findings, STEP) {
        let faults = findings.len();
        let marked = match faults {
            0 => "nothing to find fault with".to_owned(),
            _ => format!("what is found is told below, faults with a place numbered 1 to {faults}"),
        };
        let alt =
            format!("{title}: the {kind} chart for {code} as it is written, stitches and pairs; {marked}");
        drawing.title.clone_from(&alt);
        pictures.push(Picture { name: format!("{code}-{kind}"), alt, drawing, worked: false });
    }
    if let Ok(ground) = Ground::new(repeat)
        && findings.is_empty()
        && let Ok(mut drawing) = sample(&ground, angle, SHOWN, PX_PER_MM)
    {
        let alt =
            format!("{title}: the {kind} chart for {code} worked, two pairs of one colour, two of another");
        drawing.title.clone_from(&alt);
        pictures.push(Picture { name: format!("{code}-{kind}-worked"), alt, drawing, worked: true });
    }
    pictures
}

/// What the template of the page shows: pictures in the page itself, or files
/// in `folder`.
pub fn contents(pictures: &Pictures, folder: Option<&str>) -> Value {
    let entry = |(code, pictures): (&Code, &[Vec<Picture>; 2])| Entry {
        code: code.word(),
        told: HEADINGS
            .into_iter()
            .zip([code.means(), code.why(), code.remedy()])
            .map(|(h, w)| [h, w])
            .collect(),
        examples: examples(*code)
            .into_iter()
            .zip(&HEADINGS[3..])
            .zip(pictures)
            .map(|((example, heading), pictures)| ExampleView {
                heading,
                words: if let Example::Words(words) = example { Some(words) } else { None },
                chart: if let Example::Chart(chart) = example { Some(chart) } else { None },
                said: match example {
                    Example::Chart(chart) => check(chart).map(|checked| said(&checked)).unwrap_or_default(),
                    Example::Words(_) => Vec::new(),
                },
                pictures: pictures.iter().map(|picture| picture.view(folder)).collect(),
            })
            .collect(),
    };
    let part = |(severity, anchor): (Severity, &'static str)| Part {
        anchor,
        title: words::gravity_as_heading(severity),
        entries: Code::ALL
            .iter()
            .zip(&pictures.0)
            .filter(|(c, _)| c.severity() == severity)
            .map(entry)
            .collect(),
    };
    let parts: Vec<Part> =
        [(Severity::Error, "errors"), (Severity::Warning, "warnings")].into_iter().map(part).collect();
    context! {
        parts => Value::from(Serde(parts)),
        layout => if folder.is_some() { "frame.html" } else { "alone.html" },
    }
}

/// The page by itself, with everything in one file.
pub fn alone(pages: &Environment<'_>) -> Result<String, Failure> {
    let style = include_str!("../../../gallery/pages/style.css");
    let style = Value::from_safe_string(typeface::inlined(style));
    let more = context! { style, version => env!("CARGO_PKG_VERSION") };
    let contents = contents(&Pictures::draw(), None);
    Ok(pages.get_template("findings.html")?.render(merge_maps([contents, more]))?)
}
