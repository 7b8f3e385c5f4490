//! Pictures of the examples: every chart as written, and the worked lace where
//! the chart has no error.

use lace::{Code, Ground};
use picture::drawing::Drawing;
use picture::drawing::sample::sample;
use picture::drawing::sketch::bare_sketch;
use picture::export::svg::{to_inline_svg, to_svg};
use rayon::prelude::*;

use crate::findings::{CheckedChart, Example, check, examples};

/// Size of a grid step in the pictures of charts, mm. All share one scale, at
/// which four steps fit a small screen.
const STEP_MM: f64 = 16.0;
/// Width and height of the worked lace shown, in pin spacings.
const SHOWN: f64 = 3.0;
/// Resolution for which its threads are shaded, in pixels per millimetre.
const PX_PER_MM: f64 = 8.0;

/// A picture of an example.
#[derive(Clone, Debug)]
pub struct Picture {
    /// Its name: the code, then what it shows, such as `no-pin-good-worked`.
    pub name: String,
    /// Alternative text: what it shows.
    pub alt: String,
    /// Whether it shows the worked lace rather than the chart.
    pub worked: bool,
    drawing: Drawing,
}

impl Picture {
    /// The picture as the text of an SVG file.
    pub fn svg_file(&self) -> String {
        to_svg(&self.drawing, "")
    }

    /// The picture as an SVG element to embed in a page with others.
    pub fn inline_svg(&self) -> String {
        to_inline_svg(&self.drawing, &format!("{}-", self.name))
    }

    /// Width and height in whole CSS pixels, 96 to the inch (CSS Values and Units
    /// 3, section 6.2).
    pub fn size_px(&self) -> [u32; 2] {
        [self.drawing.width, self.drawing.height].map(|mm| (mm * 96.0 / 25.4).round() as u32)
    }
}

/// The pictures of a code's bad and good examples.
pub type ExamplePictures = [Vec<Picture>; 2];

/// Draws the pictures of every code, in the order of [`Code::ALL`].
pub fn draw_all() -> Vec<ExamplePictures> {
    Code::ALL.par_iter().map(|&code| draw(code)).collect()
}

/// Draws the pictures of one code; none where the examples are words.
pub fn draw(code: Code) -> ExamplePictures {
    let [bad, good] = examples(code);
    [draw_example(code, "bad", bad), draw_example(code, "good", good)]
}

fn draw_example(code: Code, kind: &str, example: Example) -> Vec<Picture> {
    let Example::Chart(chart) = example else { return Vec::new() };
    let Some(chart) = check(chart) else { return Vec::new() };
    let name = format!("{code}-{kind}");
    let written = draw_written(&chart).map(|(drawing, what)| {
        let alt = format!("{}: the {kind} chart for {code} as it is written, {what}", chart.title);
        (name.clone(), alt, false, drawing)
    });
    let worked = draw_worked(&chart).map(|drawing| {
        let alt = format!(
            "{}: the {kind} chart for {code} worked, two pairs of one colour, two of another",
            chart.title
        );
        (format!("{name}-worked"), alt, true, drawing)
    });
    let picture = |(name, alt, worked, mut drawing): (String, String, bool, Drawing)| {
        drawing.title.clone_from(&alt);
        Picture { name, alt, worked, drawing }
    };
    written.into_iter().chain(worked).map(picture).collect()
}

/// The chart as written, and a description of what it shows.
fn draw_written(chart: &CheckedChart) -> Option<(Drawing, String)> {
    let drawing = bare_sketch(&chart.repeat, &chart.title, &chart.findings, STEP_MM)?;
    let marked = match chart.findings.len() {
        0 => "nothing to find fault with".to_owned(),
        n => format!("the findings are explained below, those with a place numbered 1 to {n}"),
    };
    Some((drawing, format!("stitches and pairs; {marked}")))
}

/// The worked lace; `None` when the chart has an error.
fn draw_worked(chart: &CheckedChart) -> Option<Drawing> {
    let ground = Ground::new(chart.repeat.clone()).ok()?;
    chart.findings.is_empty().then(|| sample(&ground, chart.angle, SHOWN, PX_PER_MM).ok())?
}
