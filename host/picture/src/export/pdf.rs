//! Drawings as the pages of a PDF.
//!
//! A millimetre of the drawing is 72/25.4 points, so that a page printed at 100 %
//! is true to size. Faces are embedded; text stays text. Pictures that repeat are
//! embedded in pixels, one repeat each.

mod repeated;

use std::num::NonZeroU16;

use krilla::color::rgb;
use krilla::configure::Configuration;
use krilla::destination::XyzDestination;
use krilla::geom::{PathBuilder, Transform};
use krilla::metadata::Metadata;
use krilla::num::NormalizedF32;
use krilla::outline::{Outline, OutlineNode};
use krilla::page::PageSettings;
use krilla::paint::{Fill, FillRule, LineCap, LineJoin, StrokeDash};
use krilla::surface::Surface;
use krilla::tagging::{
    Artifact, ArtifactType, ContentTag, Identifier, ListNumbering, Node, SpanTag, Tag, TagGroup, TagTree,
};
use krilla::text::{Font, GlyphId, KrillaGlyph};
use krilla::{Document, SerializeSettings};
use lace::{Point, point};
use thiserror::Error;

use crate::colour::Rgb;
use crate::drawing::font;
use crate::drawing::tagged_page::{Part, Role, TaggedPage};
use crate::drawing::{Background, Cap, Drawing, Face, Group, Ink, Paint, Path, Shape, Step, Stroke, Text};

/// PDF points per millimetre.
const POINTS: f64 = 72.0 / 25.4;

/// Why drawings cannot be written as a PDF.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum PdfError {
    /// A page without area, or larger than the 200 inches that PDF allows.
    #[error("a page of {0} mm by {1} mm cannot be written as PDF: give more than 0 and at most 5,080 mm")]
    Size(f64, f64),
    /// The file could not be assembled.
    #[error("the PDF could not be written: {0}")]
    Write(String),
}

/// Drawings as a PDF file, one page each, with the title of the first.
///
/// # Errors
/// [`PdfError`] when the width or height of a drawing is not above 0 and at most
/// 5,080 mm, or the file cannot be assembled.
pub fn to_pdf(pages: &[Drawing]) -> Result<Vec<u8>, PdfError> {
    let mut document = Document::new();
    if let Some(first) = pages.first() {
        document.set_metadata(Metadata::new().title(font::plain_words(&first.title)));
    }
    let faces = Faces::new();
    for drawing in pages {
        let mut page = document.start_page_with(settings(drawing)?);
        let mut surface = page.surface();
        begin(&mut surface);
        background(&mut surface, drawing);
        draw_all(&mut surface, drawing, &drawing.groups.iter().collect::<Vec<_>>(), &faces);
        surface.pop();
        surface.finish();
        page.finish();
    }
    finish(document)
}

/// Pages as a tagged PDF file, with reading order, alternative texts and a table
/// of contents (bookmarks). `language` is the language of the text, a tag such as
/// `en`.
///
/// # Errors
/// As [`to_pdf`].
pub fn to_tagged_pdf(title: &str, language: &str, pages: &[TaggedPage]) -> Result<Vec<u8>, PdfError> {
    tagged(title, language, pages, Configuration::default())
}

/// Like [`to_tagged_pdf`], by the rules of a configuration.
pub(crate) fn tagged(
    title: &str,
    language: &str,
    pages: &[TaggedPage],
    rules: Configuration,
) -> Result<Vec<u8>, PdfError> {
    let mut document = Document::new_with(SerializeSettings { configuration: rules, ..Default::default() });
    let named = Metadata::new().title(font::plain_words(title)).language(language.to_owned());
    document.set_metadata(named);
    let faces = Faces::new();
    let mut tree = TagTree::new().with_lang(Some(language.to_owned()));
    let mut contents = Outline::new();
    for (number, page) in pages.iter().enumerate() {
        tree.push(tagged_page(&mut document, page, &faces)?);
        let top = XyzDestination::new(number, krilla::geom::Point::from_xy(0.0, 0.0));
        contents.push_child(OutlineNode::new(font::plain_words(&page.contents_title), top));
    }
    document.set_outline(contents);
    document.set_tag_tree(tree);
    finish(document)
}

