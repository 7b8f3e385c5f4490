//! The stitches of all grounds, each once; how to read the diagrams; and what
//! may hurt.

use indexmap::IndexMap;
use lace::{Ground, Point, Stitch, point};

use super::flow::Flow;
use super::ground::PX_PER_MM;
use super::leaf::{Leaf, body, lines, text};
use super::{BODY, Body, GAP, Handout, LEADING, QUIET};
use crate::colour::Rgb;
use crate::drawing::font;
use crate::drawing::pricking::CAUTIONS_AT_LENGTH;
use crate::drawing::tagged_page::Role;
use crate::drawing::threads::{ThreadLook, draw_threads};
use crate::drawing::working_diagram::{pair_crib, work_letter, works};
use crate::drawing::{Anchor, Drawing, Face, Rect, rect};
use crate::layout::Layout;

/// Side of a picture of a stitch, mm, and height of its row.
const PICTURE: f64 = 21.0;
const ROW: f64 = PICTURE + 4.5;
/// Lines of words beside a picture.
const LINES: usize = 4;

/// A stitch that some of the grounds use.
struct Used {
    picture: Drawing,
    /// Its page and letter on each.
    pages: Vec<(usize, String)>,
}

/// The pages behind those of the grounds.
pub(super) fn pages(handout: &Handout<'_>) -> Vec<Leaf> {
    let used = used(handout);
    let all = body(handout.paper);
    let rows = (all.height / ROW).floor() as usize;
    let stitches: Vec<(&Stitch, &Used)> = used.iter().collect();
    let parts: Vec<&[(&Stitch, &Used)]> = stitches.chunks(2 * rows).collect();
    let mut leaves = Vec::new();
    let mut free = None;
    for (k, part) in parts.iter().enumerate() {
        let title = match parts.len() {
            1 => "The stitches used".to_owned(),
            n => format!("The stitches used, {} of {n}", k + 1),
        };
        let mut leaf = Leaf::new(handout.paper, &title);
        leaf.head(&title, "Every stitch once. C is cross, T is twist; read from left to right.");
        let down = part.len().div_ceil(2);
        let width = (all.width - GAP) / 2.0;
        for (n, (work, used)) in part.iter().enumerate() {
            let at = point(all.x + (n / down) as f64 * (width + GAP), all.y + (n % down) as f64 * ROW);
            stitch(&mut leaf, work, used, rect(at.x, at.y, width, PICTURE));
        }
        let top = all.y + down as f64 * ROW + GAP;
        free = Some(rect(all.x, top, all.width, all.y + all.height - top));
        leaves.push(leaf);
    }
    match (leaves.last_mut(), free) {
        (Some(leaf), Some(free)) if reading(handout, free).is_some_and(|flow| !flow.full) => {
            leaf.entry.push_str(" and how to read the diagrams");
            if let Some(flow) = reading(handout, free) {
                flow.onto(leaf);
            }
        }
        _ => {
            let title = "How to read the diagrams";
            let mut leaf = Leaf::new(handout.paper, title);
            leaf.head(title, "The same on all pages.");
            if let Some(flow) = reading(handout, all) {
                flow.onto(&mut leaf);
            }
            leaves.push(leaf);
        }
    }
    leaves
}

/// How to read diagrams and prickings, and the cautions, in two columns; `None`
/// where there is no room at all.
fn reading(handout: &Handout<'_>, all: Rect) -> Option<Flow> {
    if all.height < 40.0 {
        return None;
    }
    let width = (all.width - GAP) / 2.0;
    let columns = [all.x, all.x + width + GAP].map(|x| rect(x, all.y, width, all.height));
    let colour = |k: usize| handout.colours.get(k).map_or(Rgb::INK, |c| c.colour);
    let colours = [colour(0), colour(if handout.colours.len() > 1 { 1 } else { 0 })];
    let mut flow = Flow::new(columns.to_vec());
    flow.drawing("Reading a working diagram", |width| pair_crib(width, colours));
    flow.heading("Reading a pricking");
    flow.paragraph("Every dot is a pin, at its true place: lay the card on the pillow with the top away from you, the footside at its side, and work downwards.");
    flow.heading("Moves");
    flow.paragraph("Four threads lie in a stitch. C, cross: the middle two, left over right. T, twist: in both pairs, right over left. CT is a half stitch, CTC a cloth stitch, CTCT a cloth stitch and twist.");
    flow.next_column();
    flow.heading("At the pillow");
    CAUTIONS_AT_LENGTH.iter().for_each(|words| flow.paragraph(words));
    Some(flow)
}

