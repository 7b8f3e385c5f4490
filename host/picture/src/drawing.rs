//! A drawing: an exact list of shapes in millimetres, the input of every
//! exporter (pixels, SVG, PDF).

mod curve;
pub mod font;
mod geometry;
mod hung;
mod paint;
pub mod pricking;
pub mod sample;
mod setting_out;
pub mod sketch;
pub mod tagged_page;
pub mod threads;
mod tile;
pub mod trace_chart;
pub mod working_diagram;

use lace::{Point, point};

use crate::colour::Rgb;

pub use geometry::{Path, Rect, Size, Step, rect};
pub use paint::{Anchor, Background, Cap, Face, Ink, Paint, Stroke};

/// A line of text.
#[derive(Clone, Debug, PartialEq)]
pub struct Text {
    /// Its place on the baseline, mm.
    pub at: Point,
    /// Letter size (the em), mm.
    pub size: f64,
    /// The words; control characters are left out.
    pub words: String,
    /// How it is aligned to `at`.
    pub anchor: Anchor,
    /// Regular or semibold.
    pub face: Face,
    /// Colour.
    pub paint: Paint,
}

/// A shape in a drawing.
#[derive(Clone, Debug, PartialEq)]
pub enum Shape {
    /// A path, filled and stroked; the stroke lies over the fill.
    Path {
        /// The path.
        path: Path,
        /// Paint of the fill (nonzero winding rule).
        fill: Option<Paint>,
        /// The stroke along the path.
        stroke: Option<Stroke>,
    },
    /// A line of text.
    Text(Text),
}

impl Shape {
    /// A filled path.
    pub fn fill(path: Path, paint: impl Into<Paint>) -> Shape {
        Shape::Path { path, fill: Some(paint.into()), stroke: None }
    }

    /// A stroked path.
    pub fn stroke(path: Path, stroke: Stroke) -> Shape {
        Shape::Path { path, fill: None, stroke: Some(stroke) }
    }
}

/// A picture that repeats: an exporter may draw one repeat of it and lay it side by
/// side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Repeating {
    /// Where the picture lies, mm; it is clipped to this. The first repeat begins at
    /// the upper left corner.
    pub view: Rect,
    /// The distances after which it repeats to the right and down, mm.
    pub period: Size,
}

/// Shapes that belong together.
#[derive(Clone, Debug, PartialEq)]
pub struct Group {
    /// A name of letters, digits and hyphens, unique in the drawing.
    pub id: String,
    /// Clips the group to this rectangle.
    pub clip: Option<Rect>,
    /// The repeating picture it is a part of. The groups of a picture follow each other.
    pub repeating: Option<Repeating>,
    /// The shapes, lowest first.
    pub shapes: Vec<Shape>,
}

impl Group {
    /// A group without clipping.
    pub fn new(id: impl Into<String>) -> Group {
        Group { id: id.into(), clip: None, repeating: None, shapes: Vec::new() }
    }
}

/// A drawing in millimetres: `x` to the right, `y` down, origin at the upper left
/// corner. Anything outside its size is clipped.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawing {
    /// Width, mm.
    pub width: f64,
    /// Height, mm.
    pub height: f64,
    /// What it shows, for files that carry a title.
    pub title: String,
    /// The background.
    pub background: Background,
    /// The colour of each class of threads.
    pub colours: Vec<Rgb>,
    /// The shapes, lowest first.
    pub groups: Vec<Group>,
}

impl Drawing {
    /// An empty drawing.
    pub fn new(width: f64, height: f64, title: impl Into<String>) -> Drawing {
        Drawing {
            width,
            height,
            title: title.into(),
            background: Background::Transparent,
            colours: Vec::new(),
            groups: Vec::new(),
        }
    }

