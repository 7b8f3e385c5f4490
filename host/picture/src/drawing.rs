//! A drawing: an exact list of shapes in millimetres, which every exporter
//! (pixels, SVG, PDF) takes as it is.

mod curve;
pub mod font;
pub mod pricking;
mod setting_out;
pub mod sketch;
pub mod tagged_page;
pub mod threads;
mod tile;
pub mod trace_chart;
pub mod working_diagram;

use lace::{Point, point};

use crate::colour::{Rgb, Tone};

/// A rectangle, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rect {
    /// Left edge.
    pub x: f64,
    /// Upper edge.
    pub y: f64,
    /// Width.
    pub width: f64,
    /// Height.
    pub height: f64,
}

/// A [`Rect`] from left, top, width and height, mm.
pub const fn rect(x: f64, y: f64, width: f64, height: f64) -> Rect {
    Rect { x, y, width, height }
}

impl Rect {
    /// Whether two rectangles have a point in common.
    pub fn meets(&self, other: &Rect) -> bool {
        self.x <= other.x + other.width
            && other.x <= self.x + self.width
            && self.y <= other.y + other.height
            && other.y <= self.y + self.height
    }

    /// The rectangle with `by` mm added on every side.
    pub fn grown(&self, by: f64) -> Rect {
        rect(self.x - by, self.y - by, self.width + 2.0 * by, self.height + 2.0 * by)
    }

    /// The smallest rectangle that holds all points; `None` without points.
    pub fn around(points: impl IntoIterator<Item = Point>) -> Option<Rect> {
        let mut bounds: Option<[f64; 4]> = None;
        for p in points {
            let [a, b, c, d] = bounds.unwrap_or([p.x, p.y, p.x, p.y]);
            bounds = Some([a.min(p.x), b.min(p.y), c.max(p.x), d.max(p.y)]);
        }
        bounds.map(|[a, b, c, d]| rect(a, b, c - a, d - b))
    }
}

/// One step of a [`Path`]; points in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Step {
    /// Start a new line here.
    Move(Point),
    /// Straight on to here.
    Line(Point),
    /// A cubic Bezier curve: two control points and where it ends.
    Curve(Point, Point, Point),
    /// Back to where the line started.
    Close,
}

/// Lines and curves, mm.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Path {
    /// The steps in order.
    pub steps: Vec<Step>,
}

/// How far a control point lies from the end of a quarter circle, in radii
/// (the usual approximation, 4/3 (sqrt 2 - 1)).
const QUARTER: f64 = 0.552_284_749_830_793_4;

impl Path {
    /// An empty path.
    pub fn new() -> Path {
        Path::default()
    }

    /// A line through points.
    pub fn line(points: impl IntoIterator<Item = Point>) -> Path {
        let mut path = Path::new();
        for p in points {
            path.steps.push(if path.steps.is_empty() { Step::Move(p) } else { Step::Line(p) });
        }
        path
    }

    /// A closed line through points.
    pub fn polygon(points: impl IntoIterator<Item = Point>) -> Path {
        let mut path = Path::line(points);
        path.steps.push(Step::Close);
        path
    }

    /// A rectangle.
    pub fn rect(r: Rect) -> Path {
        let (right, bottom) = (r.x + r.width, r.y + r.height);
        Path::polygon([point(r.x, r.y), point(right, r.y), point(right, bottom), point(r.x, bottom)])
    }

    /// A circle.
    pub fn circle(at: Point, radius: f64) -> Path {
        let k = QUARTER * radius;
        let p = |x: f64, y: f64| at + point(x, y);
        let r = radius;
        Path {
            steps: vec![
                Step::Move(p(r, 0.0)),
                Step::Curve(p(r, k), p(k, r), p(0.0, r)),
                Step::Curve(p(-k, r), p(-r, k), p(-r, 0.0)),
                Step::Curve(p(-r, -k), p(-k, -r), p(0.0, -r)),
                Step::Curve(p(k, -r), p(r, -k), p(r, 0.0)),
                Step::Close,
            ],
        }
    }

    /// The path moved by `by` and added to this one.
    pub fn add(&mut self, other: &Path, by: Point) {
        self.steps.extend(other.steps.iter().map(|step| step.map(|p| p + by)));
    }

    /// Every point of the path changed.
    pub fn map(&self, change: impl Fn(Point) -> Point) -> Path {
        Path { steps: self.steps.iter().map(|step| step.map(&change)).collect() }
    }

    /// The rectangle around all points and control points.
    pub fn bounds(&self) -> Option<Rect> {
        Rect::around(self.steps.iter().flat_map(|step| {
            let points = match *step {
                Step::Move(p) | Step::Line(p) => [Some(p), None, None],
                Step::Curve(a, b, p) => [Some(a), Some(b), Some(p)],
                Step::Close => [None; 3],
            };
            points.into_iter().flatten()
        }))
    }
}

impl Step {
    fn map(self, change: impl Fn(Point) -> Point) -> Step {
        match self {
            Step::Move(p) => Step::Move(change(p)),
            Step::Line(p) => Step::Line(change(p)),
            Step::Curve(a, b, p) => Step::Curve(change(a), change(b), change(p)),
            Step::Close => Step::Close,
        }
    }
}

/// What colour something has.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Ink {
    /// Always this one.
    Fixed(Rgb),
    /// That of a class of threads ([`Drawing::colours`]), in a tone.
    Thread {
        /// Position in [`Drawing::colours`].
        class: usize,
        /// Black or white added.
        tone: Tone,
    },
}

/// How an area is painted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Paint {
    /// Its colour.
    pub ink: Ink,
    /// 0 (nothing) to 1 (hides what is below).
    pub opacity: f32,
}

