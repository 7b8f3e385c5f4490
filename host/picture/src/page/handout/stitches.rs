//! The stitches of all grounds, each once; how to read the diagrams; and safety
//! at the pillow.

use indexmap::IndexMap;
use lace::{Stitch, point};

use super::ground::PX_PER_MM;
use super::page_builder::{PageBuilder, body};
use super::{Handout, Prepared, PreparedGround};
use crate::colour::Rgb;
use crate::drawing::font;
use crate::drawing::pricking::CAUTIONS_AT_LENGTH;
use crate::drawing::tagged_page::Role;
use crate::drawing::threads::ThreadLook;
use crate::drawing::working_diagram::{diagram_guide, kind_letter};
use crate::drawing::{Anchor, Drawing, Face, Rect, rect};
use crate::page::columns::{Columns, Spacing};
use crate::page::typography::{BODY, GAP, LEADING, QUIET, lines, text};

/// Side of a picture of a stitch, mm, and height of its row.
const PICTURE: f64 = 21.0;
const ROW: f64 = PICTURE + 4.5;
/// Lines of text beside a picture.
const LINES: usize = 4;

/// A kind of stitch: its moves and its name, since a tally and a leaf have the same
/// moves.
#[derive(PartialEq, Eq, Hash)]
struct Kind {
    stitch: Stitch,
    words: String,
}

/// How a kind of stitch looks, and the grounds that use it.
struct Used {
    picture: Drawing,
    places: Vec<UsedOn>,
}

/// A use of a stitch: a page number, and its letter there.
struct UsedOn {
    page: usize,
    letter: String,
}

/// The pages after those of the grounds, which have these page numbers.
pub(super) fn pages(handout: &Handout<'_>, sheets: &[Prepared<'_>], numbers: &[usize]) -> Vec<PageBuilder> {
    let used = used(sheets, numbers);
    let all = body(handout.paper);
    let rows = (all.height / ROW).floor() as usize;
    let stitches: Vec<(&Kind, &Used)> = used.iter().collect();
    let parts: Vec<&[(&Kind, &Used)]> = stitches.chunks(2 * rows).collect();
    let mut pages = Vec::new();
    let mut free = None;
    for (k, part) in parts.iter().enumerate() {
        let title = match parts.len() {
            1 => "The stitches used".to_owned(),
            n => format!("The stitches used, {} of {n}", k + 1),
        };
        let mut page = PageBuilder::new(handout.paper, &title);
        page.head(&title, "Every stitch once. C is cross, T is twist; read from left to right.");
        let down = part.len().div_ceil(2);
        let width = (all.width - GAP) / 2.0;
        for (n, (kind, used)) in part.iter().enumerate() {
            let at = point(all.x + (n / down) as f64 * (width + GAP), all.y + (n % down) as f64 * ROW);
            stitch_row(&mut page, kind, used, rect(at.x, at.y, width, PICTURE));
        }
        let top = all.y + down as f64 * ROW + GAP;
        free = Some(rect(all.x, top, all.width, all.y + all.height - top));
        pages.push(page);
    }
    let below = free.and_then(|free| how_to_read(handout, free)).filter(|columns| !columns.full);
    match (pages.last_mut(), below) {
        (Some(page), Some(columns)) => {
            page.contents_title.push_str(" and how to read the diagrams");
            page.columns(columns);
        }
        _ => {
            let title = "How to read the diagrams";
            let mut page = PageBuilder::new(handout.paper, title);
            page.head(title, "The same on all pages.");
            if let Some(columns) = how_to_read(handout, all) {
                page.columns(columns);
            }
            pages.push(page);
        }
    }
    pages
}

/// How to read diagrams and prickings, and the cautions, in two columns; `None`
/// when there is no room.
fn how_to_read(handout: &Handout<'_>, all: Rect) -> Option<Columns> {
    if all.height < 40.0 {
        return None;
    }
    let width = (all.width - GAP) / 2.0;
    let rects = [all.x, all.x + width + GAP].map(|x| rect(x, all.y, width, all.height));
    let colour = |k: usize| handout.colours.get(k).map_or(Rgb::INK, |c| c.colour);
    let colours = [colour(0), colour(if handout.colours.len() > 1 { 1 } else { 0 })];
    let mut columns = Columns::new(rects.to_vec(), Spacing::HANDOUT);
    columns.drawing("Reading a working diagram", |width| diagram_guide(width, colours));
    columns.heading("Reading a pricking");
    columns.paragraph("Every dot is a pin, at its true place: lay the card on the pillow with the top away from you, the footside at its side, and work downwards.");
    columns.heading("Moves");
    columns.paragraph("Four threads lie in a stitch. C, cross: the middle two, left over right. T, twist: in both pairs, right over left. CT is a half stitch, CTC a cloth stitch, CTCT a cloth stitch and twist.");
    columns.next_column();
    columns.heading("At the pillow");
    CAUTIONS_AT_LENGTH.iter().for_each(|words| columns.paragraph(words));
    Some(columns)
}

