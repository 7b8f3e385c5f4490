//! The cover: what the handout is, what is inside, and what holds for all of it.

use lace::point;

use super::flow::Flow;
use super::ground::PX_PER_MM;
use super::leaf::{Leaf, lines, text};
use super::{Body, Handout, LEADING, MARGIN, QUIET, Swatch};
use crate::colour::Rgb;
use crate::drawing::font;
use crate::drawing::tagged_page::Role;
use crate::drawing::threads::{ThreadLook, draw_threads};
use crate::drawing::{Anchor, Cap, Face, Path, Rect, Shape, Stroke, rect};

/// Height of a picture beside a line of the contents, mm, at the size of the
/// lace; it is twice as wide.
const LEAST_PICTURE: f64 = 14.0;
const MOST_PICTURE: f64 = 24.0;
/// Most grounds that have one, and most in one column without.
const PICTURED: usize = 7;
const ONE_COLUMN: usize = 12;

/// The cover; `entries` are the other pages with their numbers.
pub(super) fn page(handout: &Handout<'_>, entries: &[(String, usize)]) -> Leaf {
    let mut leaf = Leaf::new(handout.paper, &handout.title);
    let room = leaf.page.width - 2.0 * MARGIN;
    let mut y = MARGIN + 9.0;
    let mut titles = lines(&handout.title, 11.0, Face::Semibold, room);
    if titles.len() > 2 {
        let rest = titles.split_off(1).join(" ");
        titles.push(font::shortened(&rest, 11.0, Face::Semibold, room));
    }
    let mut shapes = Vec::new();
    for words in &titles {
        let words = format!("{words} ");
        shapes.push(text(&words, point(MARGIN, y), 11.0, Face::Semibold, Rgb::INK, Anchor::Start));
        y += 12.0;
    }
    leaf.put(Role::Heading(1), shapes);
    y -= 4.0;
    let mut shapes = Vec::new();
    for words in lines(&handout.class, 5.0, Face::Regular, room).into_iter().take(2) {
        shapes.push(text(&format!("{words} "), point(MARGIN, y), 5.0, Face::Regular, QUIET, Anchor::Start));
        y += 6.4;
    }
    if !shapes.is_empty() {
        leaf.put(Role::Paragraph, shapes);
    }
    let bottom = leaf.page.height - MARGIN - 8.0;
    let mut flow = Flow::new(vec![rect(MARGIN, y - 3.0, room.min(150.0), bottom - y)]);
    if !handout.notes.is_empty() {
        flow.paragraph(&handout.notes);
    }
    y = flow.y() + 7.0;
    flow.onto(&mut leaf);

    leaf.heading("In this handout", point(MARGIN, y));
    if handout.sheets.len() <= PICTURED {
        let said = "Pictures of lace at its true size";
        let line = text(said, point(MARGIN + room, y), 2.8, Face::Regular, QUIET, Anchor::End);
        leaf.put(Role::Paragraph, vec![line]);
    }
    y = contents(&mut leaf, handout, entries, rect(MARGIN, y + 3.0, room, bottom - y)) + 9.0;
    leaf.heading("Colours", point(MARGIN, y));
    y = colours(&mut leaf, &handout.colours, rect(MARGIN, y + 3.0, room, bottom - y)) + 4.0;
    let mut flow = Flow::new(vec![rect(MARGIN, y, room.min(120.0), bottom - y)]);
    flow.heading("For all pages");
    handout.gauge.iter().for_each(|(what, value)| flow.fact(what, value));
    flow.remark("Print at 100 % (actual size) and measure the 50 mm scales before you pin.");
    flow.onto(&mut leaf);
    leaf
}