/// Draws a page and returns its tags for screen readers.
fn tagged_page(document: &mut Document, page: &TaggedPage, faces: &Faces) -> Result<TagGroup, PdfError> {
    let TaggedPage { drawing, parts, .. } = page;
    let mut page = document.start_page_with(settings(drawing)?);
    let mut surface = page.surface();
    let mut section = TagGroup::new(Tag::Section);
    begin(&mut surface);
    surface.start_tagged(ContentTag::Artifact(Artifact::with_kind(ArtifactType::Page)));
    background(&mut surface, drawing);
    surface.end_tagged();
    let mut groups = drawing.groups.iter();
    let mut list: Option<TagGroup> = None;
    for Part { role, groups: count } in parts {
        let tag = match role {
            Role::Decoration => ContentTag::Artifact(Artifact::with_kind(ArtifactType::Layout)),
            Role::Figure(_) => ContentTag::Other,
            _ => ContentTag::Span(SpanTag::empty()),
        };
        let mark: Identifier = surface.start_tagged(tag);
        let own: Vec<&Group> = groups.by_ref().take(*count).collect();
        draw_all(&mut surface, drawing, &own, faces);
        surface.end_tagged();
        if *role == Role::Item {
            let body = TagGroup::with_children(Tag::LBody, vec![Node::Leaf(mark)]);
            let item = TagGroup::with_children(Tag::LI, vec![Node::Group(body)]);
            list.get_or_insert_with(|| TagGroup::new(Tag::L(ListNumbering::Decimal))).push(item);
            continue;
        }
        if let Some(list) = list.take() {
            section.push(list);
        }
        if let Some(part) = tagged_part(role, Node::Leaf(mark), &own) {
            section.push(part);
        }
    }
    if let Some(list) = list {
        section.push(list);
    }
    surface.pop();
    surface.finish();
    page.finish();
    Ok(section)
}

/// The tag of a part that is not a list item; `None` for what is not read.
fn tagged_part(role: &Role, content: Node, groups: &[&Group]) -> Option<TagGroup> {
    let content = vec![content];
    match role {
        Role::Heading(level) => {
            let level = NonZeroU16::new(u16::from(*level)).unwrap_or(NonZeroU16::MIN);
            let title = words_of(groups).trim_end().to_owned();
            Some(TagGroup::with_children(Tag::Hn(level, Some(title)), content))
        }
        Role::Paragraph => Some(TagGroup::with_children(Tag::P, content)),
        Role::Figure(shows) => {
            Some(TagGroup::with_children(Tag::Figure(Some(font::plain_words(shows))), content))
        }
        Role::Item | Role::Decoration => None,
    }
}

/// All text of some groups.
fn words_of(groups: &[&Group]) -> String {
    let shapes = groups.iter().flat_map(|group| &group.shapes);
    let texts = shapes.filter_map(|shape| if let Shape::Text(text) = shape { Some(text) } else { None });
    texts.map(|text| font::plain_words(&text.words)).collect()
}

fn settings(drawing: &Drawing) -> Result<PageSettings, PdfError> {
    let [width, height] = [drawing.width, drawing.height];
    let fits = |mm: f64| mm > 0.0 && mm <= 5080.0;
    PageSettings::from_wh((width * POINTS) as f32, (height * POINTS) as f32)
        .filter(|_| fits(width) && fits(height))
        .ok_or(PdfError::Size(width, height))
}

fn finish(document: Document) -> Result<Vec<u8>, PdfError> {
    document.finish().map_err(|error| PdfError::Write(format!("{error:?}")))
}

struct Faces([Font; 2]);

impl Faces {
    fn new() -> Faces {
        Faces(
            [Face::Regular, Face::Semibold].map(|face| {
                Font::new(font::face_bytes(face).into(), 0).expect("the embedded faces are valid")
            }),
        )
    }