/// All kinds of stitch with a picture of each, in order of first use.
fn used(sheets: &[Prepared<'_>], numbers: &[usize]) -> IndexMap<Kind, Used> {
    let mut used: IndexMap<Kind, Used> = IndexMap::new();
    for (sheet, &page) in sheets.iter().zip(numbers) {
        let Some(ground) = &sheet.ground else { continue };
        for (number, stitch) in ground.on.ground.distinct_stitches().into_keys().enumerate() {
            let kind = Kind { stitch: stitch.clone(), words: ground.on.ground.kind_in_words(stitch) };
            let one = used
                .entry(kind)
                .or_insert_with(|| Used { picture: close_up(ground, stitch), places: Vec::new() });
            one.places.push(UsedOn { page, letter: kind_letter(number) });
        }
    }
    used
}

/// A stitch in its ground, with its surroundings.
fn close_up(of: &PreparedGround<'_>, stitch: &Stitch) -> Drawing {
    let (ground, layout) = (of.on.ground, of.on.layout);
    let s = ground.stitches().iter().position(|s| s.stitch == *stitch).unwrap_or(0);
    let first = ground.braid().stitch_nodes[s];
    let nodes = &layout.nodes[first..first + stitch.crossings().count()];
    let place = layout.grid.mm(ground.places()[s]);
    let points = nodes.iter().copied().chain(nodes.is_empty().then_some(place));
    let bounds = Rect::around(points).unwrap_or(rect(place.x, place.y, 0.0, 0.0));
    let side = (bounds.width.max(bounds.height) + 5.0 * layout.thread_mm).max(8.0 * layout.thread_mm);
    let middle = point(bounds.x + bounds.width / 2.0, bounds.y + bounds.height / 2.0);
    let window = rect(middle.x - side / 2.0, middle.y - side / 2.0, side, side);
    let times = PICTURE / side;
    let look = ThreadLook { pins: true, ..ThreadLook::new(of.on.colours.clone(), PX_PER_MM * times) };
    of.threads.draw(window, &look).scaled(times)
}

/// Letters one by one: `C  T  pin  C  T` for `CT pin CT`.
fn apart(letters: &str) -> String {
    let spaced = letters.replace('C', " C ").replace('T', " T ");
    spaced.split_whitespace().collect::<Vec<_>>().join("  ")
}

/// `page 2 (a), page 3 (b)`.
fn places_in_words(places: &[UsedOn]) -> String {
    let one = |UsedOn { page, letter }: &UsedOn| format!("page {page} ({letter})");
    places.iter().map(one).collect::<Vec<_>>().join(", ")
}

/// One stitch: its picture, name, moves and pages.
fn stitch_row(page: &mut PageBuilder, kind: &Kind, used: &Used, at: Rect) {
    let mut name = kind.words.clone();
    name[..1].make_ascii_uppercase();
    let column = Rect { x: at.x + PICTURE + 4.0, width: at.width - PICTURE - 4.0, ..at };
    let mut lines = Beside { column, base: at.y - 0.4, left: LINES + 1 };
    lines.put(page, Role::Heading(2), &name, (Face::Semibold, Rgb::INK), 2);
    if let Some(letters) = kind.stitch.letters() {
        let most = lines.left - 1;
        lines.put(page, Role::Paragraph, &apart(&letters), (Face::Regular, Rgb::INK), most);
    }
    let most = lines.left;
    lines.put(page, Role::Paragraph, &places_in_words(&used.places), (Face::Regular, QUIET), most);
    let shows = format!("{name}: the threads of this stitch, enlarged, with those next to it");
    page.picture(&used.picture, point(at.x, at.y), shows);
    page.frames(&[rect(at.x, at.y, PICTURE, PICTURE)]);
}

/// Lines of text beside a picture.
struct Beside {
    column: Rect,
    /// Baseline of the last one.
    base: f64,
    /// How many more lines fit.
    left: usize,
}

impl Beside {
    /// Adds text in at most `most` lines; the rest is cut off.
    fn put(
        &mut self,
        page: &mut PageBuilder,
        role: Role,
        words: &str,
        (face, colour): (Face, Rgb),
        most: usize,
    ) {
        let mut all = lines(words, BODY, face, self.column.width);
        if all.len() > most {
            let rest = all.split_off(most.max(1) - 1).join(" ");
            all.push(font::shortened(&rest, BODY, face, self.column.width));
        }
        self.left -= all.len();
        let mut shapes = Vec::new();
        for words in all {
            self.base += LEADING;
            let at = point(self.column.x, self.base);
            shapes.push(text(&format!("{words} "), at, BODY, face, colour, Anchor::Start));
        }
        page.put(role, shapes);
    }
}