/// The lines of the contents; where they end.
fn contents(leaf: &mut Leaf, handout: &Handout<'_>, entries: &[(String, usize)], all: Rect) -> f64 {
    let pictured = handout.sheets.len() <= PICTURED;
    if !pictured {
        let columns = if handout.sheets.len() > ONE_COLUMN { 2 } else { 1 };
        let width = (all.width - 8.0 * (columns - 1) as f64) / columns as f64;
        let rows = entries.len().div_ceil(columns);
        for (k, (title, number)) in entries.iter().enumerate() {
            let (column, row) = (k / rows, k % rows);
            let x = all.x + column as f64 * (width + 8.0);
            entry(leaf, title, *number, rect(x, all.y + 6.0 * row as f64, width, 4.5));
        }
        return all.y + 6.0 * rows as f64;
    }
    // What is left below is for the other entries, the colours and the gauge.
    let below = 6.0 * (entries.len() - handout.sheets.len()) as f64 + 75.0;
    let high = (all.height - below) / handout.sheets.len().max(1) as f64 - 3.0;
    let high = high.clamp(LEAST_PICTURE, MOST_PICTURE);
    let wide = 2.0 * high;
    let mut y = all.y + 1.0;
    for ((title, number), sheet) in entries.iter().zip(&handout.sheets) {
        let at = rect(all.x, y, wide, high);
        let beside = all.x + wide + 5.0;
        let width = all.width - wide - 5.0;
        entry(leaf, title, *number, rect(beside, y + 1.5, width, 4.5));
        let said = match &sheet.body {
            Body::Worked(on) => {
                let (width, height) = on.area;
                format!("{width} \u{d7} {height} mm, pairs hang {}", on.order)
            }
            Body::Missing { .. } => "missing: the page says why".to_owned(),
        };
        let said = font::shortened(&said, 3.1, Face::Regular, width - 14.0);
        let line = text(&said, point(beside, y + 10.6), 3.1, Face::Regular, QUIET, Anchor::Start);
        leaf.put(Role::Paragraph, vec![line]);
        if let Body::Worked(on) = &sheet.body {
            let top = on.ground.top() * on.layout.grid.step_y_mm();
            let look = ThreadLook::new(on.colours.clone(), PX_PER_MM);
            let window = rect(0.0, top, wide, high);
            let drawing = draw_threads(on.ground, on.layout, window, &look);
            let shows = format!("{title} at its true size, in the colours of the class");
            leaf.picture(&drawing, point(at.x, at.y), shows);
        }
        leaf.frames(&[at]);
        y += high + 3.0;
    }
    y += 2.0;
    for (title, number) in entries.iter().skip(handout.sheets.len()) {
        entry(leaf, title, *number, rect(all.x, y, all.width, 4.5));
        y += 6.0;
    }
    y - 1.0
}

/// A line of the contents: title, dots, number.
fn entry(leaf: &mut Leaf, title: &str, number: usize, at: Rect) {
    const SIZE: f64 = 3.8;
    let base = at.y + at.height - 0.5;
    let number = number.to_string();
    let wide = font::width(&number, SIZE, Face::Regular);
    let title = font::shortened(title, SIZE, Face::Semibold, at.width - wide - 10.0);
    let from = at.x + font::width(&title, SIZE, Face::Semibold) + 2.0;
    let to = at.x + at.width - wide - 2.0;
    let dotted = Stroke { dash: Some([0.01, 1.6]), ..Stroke::new(QUIET, 0.35) };
    let dots = Shape::stroke(Path::line([point(from, base - 0.3), point(to, base - 0.3)]), dotted);
    leaf.put(Role::Decoration, vec![dots]);
    let shapes = vec![
        text(&format!("{title} "), point(at.x, base), SIZE, Face::Semibold, Rgb::INK, Anchor::Start),
        text(&number, point(at.x + at.width, base), SIZE, Face::Regular, Rgb::INK, Anchor::End),
    ];
    leaf.put(Role::Paragraph, shapes);
}

/// The colours with their letters in rows; where they end.
fn colours(leaf: &mut Leaf, colours: &[Swatch], all: Rect) -> f64 {
    const ROW: f64 = 8.0;
    let columns = if colours.len() <= 8 { 2 } else { 4 };
    let width = all.width / columns as f64;
    for (k, Swatch { letter, name, colour }) in colours.iter().enumerate() {
        let (x, y) = (all.x + (k % columns) as f64 * width, all.y + (k / columns) as f64 * ROW);
        let path = Path::rect(rect(x + 6.0, y, 12.0, ROW - 2.0));
        let rim = Stroke { cap: Cap::Butt, ..Stroke::new(QUIET, 0.2) };
        let swatch = Shape::Path { path, fill: Some((*colour).into()), stroke: Some(rim) };
        leaf.put(Role::Decoration, vec![swatch]);
        let base = y + LEADING;
        let said = font::shortened(name, 3.4, Face::Regular, width - 22.0);
        let shapes = vec![
            text(&format!("{letter} "), point(x, base), 4.0, Face::Semibold, Rgb::INK, Anchor::Start),
            text(&said, point(x + 20.0, base), 3.4, Face::Regular, Rgb::INK, Anchor::Start),
        ];
        leaf.put(Role::Paragraph, shapes);
    }
    all.y + ROW * colours.len().div_ceil(columns) as f64
}