/// All works with a picture of each, in the order in which they are met.
fn used(handout: &Handout<'_>) -> IndexMap<Stitch, Used> {
    let mut used: IndexMap<Stitch, Used> = IndexMap::new();
    for (k, sheet) in handout.sheets.iter().enumerate() {
        let Body::Worked(on) = &sheet.body else { continue };
        for (kind, work) in works(on.ground).into_iter().enumerate() {
            let one = used.entry(work.clone()).or_insert_with(|| Used {
                picture: close_up(on.ground, on.layout, work, &on.colours),
                pages: Vec::new(),
            });
            one.pages.push((k + 2, work_letter(kind)));
        }
    }
    used
}

/// A stitch as it lies in a ground, with what is next to it.
fn close_up(ground: &Ground, layout: &Layout, work: &Stitch, colours: &[Rgb]) -> Drawing {
    let s = ground.stitches().iter().position(|s| s.stitch == *work).unwrap_or(0);
    let first = ground.braid().stitch_nodes[s];
    let nodes = &layout.nodes[first..first + work.crossings().count()];
    let place = layout.grid.mm(ground.places()[s]);
    let points = nodes.iter().copied().chain(nodes.is_empty().then_some(place));
    let bounds = Rect::around(points).unwrap_or(rect(place.x, place.y, 0.0, 0.0));
    let side = (bounds.width.max(bounds.height) + 5.0 * layout.thread_mm).max(8.0 * layout.thread_mm);
    let middle = point(bounds.x + bounds.width / 2.0, bounds.y + bounds.height / 2.0);
    let window = rect(middle.x - side / 2.0, middle.y - side / 2.0, side, side);
    let times = PICTURE / side;
    let look = ThreadLook { pins: true, ..ThreadLook::new(colours.to_vec(), PX_PER_MM * times) };
    draw_threads(ground, layout, window, &look).scaled(times)
}

/// The moves one by one, the pin among them.
fn moves(work: &Stitch) -> String {
    let mut words: Vec<&str> = work.moves().iter().map(|m| m.word()).collect();
    if let Some(after) = work.pin() {
        words.insert(after, "pin");
    }
    words.join("  ")
}

/// `page 2 (a), page 3 (b)`.
fn pages_in_words(pages: &[(usize, String)]) -> String {
    let one = |(page, letter): &(usize, String)| format!("page {page} ({letter})");
    pages.iter().map(one).collect::<Vec<_>>().join(", ")
}

/// A stitch: its picture, its name, its moves, its pages.
fn stitch(leaf: &mut Leaf, work: &Stitch, used: &Used, at: Rect) {
    let beside = at.x + PICTURE + 4.0;
    let width = at.width - PICTURE - 4.0;
    let mut name = work.words();
    name[..1].make_ascii_uppercase();
    let mut base = at.y - 0.4;
    let put =
        |leaf: &mut Leaf, role: Role, words: &str, face: Face, colour: Rgb, most: usize, base: &mut f64| {
            let mut all = lines(words, BODY, face, width);
            if all.len() > most {
                let rest = all.split_off(most.max(1) - 1).join(" ");
                all.push(font::shortened(&rest, BODY, face, width));
            }
            let count = all.len();
            let mut shapes = Vec::new();
            for words in all {
                *base += LEADING;
                let at: Point = point(beside, *base);
                shapes.push(text(&format!("{words} "), at, BODY, face, colour, Anchor::Start));
            }
            leaf.put(role, shapes);
            count
        };
    let mut left = LINES + 1;
    left -= put(leaf, Role::Heading(2), &name, Face::Semibold, Rgb::INK, 2, &mut base);
    left -= put(leaf, Role::Paragraph, &moves(work), Face::Regular, Rgb::INK, left - 1, &mut base);
    put(leaf, Role::Paragraph, &pages_in_words(&used.pages), Face::Regular, QUIET, left, &mut base);
    let shows = format!("{name}: the threads of this stitch, enlarged, with those next to it");
    leaf.picture(&used.picture, point(at.x, at.y), shows);
    leaf.frames(&[rect(at.x, at.y, PICTURE, PICTURE)]);
}
