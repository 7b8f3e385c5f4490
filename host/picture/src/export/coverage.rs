//! From shapes in millimetres to the outlines a rasteriser fills.

use lace::Point;
use tiny_skia::{LineCap, LineJoin, PathBuilder, StrokeDash};

use crate::drawing::font;
use crate::drawing::{Cap, Drawing, Paint, Path, Rect, Shape, Step, Stroke};

/// A length in mm as a number of pixels, at least one.
pub(crate) fn pixels(mm: f64, px_per_mm: f64) -> u32 {
    (mm * px_per_mm).round().clamp(1.0, 65_535.0) as u32
}

/// An area in pixels, to be filled by the nonzero rule, and its paint.
pub(crate) struct Area {
    pub path: tiny_skia::Path,
    pub paint: Paint,
    /// The clip rectangle, in pixels.
    pub clip: Option<tiny_skia::Rect>,
}

/// The areas of a drawing, lowest first.
///
/// Strokes become the areas they cover, so that they are painted the same way
/// everywhere whatever their width.
pub(crate) fn areas(drawing: &Drawing, px_per_mm: f64) -> impl Iterator<Item = Area> + '_ {
    drawing.groups.iter().flat_map(move |group| {
        let clip = group.clip.map(|r| clip_rect(r, px_per_mm));
        group
            .shapes
            .iter()
            .flat_map(move |shape| shape_areas(shape, px_per_mm))
            .filter(move |_| clip != Some(None))
            .map(move |(path, paint)| Area { path, paint, clip: clip.flatten() })
    })
}

fn clip_rect(r: Rect, scale: f64) -> Option<tiny_skia::Rect> {
    tiny_skia::Rect::from_xywh(
        (r.x * scale) as f32,
        (r.y * scale) as f32,
        (r.width * scale) as f32,
        (r.height * scale) as f32,
    )
}

fn shape_areas(shape: &Shape, px_per_mm: f64) -> Vec<(tiny_skia::Path, Paint)> {
    let mut areas = Vec::new();
    match shape {
        Shape::Path { path, fill, stroke } => {
            if let Some(path) = scaled(path, px_per_mm) {
                let line = stroke.and_then(|s| Some((outline(&path, &s, px_per_mm)?, s.paint)));
                areas.extend(fill.map(|paint| (path, paint)));
                areas.extend(line);
            }
        }
        Shape::Text(text) => {
            areas.extend(scaled(&font::outlines(text), px_per_mm).map(|path| (path, text.paint)));
        }
    }
    areas
}

fn scaled(path: &Path, scale: f64) -> Option<tiny_skia::Path> {
    let at = |p: Point| ((p.x * scale) as f32, (p.y * scale) as f32);
    let mut builder = PathBuilder::with_capacity(path.steps.len(), 3 * path.steps.len());
    for step in &path.steps {
        match *step {
            Step::Move(p) => {
                let (x, y) = at(p);
                builder.move_to(x, y);
            }
            Step::Line(p) => {
                let (x, y) = at(p);
                builder.line_to(x, y);
            }
            Step::Curve(a, b, p) => {
                let ((x1, y1), (x2, y2), (x, y)) = (at(a), at(b), at(p));
                builder.cubic_to(x1, y1, x2, y2, x, y);
            }
            Step::Close => builder.close(),
        }
    }
    builder.finish()
}

/// The area covered by a stroke along a path.
fn outline(path: &tiny_skia::Path, stroke: &Stroke, scale: f64) -> Option<tiny_skia::Path> {
    let line = tiny_skia::Stroke {
        width: (stroke.width * scale) as f32,
        line_cap: match stroke.cap {
            Cap::Butt => LineCap::Butt,
            Cap::Round => LineCap::Round,
        },
        line_join: LineJoin::Round,
        ..Default::default()
    };
    match stroke.dash {
        Some(lengths) => {
            let dash = StrokeDash::new(lengths.map(|l| (l * scale) as f32).to_vec(), 0.0)?;
            path.dash(&dash, 1.0)?.stroke(&line, 1.0)
        }
        None => path.stroke(&line, 1.0),
    }
}
