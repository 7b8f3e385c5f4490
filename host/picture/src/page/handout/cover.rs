//! The cover: title, contents, and facts for all pages.

use lace::point;

use super::ground::PX_PER_MM;
use super::page_builder::PageBuilder;
use super::{ContentsLine, Handout, Prepared, Swatch};
use crate::colour::Rgb;
use crate::drawing::font;
use crate::drawing::tagged_page::Role;
use crate::drawing::threads::ThreadLook;
use crate::drawing::{Anchor, Cap, Face, Path, Rect, Shape, Size, Stroke, rect};
use crate::page::columns::{Columns, Spacing};
use crate::page::typography::{LEADING, MARGIN, QUIET, lines, text};

/// Height of a picture beside a line of the contents, mm; it is twice as wide and
/// shows the lace at actual size.
const LEAST_PICTURE: f64 = 14.0;
const MOST_PICTURE: f64 = 24.0;
/// Most grounds with a picture, and most without in one column.
const PICTURED: usize = 7;
const ONE_COLUMN: usize = 12;

/// The cover; `contents` are the other pages.
pub(super) fn page(handout: &Handout<'_>, sheets: &[Prepared<'_>], contents: &[ContentsLine]) -> PageBuilder {
    let mut page = PageBuilder::new(handout.paper, &handout.title);
    let room = page.page.width - 2.0 * MARGIN;
    let mut y = titles(&mut page, handout, room);
    let bottom = page.page.height - MARGIN - 8.0;
    let mut columns =
        Columns::new(vec![rect(MARGIN, y - 3.0, room.min(150.0), bottom - y)], Spacing::HANDOUT);
    if !handout.notes.is_empty() {
        columns.paragraph(&handout.notes);
    }
    y = columns.y() + 7.0;
    page.columns(columns);

    page.heading("In this handout", point(MARGIN, y));
    if handout.sheets.len() <= PICTURED {
        let words = "Pictures of lace, actual size";
        let line = text(words, point(MARGIN + room, y), 2.8, Face::Regular, QUIET, Anchor::End);
        page.put(Role::Paragraph, vec![line]);
    }
    y = contents_list(&mut page, sheets, contents, rect(MARGIN, y + 3.0, room, bottom - y)) + 9.0;
    page.heading("Colours", point(MARGIN, y));
    y = colours(&mut page, &handout.colours, rect(MARGIN, y + 3.0, room, bottom - y)) + 4.0;
    let mut columns = Columns::new(vec![rect(MARGIN, y, room.min(120.0), bottom - y)], Spacing::HANDOUT);
    columns.heading("For all pages");
    handout.gauge.iter().for_each(|fact| columns.fact(&fact.label, &fact.value));
    columns.remark("Print at 100 % (actual size) and measure the 50 mm scales before you pin.");
    page.columns(columns);
    page
}

/// Title and class at the head. Returns where the next part begins.
fn titles(page: &mut PageBuilder, handout: &Handout<'_>, room: f64) -> f64 {
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
    page.put(Role::Heading(1), shapes);
    y -= 4.0;
    let mut shapes = Vec::new();
    for words in lines(&handout.class, 5.0, Face::Regular, room).into_iter().take(2) {
        shapes.push(text(&format!("{words} "), point(MARGIN, y), 5.0, Face::Regular, QUIET, Anchor::Start));
        y += 6.4;
    }
    if !shapes.is_empty() {
        page.put(Role::Paragraph, shapes);
    }
    y
}