    fn get(&self, face: Face) -> Font {
        match face {
            Face::Regular => self.0[0].clone(),
            Face::Semibold => self.0[1].clone(),
        }
    }
}

/// From here on in millimetres.
fn begin(surface: &mut Surface<'_>) {
    let scale = POINTS as f32;
    surface.push_transform(&Transform::from_scale(scale, scale));
}

fn background(surface: &mut Surface<'_>, drawing: &Drawing) {
    if let Background::Colour(background) = drawing.background {
        let sheet = crate::drawing::rect(0.0, 0.0, drawing.width, drawing.height);
        area(surface, drawing, &Path::rect(sheet), Some(background.into()), None);
    }
}

/// Draws groups, those of a repeating picture together.
fn draw_all(surface: &mut Surface<'_>, drawing: &Drawing, groups: &[&Group], faces: &Faces) {
    for part in groups.chunk_by(|a, b| a.repeating.is_some() && a.repeating == b.repeating) {
        match part[0].repeating {
            Some(repeating) => repeated::draw(surface, drawing, part, repeating),
            None => part.iter().for_each(|group| draw(surface, drawing, group, faces)),
        }
    }
}

fn draw(surface: &mut Surface<'_>, drawing: &Drawing, group: &Group, faces: &Faces) {
    let clip = group.clip.and_then(|r| built(&Path::rect(r)));
    if let Some(clip) = &clip {
        surface.push_clip_path(clip, &FillRule::NonZero);
    }
    for shape in &group.shapes {
        match shape {
            Shape::Path { path, fill: Some(fill), stroke: None } => match path.circles() {
                Some((middles, radius)) if fill.opacity == 1.0 => {
                    dots(surface, drawing, &middles, radius, *fill);
                }
                _ => area(surface, drawing, path, Some(*fill), None),
            },
            Shape::Path { path, fill, stroke } => area(surface, drawing, path, *fill, *stroke),
            Shape::Text(text) => words(surface, drawing, text, faces),
        }
    }
    if clip.is_some() {
        surface.pop();
    }
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

/// Dots, each a line too short to be seen with round ends: a fifth of the size of
/// circles.
fn dots(surface: &mut Surface<'_>, drawing: &Drawing, middles: &[Point], radius: f64, paint: Paint) {
    const SHORT: f64 = 0.01;
    let ends = |p: &Point| [Step::Move(*p), Step::Line(*p + point(SHORT, 0.0))];
    let path = Path { steps: middles.iter().flat_map(ends).collect() };
    area(surface, drawing, &path, None, Some(Stroke::new(paint, 2.0 * radius)));
}

fn words(surface: &mut Surface<'_>, drawing: &Drawing, text: &Text, faces: &Faces) {
    surface.set_fill(Some(filled(drawing, text.paint)));
    surface.set_stroke(None);
    let words = font::plain_words(&text.words);
    let (set, _) = font::set(text);
    let Some(start) = set.first().map(|g| g.at) else {
        return;
    };
    // Advances are in ems; offsets from shaping are already in the origin.
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

/// A coordinate rounded to a hundredth of a millimetre: finer than any printer,
/// and the file is a sixth smaller than with all digits.
fn mm(value: f64) -> f32 {
    ((value * 100.0).round() / 100.0) as f32
}

fn built(path: &Path) -> Option<krilla::geom::Path> {
    let mut builder = PathBuilder::new();
    for step in &path.steps {
        match *step {
            Step::Move(p) => builder.move_to(mm(p.x), mm(p.y)),
            Step::Line(p) => builder.line_to(mm(p.x), mm(p.y)),
            Step::Curve(a, b, p) => {
                builder.cubic_to(mm(a.x), mm(a.y), mm(b.x), mm(b.y), mm(p.x), mm(p.y));
            }
            Step::Close => builder.close(),
        }
    }
    builder.finish()
}
