//! Lines, curves and rectangles, mm.

use lace::{Point, point};

/// A width and a height, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Size {
    /// Width, mm.
    pub width: f64,
    /// Height, mm.
    pub height: f64,
}

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

    /// The rectangle grown by `by` mm on every side.
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
    /// Starts a new line here.
    Move(Point),
    /// A straight line to here.
    Line(Point),
    /// A cubic Bezier curve: two control points and where it ends.
    Curve(Point, Point, Point),
    /// Closes the line.
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

    /// The middles and the radius of the circles of which the path consists; `None` if
    /// it has anything else, or circles of several sizes.
    pub fn circles(&self) -> Option<(Vec<Point>, f64)> {
        let mut all: Option<(Vec<Point>, f64)> = None;
        for steps in self.steps.chunks(6) {
            let (&Step::Move(right), Some(&Step::Curve(_, _, bottom))) = (&steps[0], steps.get(1)) else {
                return None;
            };
            let at = point(bottom.x, right.y);
            let (middles, radius) = all.get_or_insert_with(|| (Vec::new(), right.x - at.x));
            let same = |a: Point, b: Point| (a - b).length() < 1e-6;
            let near = |(a, b): (&Step, &Step)| match (a, b) {
                (Step::Move(a), Step::Move(b)) => same(*a, *b),
                (Step::Curve(a, b, c), Step::Curve(d, e, f)) => same(*a, *d) && same(*b, *e) && same(*c, *f),
                (a, b) => a == b,
            };
            let circle = Path::circle(at, *radius).steps;
            if steps.len() != circle.len() || !steps.iter().zip(&circle).all(near) {
                return None;
            }
            middles.push(at);
        }
        all
    }

    /// Adds a path moved by `by`.
    pub fn add(&mut self, other: &Path, by: Point) {
        self.steps.extend(other.steps.iter().map(|step| step.map(|p| p + by)));
    }

    /// Maps every point of the path.
    pub fn map(&self, change: impl Fn(Point) -> Point) -> Path {
        Path { steps: self.steps.iter().map(|step| step.map(&change)).collect() }
    }

    /// The bounding rectangle of all points and control points.
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
    /// Maps every point of the step.
    pub fn map(self, change: impl Fn(Point) -> Point) -> Step {
        match self {
            Step::Move(p) => Step::Move(change(p)),
            Step::Line(p) => Step::Line(change(p)),
            Step::Curve(a, b, p) => Step::Curve(change(a), change(b), change(p)),
            Step::Close => Step::Close,
        }
    }
}