/// The lines of the contents. Returns where they end.
fn contents_list(
    page: &mut PageBuilder,
    sheets: &[Prepared<'_>],
    contents: &[ContentsLine],
    all: Rect,
) -> f64 {
    if sheets.len() > PICTURED {
        return contents_in_columns(page, contents, if sheets.len() > ONE_COLUMN { 2 } else { 1 }, all);
    }
    // The room below is for the other pages, the colours and the gauge.
    let below = 6.0 * (contents.len() - sheets.len()) as f64 + 75.0;
    let high = (all.height - below) / sheets.len().max(1) as f64 - 3.0;
    let high = high.clamp(LEAST_PICTURE, MOST_PICTURE);
    let mut y = all.y + 1.0;
    for (line, sheet) in contents.iter().zip(sheets) {
        pictured_line(page, line, sheet, rect(all.x, y, all.width, high));
        y += high + 3.0;
    }
    y += 2.0;
    for line in contents.iter().skip(sheets.len()) {
        contents_line(page, line, rect(all.x, y, all.width, 4.5));
        y += 6.0;
    }
    y - 1.0
}

/// The lines without pictures. Returns where they end.
fn contents_in_columns(page: &mut PageBuilder, contents: &[ContentsLine], columns: usize, all: Rect) -> f64 {
    let width = (all.width - 8.0 * (columns - 1) as f64) / columns as f64;
    let rows = contents.len().div_ceil(columns);
    for (k, line) in contents.iter().enumerate() {
        let (column, row) = (k / rows, k % rows);
        let x = all.x + column as f64 * (width + 8.0);
        contents_line(page, line, rect(x, all.y + 6.0 * row as f64, width, 4.5));
    }
    all.y + 6.0 * rows as f64
}

/// The line of a ground beside its picture.
fn pictured_line(page: &mut PageBuilder, line: &ContentsLine, sheet: &Prepared<'_>, all: Rect) {
    let at = rect(all.x, all.y, 2.0 * all.height, all.height);
    let beside = all.x + at.width + 5.0;
    let width = all.width - at.width - 5.0;
    contents_line(page, line, rect(beside, all.y + 1.5, width, 4.5));
    let words = match &sheet.ground {
        Some(ground) => {
            let Size { width, height } = ground.on.area;
            format!("{width} \u{d7} {height} mm, hang on {}", ground.on.arrangement)
        }
        None => "missing: the page says why".to_owned(),
    };
    let words = font::shortened(&words, 3.1, Face::Regular, width - 14.0);
    let below = text(&words, point(beside, all.y + 10.6), 3.1, Face::Regular, QUIET, Anchor::Start);
    page.put(Role::Paragraph, vec![below]);
    if let Some(ground) = &sheet.ground {
        let on = ground.on;
        let top = on.ground.top() * on.layout.grid.step_y_mm();
        let look = ThreadLook::new(on.colours.clone(), PX_PER_MM);
        let drawing = ground.threads.draw(rect(0.0, top, at.width, at.height), &look);
        let shows = format!("{} at actual size, in the colours of the class", line.title);
        page.picture(&drawing, point(at.x, at.y), shows);
    }
    page.frames(&[at]);
}

/// A line of the contents: title, dots, number.
fn contents_line(page: &mut PageBuilder, line: &ContentsLine, at: Rect) {
    const SIZE: f64 = 3.8;
    let base = at.y + at.height - 0.5;
    let number = line.page.to_string();
    let wide = font::width(&number, SIZE, Face::Regular);
    let title = font::shortened(&line.title, SIZE, Face::Semibold, at.width - wide - 10.0);
    let from = at.x + font::width(&title, SIZE, Face::Semibold) + 2.0;
    let to = at.x + at.width - wide - 2.0;
    let dotted = Stroke { dash: Some([0.01, 1.6]), ..Stroke::new(QUIET, 0.35) };
    let dots = Shape::stroke(Path::line([point(from, base - 0.3), point(to, base - 0.3)]), dotted);
    page.put(Role::Decoration, vec![dots]);
    let shapes = vec![
        text(&format!("{title} "), point(at.x, base), SIZE, Face::Semibold, Rgb::INK, Anchor::Start),
        text(&number, point(at.x + at.width, base), SIZE, Face::Regular, Rgb::INK, Anchor::End),
    ];
    page.put(Role::Paragraph, shapes);
}

/// The colours with their letters, in rows. Returns where they end.
fn colours(page: &mut PageBuilder, colours: &[Swatch], all: Rect) -> f64 {
    const ROW: f64 = 8.0;
    let columns = if colours.len() <= 8 { 2 } else { 4 };
    let width = all.width / columns as f64;
    for (k, Swatch { letter, name, colour }) in colours.iter().enumerate() {
        let (x, y) = (all.x + (k % columns) as f64 * width, all.y + (k / columns) as f64 * ROW);
        let path = Path::rect(rect(x + 6.0, y, 12.0, ROW - 2.0));
        let rim = Stroke { cap: Cap::Butt, ..Stroke::new(QUIET, 0.2) };
        let swatch = Shape::Path { path, fill: Some((*colour).into()), stroke: Some(rim) };
        page.put(Role::Decoration, vec![swatch]);
        let base = y + LEADING;
        let name = font::shortened(name, 3.4, Face::Regular, width - 22.0);
        let shapes = vec![
            text(&format!("{letter} "), point(x, base), 4.0, Face::Semibold, Rgb::INK, Anchor::Start),
            text(&name, point(x + 20.0, base), 3.4, Face::Regular, Rgb::INK, Anchor::Start),
        ];
        page.put(Role::Paragraph, shapes);
    }
    all.y + ROW * colours.len().div_ceil(columns) as f64
}