    /// Pages one below the other as one drawing, with the title and background of the
    /// first.
    pub fn one_below_another(pages: &[Drawing]) -> Drawing {
        let width = pages.iter().map(|page| page.width).fold(0.0, f64::max);
        let height = pages.iter().map(|page| page.height).sum();
        let first = pages.first();
        let mut all = Drawing::new(width, height, first.map_or("", |page| &page.title));
        all.background = first.map_or(Background::Transparent, |page| page.background);
        let mut y = 0.0;
        for (page, number) in pages.iter().zip(1..) {
            all.place(page, point(0.0, y), &format!("page-{number}-"));
            y += page.height;
        }
        all
    }

    /// All shapes, lowest first.
    pub fn shapes(&self) -> impl Iterator<Item = &Shape> {
        self.groups.iter().flat_map(|g| &g.shapes)
    }

    /// The same drawing scaled by `by`, including lines and letters.
    pub fn scaled(&self, by: f64) -> Drawing {
        let stroke = |s: Stroke| Stroke { width: s.width * by, dash: s.dash.map(|d| d.map(|l| l * by)), ..s };
        let shape = |shape: &Shape| match shape {
            Shape::Path { path, fill, stroke: line } => {
                Shape::Path { path: path.map(|p| p * by), fill: *fill, stroke: line.map(stroke) }
            }
            Shape::Text(text) => Shape::Text(Text { at: text.at * by, size: text.size * by, ..text.clone() }),
        };
        let area = |r: Rect| rect(r.x * by, r.y * by, r.width * by, r.height * by);
        let repeating = |Repeating { view, period }| Repeating {
            view: area(view),
            period: Size { width: period.width * by, height: period.height * by },
        };
        let groups = self
            .groups
            .iter()
            .map(|group| Group {
                id: group.id.clone(),
                clip: group.clip.map(area),
                repeating: group.repeating.map(repeating),
                shapes: group.shapes.iter().map(shape).collect(),
            })
            .collect();
        Drawing { width: self.width * by, height: self.height * by, groups, ..self.clone() }
    }

    /// Places another drawing on this one with its upper left corner at `at`,
    /// clipped to its size. `prefix` is put before the names of its groups.
    pub fn place(&mut self, other: &Drawing, at: Point, prefix: &str) {
        let classes = self.colours.len();
        self.colours.extend(&other.colours);
        let frame = rect(at.x, at.y, other.width, other.height);
        if let Background::Colour(background) = other.background {
            let mut group = Group::new(format!("{prefix}background"));
            group.shapes.push(Shape::fill(Path::rect(frame), background));
            self.groups.push(group);
        }
        let repaint = |paint: Paint| match paint.ink {
            Ink::Thread { class, tone } => {
                Paint { ink: Ink::Thread { class: class + classes, tone }, ..paint }
            }
            Ink::Fixed(_) => paint,
        };
        for group in &other.groups {
            let clip = group.clip.map_or(frame, |c| {
                let (x, y) = ((c.x + at.x).max(frame.x), (c.y + at.y).max(frame.y));
                let right = (c.x + at.x + c.width).min(frame.x + frame.width);
                let bottom = (c.y + at.y + c.height).min(frame.y + frame.height);
                rect(x, y, (right - x).max(0.0), (bottom - y).max(0.0))
            });
            let shapes = group
                .shapes
                .iter()
                .map(|shape| match shape {
                    Shape::Path { path, fill, stroke } => Shape::Path {
                        path: path.map(|p| p + at),
                        fill: fill.map(repaint),
                        stroke: stroke.map(|s| Stroke { paint: repaint(s.paint), ..s }),
                    },
                    Shape::Text(text) => {
                        Shape::Text(Text { at: text.at + at, paint: repaint(text.paint), ..text.clone() })
                    }
                })
                .collect();
            let repeating = group.repeating.map(|Repeating { view, period }| Repeating {
                view: rect(view.x + at.x, view.y + at.y, view.width, view.height),
                period,
            });
            self.groups.push(Group {
                id: format!("{prefix}{}", group.id),
                clip: Some(clip),
                repeating,
                shapes,
            });
        }
    }
}
