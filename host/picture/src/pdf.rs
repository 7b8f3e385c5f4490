//! Drawings as the pages of a PDF.
//!
//! A millimetre of the drawing is 72/25.4 points, so that a page printed at
//! its size is true. Faces are embedded; text stays text.

use krilla::Document;
use krilla::color::rgb;
use krilla::geom::{PathBuilder, Transform};
use krilla::metadata::Metadata;
use krilla::num::NormalizedF32;
use krilla::page::PageSettings;
use krilla::paint::{Fill, FillRule, LineCap, LineJoin, StrokeDash};
use krilla::surface::Surface;
use krilla::text::{Font, GlyphId, KrillaGlyph};
use thiserror::Error;

use crate::colour::Rgb;
use crate::drawing::{Cap, Drawing, Face, Ink, Paint, Path, Shape, Step, Stroke, Text};
use crate::font;

/// Points of a PDF in a millimetre.
const POINTS: f64 = 72.0 / 25.4;

/// Why drawings are not a PDF.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum PdfError {
    /// A page without area, or larger than the 200 inches a PDF can hold.
    #[error("a page of {0} mm by {1} mm cannot be written as PDF: give more than 0 and at most 5,080 mm")]
    Size(f64, f64),
    /// The file could not be put together.
    #[error("the PDF could not be written: {0}")]
    Write(String),
}

/// Drawings as a PDF file, one page each, entitled as the first of them.
///
/// # Errors
/// [`PdfError`] when a drawing is not more than 0 and at most 5,080 mm wide and
/// high, or the file cannot be put together.
pub fn to_pdf(pages: &[Drawing]) -> Result<Vec<u8>, PdfError> {
    let mut document = Document::new();
    if let Some(first) = pages.first() {
        document.set_metadata(Metadata::new().title(font::plain_words(&first.title)));
    }
    let faces = Faces(
        [Face::Regular, Face::Semibold]
            .map(|face| Font::new(font::face_bytes(face).into(), 0).expect("the faces carried are valid")),
    );
    for drawing in pages {
        let [width, height] = [drawing.width, drawing.height];
        let fits = |mm: f64| mm > 0.0 && mm <= 5080.0;
        let settings = PageSettings::from_wh((width * POINTS) as f32, (height * POINTS) as f32)
            .filter(|_| fits(width) && fits(height))
            .ok_or(PdfError::Size(width, height))?;
        let mut page = document.start_page_with(settings);
        let mut surface = page.surface();
        draw(&mut surface, drawing, &faces);
        surface.finish();
        page.finish();
    }
    document.finish().map_err(|error| PdfError::Write(format!("{error:?}")))
}

struct Faces([Font; 2]);

impl Faces {
    fn get(&self, face: Face) -> Font {
        match face {
            Face::Regular => self.0[0].clone(),
            Face::Semibold => self.0[1].clone(),
        }
    }
}

fn draw(surface: &mut Surface<'_>, drawing: &Drawing, faces: &Faces) {
    let scale = POINTS as f32;
    surface.push_transform(&Transform::from_scale(scale, scale));
    if let Some(background) = drawing.background {
        let sheet = crate::drawing::rect(0.0, 0.0, drawing.width, drawing.height);
        area(surface, drawing, &Path::rect(sheet), Some(background.into()), None);
    }
    for group in &drawing.groups {
        let clip = group.clip.and_then(|r| built(&Path::rect(r)));
        if let Some(clip) = &clip {
            surface.push_clip_path(clip, &FillRule::NonZero);
        }
        for shape in &group.shapes {
            match shape {
                Shape::Path { path, fill, stroke } => area(surface, drawing, path, *fill, *stroke),
                Shape::Text(text) => words(surface, drawing, text, faces),
            }
        }
        if clip.is_some() {
            surface.pop();
        }
    }
    surface.pop();
}

fn colour(drawing: &Drawing, paint: Paint) -> (rgb::Color, NormalizedF32) {
    let Rgb { r, g, b } = match paint.ink {
        Ink::Fixed(colour) => colour,
        Ink::Thread { class, tone } => tone.rgb(drawing.colours.get(class).copied().unwrap_or(Rgb::BLACK)),
    };
    (
        rgb::Color::new(r, g, b),
        NormalizedF32::new(paint.opacity.clamp(0.0, 1.0)).unwrap_or(NormalizedF32::ONE),
    )
}

fn filled(drawing: &Drawing, paint: Paint) -> Fill {
    let (colour, opacity) = colour(drawing, paint);
    Fill { paint: colour.into(), opacity, rule: FillRule::NonZero }
}

fn area(
    surface: &mut Surface<'_>,
    drawing: &Drawing,
    path: &Path,
    fill: Option<Paint>,
    stroke: Option<Stroke>,
) {
    let Some(path) = built(path) else {
        return;
    };
    surface.set_fill(fill.map(|paint| filled(drawing, paint)));
    surface.set_stroke(stroke.map(|line| {
        let (colour, opacity) = colour(drawing, line.paint);
        krilla::paint::Stroke {
            paint: colour.into(),
            width: line.width as f32,
            line_cap: match line.cap {
                Cap::Butt => LineCap::Butt,
                Cap::Round => LineCap::Round,
            },
            line_join: LineJoin::Round,
            opacity,
            dash: line
                .dash
                .map(|lengths| StrokeDash { array: lengths.map(|l| l as f32).to_vec(), offset: 0.0 }),
            ..Default::default()
        }
    }));
    surface.draw_path(&path);
}

fn words(surface: &mut Surface<'_>, drawing: &Drawing, text: &Text, faces: &Faces) {
    surface.set_fill(Some(filled(drawing, text.paint)));
    surface.set_stroke(None);
    let words = font::plain_words(&text.words);
    let (set, _) = font::set(text);
    let Some(start) = set.first().map(|g| g.at) else {
        return;
    };
    // Advances are in ems; what shaping moved a letter by shows in its place.
    let mut x = start.x;
    let glyphs: Vec<KrillaGlyph> = set
        .iter()
        .map(|g| {
            let end = set.iter().map(|o| o.cluster).filter(|&c| c > g.cluster).min().unwrap_or(words.len());
            let glyph = KrillaGlyph {
                glyph_id: GlyphId::new(u32::from(g.id)),
                text_range: g.cluster..end,
                x_advance: (g.advance / text.size) as f32,
                x_offset: ((g.at.x - x) / text.size) as f32,
                y_offset: ((start.y - g.at.y) / text.size) as f32,
                y_advance: 0.0,
                location: None,
            };
            x += g.advance;
            glyph
        })
        .collect();
    let at = krilla::geom::Point::from_xy(start.x as f32, start.y as f32);
    surface.draw_glyphs(at, &glyphs, faces.get(text.face), &words, text.size as f32, false);
}

fn built(path: &Path) -> Option<krilla::geom::Path> {
    let mut builder = PathBuilder::new();
    for step in &path.steps {
        match *step {
            Step::Move(p) => builder.move_to(p.x as f32, p.y as f32),
            Step::Line(p) => builder.line_to(p.x as f32, p.y as f32),
            Step::Curve(a, b, p) => {
                builder.cubic_to(a.x as f32, a.y as f32, b.x as f32, b.y as f32, p.x as f32, p.y as f32);
            }
            Step::Close => builder.close(),
        }
    }
    builder.finish()
}