impl From<Rgb> for Paint {
    fn from(colour: Rgb) -> Paint {
        Paint { ink: Ink::Fixed(colour), opacity: 1.0 }
    }
}

impl Paint {
    /// A fixed colour that lets the rest show through.
    pub fn veil(colour: Rgb, opacity: f32) -> Paint {
        Paint { ink: Ink::Fixed(colour), opacity }
    }

    /// The colour of a class of threads, in a tone.
    pub fn thread(class: usize, tone: Tone) -> Paint {
        Paint { ink: Ink::Thread { class, tone }, opacity: 1.0 }
    }
}

/// How a line ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cap {
    /// Cut off square at the end.
    Butt,
    /// Rounded.
    Round,
}

/// A line drawn along a path; corners are round.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stroke {
    /// Its paint.
    pub paint: Paint,
    /// Width, mm.
    pub width: f64,
    /// Ends.
    pub cap: Cap,
    /// Lengths of dash and gap, mm; `None` is a full line.
    pub dash: Option<[f64; 2]>,
}

impl Stroke {
    /// A full line with round ends.
    pub fn new(paint: impl Into<Paint>, width: f64) -> Stroke {
        Stroke { paint: paint.into(), width, cap: Cap::Round, dash: None }
    }
}

/// Which side of its place a text stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    /// The text begins at the place.
    Start,
    /// The place is its middle.
    Middle,
    /// The text ends at the place.
    End,
}

/// A cut of the letter face the pictures use.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Face {
    /// For running text.
    Regular,
    /// For headings.
    Semibold,
}

/// A line of text.
#[derive(Clone, Debug, PartialEq)]
pub struct Text {
    /// Where it stands: on the base line, mm.
    pub at: Point,
    /// Size of the letters (their em), mm.
    pub size: f64,
    /// The words; control characters are left out.
    pub words: String,
    /// Which side of `at`.
    pub anchor: Anchor,
    /// Cut.
    pub face: Face,
    /// Colour.
    pub paint: Paint,
}

/// One thing drawn.
#[derive(Clone, Debug, PartialEq)]
pub enum Shape {
    /// Area and outline of a path; the outline lies on the area.
    Path {
        /// The path.
        path: Path,
        /// Paint of the area (every point the path goes round).
        fill: Option<Paint>,
        /// Line along the path.
        stroke: Option<Stroke>,
    },
    /// A line of text.
    Text(Text),
}

impl Shape {
    /// A painted area.
    pub fn fill(path: Path, paint: impl Into<Paint>) -> Shape {
        Shape::Path { path, fill: Some(paint.into()), stroke: None }
    }

    /// A line.
    pub fn stroke(path: Path, stroke: Stroke) -> Shape {
        Shape::Path { path, fill: None, stroke: Some(stroke) }
    }
}

/// Shapes that belong together.
#[derive(Clone, Debug, PartialEq)]
pub struct Group {
    /// Plain name, made of letters, digits and hyphens; once in a drawing.
    pub id: String,
    /// Nothing outside this rectangle shows.
    pub clip: Option<Rect>,
    /// The shapes, those below first.
    pub shapes: Vec<Shape>,
}

impl Group {
    /// A group that is not cut off.
    pub fn new(id: impl Into<String>) -> Group {
        Group { id: id.into(), clip: None, shapes: Vec::new() }
    }
}

/// A drawing in millimetres: `x` to the right, `y` down, origin at the upper
/// left corner; what lies outside its size does not show.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawing {
    /// Width, mm.
    pub width: f64,
    /// Height, mm.
    pub height: f64,
    /// What it shows, in words, for files that carry a title.
    pub title: String,
    /// Colour behind everything; `None` is transparent.
    pub background: Option<Rgb>,
    /// The colour of each class of threads.
    pub colours: Vec<Rgb>,
    /// The shapes, those below first.
    pub groups: Vec<Group>,
}

impl Drawing {
    /// An empty drawing.
    pub fn new(width: f64, height: f64, title: impl Into<String>) -> Drawing {
        Drawing {
            width,
            height,
            title: title.into(),
            background: None,
            colours: Vec::new(),
            groups: Vec::new(),
        }
    }

    /// All shapes, those below first.
    pub fn shapes(&self) -> impl Iterator<Item = &Shape> {
        self.groups.iter().flat_map(|g| &g.shapes)
    }

    /// The same drawing `by` times as large, lines and letters too.
    pub fn scaled(&self, by: f64) -> Drawing {
        let stroke = |s: Stroke| Stroke { width: s.width * by, dash: s.dash.map(|d| d.map(|l| l * by)), ..s };
        let shape = |shape: &Shape| match shape {
            Shape::Path { path, fill, stroke: line } => {
                Shape::Path { path: path.map(|p| p * by), fill: *fill, stroke: line.map(stroke) }
            }
            Shape::Text(text) => Shape::Text(Text { at: text.at * by, size: text.size * by, ..text.clone() }),
        };
        let groups = self
            .groups
            .iter()
            .map(|group| Group {
                id: group.id.clone(),
                clip: group.clip.map(|c| rect(c.x * by, c.y * by, c.width * by, c.height * by)),
                shapes: group.shapes.iter().map(shape).collect(),
            })
            .collect();
        Drawing { width: self.width * by, height: self.height * by, groups, ..self.clone() }
    }

    /// Lays another drawing on this one with its upper left corner at `at`,
    /// cut off at its own edges. `prefix` goes before the names of its groups.
    pub fn place(&mut self, other: &Drawing, at: Point, prefix: &str) {
        let classes = self.colours.len();
        self.colours.extend(&other.colours);
        let frame = rect(at.x, at.y, other.width, other.height);
        if let Some(background) = other.background {
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
            self.groups.push(Group { id: format!("{prefix}{}", group.id), clip: Some(clip), shapes });
        }
    }
}
