//! Typography shared by all pages of paper: margins, letter sizes, lines of text,
//! the title at the head.

use lace::{Point, point};

use crate::colour::{Rgb, rgb};
use crate::drawing::font;
use crate::drawing::{Anchor, Cap, Face, Path, Rect, Shape, Stroke, Text};

/// Margin of the paper, mm.
pub(super) const MARGIN: f64 = 12.0;
/// Gap between columns, and between pictures, mm.
pub(super) const GAP: f64 = 8.0;
/// Colour of less important text, and of frames.
pub(super) const QUIET: Rgb = rgb(96, 86, 74);
/// Letter size and line height of running text, mm.
pub(super) const BODY: f64 = 3.1;
pub(super) const LEADING: f64 = 4.3;
/// Letter size of the line below a title, mm.
const SUBTITLE: f64 = 3.6;
/// Letter size of a heading, mm.
pub(super) const HEADING: f64 = 3.8;

/// A line of text.
pub(super) fn text(words: &str, at: Point, size: f64, face: Face, colour: Rgb, anchor: Anchor) -> Shape {
    Shape::Text(Text { at, size, words: words.to_owned(), anchor, face, paint: colour.into() })
}

/// Text in lines no wider than their room, whatever the text.
pub(super) fn lines(words: &str, size: f64, face: Face, room: f64) -> Vec<String> {
    font::wrapped(words, size, face, room)
        .into_iter()
        .map(|line| font::shortened(&line, size, face, room))
        .collect()
}

/// A small heading on its baseline.
pub(super) fn heading(words: &str, at: Point) -> Shape {
    text(words, at, HEADING, Face::Semibold, Rgb::INK, Anchor::Start)
}

/// The title and subtitle of a page of a given width in mm.
pub(super) fn head(title: &str, subtitle: &str, width: f64) -> [Shape; 2] {
    let room = width - 2.0 * MARGIN;
    let at = point(MARGIN, MARGIN + 6.0);
    let title = font::shortened(title, 7.5, Face::Semibold, room);
    let below = at + point(0.0, 6.5);
    let subtitle = font::shortened(subtitle, SUBTITLE, Face::Regular, room);
    [
        text(&title, at, 7.5, Face::Semibold, Rgb::INK, Anchor::Start),
        text(&subtitle, below, SUBTITLE, Face::Regular, QUIET, Anchor::Start),
    ]
}

/// Most lines of what follows the title and subtitle of a page.
const MOST_BELOW: usize = 3;

/// What follows the title and subtitle of a page of a given width in mm, in as many
/// lines as it needs. If there are too many, one line ends with an ellipsis.
pub(super) struct BelowHead {
    /// The lines.
    pub lines: Vec<Shape>,
    /// The room that they need below that of the first, mm.
    pub height: f64,
    /// Whether something is left out.
    pub cut: bool,
}

impl BelowHead {
    /// Sets words below the head.
    pub fn new(words: &str, width: f64) -> BelowHead {
        const PITCH: f64 = 4.7;
        let room = width - 2.0 * MARGIN;
        let mut set = lines(words, SUBTITLE, Face::Regular, room);
        let cut = set.len() > MOST_BELOW;
        if cut {
            set = vec![font::shortened(words, SUBTITLE, Face::Regular, room)];
        }
        let line = |(k, line): (usize, &String)| {
            let at = point(MARGIN, MARGIN + 12.5 + PITCH * (k + 1) as f64);
            text(line, at, SUBTITLE, Face::Regular, QUIET, Anchor::Start)
        };
        let height = PITCH * set.len().saturating_sub(1) as f64;
        BelowHead { lines: set.iter().enumerate().map(line).collect(), height, cut }
    }
}

/// Thin lines round rectangles.
pub(super) fn frames(rects: &[Rect]) -> Shape {
    let mut path = Path::new();
    for &r in rects {
        path.add(&Path::rect(r), point(0.0, 0.0));
    }
    Shape::stroke(path, Stroke { cap: Cap::Butt, ..Stroke::new(QUIET, 0.2) })
}
