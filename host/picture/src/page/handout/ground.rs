//! The page of one ground.

use lace::point;

use super::flow::Flow;
use super::leaf::{Leaf, body, lines, text};
use super::{BODY, Body, ClassSheet, GAP, Handout, LEADING, QUIET, Worked};
use crate::colour::Rgb;
use crate::drawing::font;
use crate::drawing::pricking::{MEASURE, Paper, SCALE_MM, dots, scale_lines};
use crate::drawing::tagged_page::Role;
use crate::drawing::threads::{ThreadLook, draw_threads};
use crate::drawing::working_diagram::{
    PairLook, diagram_grid, diagram_window, draw_pairs, pair_key, pair_key_of_names, worked,
};
use crate::drawing::{Anchor, Cap, Face, Path, Rect, Shape, Stroke, rect};
use crate::page::sheet::enlargement;

/// Fineness for which threads are shaded, pixels to the millimetre of paper:
/// those of 150 dots to the inch. Finer shading makes files that are heavy to
/// send to a class.
pub(super) const PX_PER_MM: f64 = 5.9;

/// Above a picture its heading, below the one of threads its scale.
const TITLE: f64 = 6.0;
const SCALE: f64 = 5.0;
/// From the corner of the control scale to the dots.
const BESIDE_SCALE: f64 = 7.0;
/// Least height of both pictures with what belongs to them.
const PICTURES: f64 = 112.0;
/// Width of the column of a long and narrow pricking, and of what stands beside
/// it.
const NARROW: f64 = 60.0;
/// Lines ruled for notes, at the least, on pages with room and on crowded ones,
/// and how far apart.
const RULED: usize = 3;
const FEW_RULED: usize = 1;
const RULE: f64 = 7.5;
/// A page with fewer steps than these, if there are so many, is crowded.
const FEW_STEPS: usize = 6;
/// Least width of notes beside a wide pricking.
const BESIDE: f64 = 45.0;

/// Where things stand on the page of a ground.
#[derive(Debug)]
pub(super) struct Plan {
    threads: Rect,
    pairs: Rect,
    pricking: Rect,
    words: Vec<Rect>,
    notes: Rect,
    /// Whether the notes stand below the words, and may begin where these end.
    follow: bool,
}

/// Height of a pricking with its heading and control scale.
fn pricking_height(area: (f64, f64), width: f64) -> f64 {
    let words = lines(MEASURE, 2.8, Face::Regular, width).len();
    TITLE + (area.1 + BESIDE_SCALE).max(SCALE_MM + 1.0) + 1.5 + 3.8 * words as f64
}

/// Height of the notes with room to write.
fn notes_height(notes: &str, width: f64, crowded: bool) -> f64 {
    let words = lines(notes, BODY, Face::Regular, width).len();
    let ruled = if crowded { FEW_RULED } else { RULED };
    TITLE + LEADING * words as f64 + RULE * ruled as f64 + 1.0
}

impl Plan {
    /// Pictures and words stand in two columns; the pricking below the pictures
    /// where it has room there, else in a column of its own when it is narrow,
    /// else below everything. On a crowded page there is more room for words.
    /// `None` when there is no room.
    pub(super) fn new(paper: Paper, area: (f64, f64), notes: &str, crowded: bool) -> Option<Plan> {
        let all = body(paper);
        let column = (all.width - GAP) / 2.0;
        let right = all.x + column + GAP;
        let needs = area.0 + BESIDE_SCALE + 1.0;
        let height = |width: f64| pricking_height(area, width);
        // One above the other in a column of a height.
        let pictures = |height: f64| {
            let free = height - 2.0 * TITLE - SCALE - GAP / 2.0;
            let threads = rect(all.x, all.y + TITLE, column, 0.42 * free);
            let below = threads.y + threads.height + SCALE + GAP / 2.0 + TITLE;
            (threads, rect(all.x, below, column, 0.58 * free))
        };
        let words = |bottom: f64| {
            let high = notes_height(notes, column, crowded);
            let notes = rect(right, bottom - high, column, high);
            (vec![rect(right, all.y, column, notes.y - all.y - 2.0)], notes)
        };
        let bottom = all.y + all.height;
        if needs <= column && height(column) + GAP + PICTURES <= all.height {
            let high = height(column);
            let (threads, pairs) = pictures(all.height - high - GAP);
            let (words, notes) = words(bottom);
            let pricking = rect(all.x, bottom - high, column, high);
            return Some(Plan { threads, pairs, pricking, words, notes, follow: true });
        }
        if needs <= NARROW + GAP && height(NARROW) <= all.height {
            let own = needs.max(NARROW);
            let left = all.x + own + GAP;
            let width = all.x + all.width - left;
            let (high, low) = if crowded { (24.0, 38.0) } else { (34.0, 52.0) };
            let threads = rect(left, all.y + TITLE, width, high);
            let pairs = rect(left, threads.y + high + SCALE + GAP / 2.0 + TITLE, width, low);
            let pricking = rect(all.x, all.y, own, height(NARROW));
            // Below the pricking, where it leaves room, else below the words.
            let below = all.y + pricking.height + GAP;
            let follow = below + notes_height(notes, own, crowded) > bottom;
            let (notes, end) = if follow {
                let high = notes_height(notes, width, crowded);
                (rect(left, bottom - high, width, high), bottom - high - 2.0)
            } else {
                (rect(all.x, below, own, bottom - below), bottom)
            };
            let top = pairs.y + pairs.height + GAP / 2.0;
            let half = (width - GAP / 2.0) / 2.0;
            let words = [left, left + half + GAP / 2.0].map(|x| rect(x, top, half, end - top));
            return Some(Plan { threads, pairs, pricking, words: words.to_vec(), notes, follow });
        }
        let high = height(all.width);
        if needs <= all.width && high + GAP + PICTURES + 40.0 <= all.height {
            // Beside the pricking, where it leaves room, else below the words.
            let own = needs.max(NARROW);
            let beside = all.x + own + GAP;
            let width = all.x + all.width - beside;
            if width >= BESIDE && notes_height(notes, width, crowded) <= high && height(own) <= high + 4.0 {
                let high = height(own);
                let (threads, pairs) = pictures(all.height - high - GAP);
                let pricking = rect(all.x, bottom - high, own, high);
                let notes = rect(beside, bottom - high, width, high);
                let words = vec![rect(right, all.y, column, all.height - high - GAP)];
                return Some(Plan { threads, pairs, pricking, words, notes, follow: false });
            }
            let (threads, pairs) = pictures(all.height - high - GAP);
            let pricking = rect(all.x, bottom - high, all.width, high);
            let (words, notes) = words(bottom - high - GAP);
            return Some(Plan { threads, pairs, pricking, words, notes, follow: true });
        }
        None
    }
}

/// The page with a number.
pub(super) fn page(handout: &Handout<'_>, sheet: &ClassSheet<'_>, number: usize) -> Leaf {
    let mut leaf = Leaf::new(handout.paper, &sheet.title);
    leaf.head(&sheet.title, &sheet.subtitle);
    match &sheet.body {
        Body::Worked(worked) => fill(&mut leaf, handout.paper, sheet, worked),
        Body::Missing { why } => {
            let mut all = body(handout.paper);
            leaf.frames(&[all]);
            all = all.grown(-6.0);
            let mut flow = Flow::new(vec![all]);
            flow.heading(&format!("Page {number} is missing"));
            why.iter().for_each(|words| flow.paragraph(words));
            let top = flow.y() + GAP;
            flow.onto(&mut leaf);
            let height = all.y + all.height - top;
            notes(&mut leaf, rect(all.x, top, all.width, height), &sheet.notes);
        }
    }
    leaf
}

fn fill(leaf: &mut Leaf, paper: Paper, sheet: &ClassSheet<'_>, on: &Worked<'_>) {
    // The first way in which everything has room, or else the last.
    let mut ways = Fullness::ALL.into_iter().filter_map(|fullness| {
        let crowded = fullness >= Fullness::Crowded;
        let plan = Plan::new(paper, on.area, &sheet.notes, crowded)?;
        let (flow, enough) = words(plan.words.clone(), on, fullness);
        Some((plan, flow, enough || fullness == Fullness::NoKey))
    });
    // Areas without room are refused before.
    let Some((plan, flow, _)) = ways.find(|(_, _, enough)| *enough) else { return };
    threads(leaf, plan.threads, sheet, on);
    pairs(leaf, plan.pairs, sheet, on);
    leaf.frames(&[plan.threads, plan.pairs]);
    let mut below = plan.notes;
    if plan.follow {
        let top = below.y.min(flow.lowest() + GAP / 2.0);
        below = rect(below.x, top, below.width, below.y + below.height - top);
    }
    flow.onto(leaf);
    pricking(leaf, plan.pricking, sheet, on);
    notes(leaf, below, &sheet.notes);
}

/// The thread drawing, and below it its scale.
fn threads(leaf: &mut Leaf, view: Rect, sheet: &ClassSheet<'_>, on: &Worked<'_>) {
    leaf.heading("Worked", point(view.x, view.y + 3.4 - TITLE));
    let (across, times) = enlargement(on.ground, on.layout, view.width);
    let look = ThreadLook::new(on.colours.clone(), PX_PER_MM * times);
    let top = on.ground.top() * on.layout.grid.step_y_mm();
    let window = rect(0.0, top, across, view.height / times);
    let drawing = draw_threads(on.ground, on.layout, window, &look).scaled(times);
    let shows =
        format!("{} as it looks worked, in the colours of the class, {times} times its size", sheet.title);
    leaf.picture(&drawing, point(view.x, view.y), shows);
    // A bar of 5 mm of lace, or as much of it as looks well.
    let mm = if times > 3.0 { 5.0 } else { 10.0 };
    let (right, base) = (view.x + view.width, view.y + view.height + 3.6);
    let left = right - mm * times;
    let ticks = [left, right].map(|x| Path::line([point(x, base - 2.2), point(x, base)]));
    let mut bar = Path::line([point(left, base - 1.1), point(right, base - 1.1)]);
    ticks.iter().for_each(|tick| bar.add(tick, point(0.0, 0.0)));
    let line = Stroke { cap: Cap::Butt, ..Stroke::new(Rgb::INK, 0.25) };
    leaf.put(Role::Decoration, vec![Shape::stroke(bar, line)]);
    let size = if times == 1.0 { "At its size".to_owned() } else { format!("{times} times its size") };
    let said = format!("{size}; the bar is {mm} mm of lace");
    let said = font::shortened(&said, 2.8, Face::Regular, left - view.x - 2.0);
    let line = text(&said, point(view.x, base), 2.8, Face::Regular, QUIET, Anchor::Start);
    leaf.put(Role::Paragraph, vec![line]);
}

/// The working diagram.
fn pairs(leaf: &mut Leaf, view: Rect, sheet: &ClassSheet<'_>, on: &Worked<'_>) {
    leaf.heading("Working diagram", point(view.x, view.y + 3.4 - TITLE));
    let grid = diagram_grid(on.ground, &on.layout.grid, view.width);
    let look = PairLook {
        colours: on.colours.clone(),
        numbers: Some(worked(on.ground)),
        background: None,
        ..PairLook::default()
    };
    let window = diagram_window(on.ground, &grid, (view.width, view.height), &look);
    let drawing = draw_pairs(on.ground, &grid, window, &look);
    let shows = format!(
        "Working diagram of {}: a line for every pair, a mark for every stitch, as the key says",
        sheet.title
    );
    leaf.picture(&drawing, point(view.x, view.y), shows);
}

/// How much is said on a page, the fullest first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Fullness {
    /// Everything.
    Full,
    /// Where colours go in the fewest words.
    Brief,
    /// A key without moves, too.
    Names,
    /// With smaller pictures, too, and fewer lines to write on.
    Crowded,
    /// No key, too: the letters stand on the page of the stitches.
    NoKey,
}

impl Fullness {
    const ALL: [Fullness; 5] =
        [Fullness::Full, Fullness::Brief, Fullness::Names, Fullness::Crowded, Fullness::NoKey];
}

/// What is needed, where colours go, the key and the steps; and whether there
/// is room for all of it and for some steps.
fn words(columns: Vec<Rect>, on: &Worked<'_>, fullness: Fullness) -> (Flow, bool) {
    let (repeats, rows) = worked(on.ground);
    let steps = on.ground.steps_in_words(repeats, rows);
    let mut flow = Flow::new(columns);
    flow.heading("Materials");
    on.materials.iter().for_each(|(what, value)| flow.fact(what, value));
    flow.remark(&on.rule);
    flow.heading("Where each colour goes");
    let going = if fullness == Fullness::Full { &on.going } else { &on.going_in_brief };
    going.iter().for_each(|words| flow.paragraph(words));
    match fullness {
        Fullness::Full | Fullness::Brief => {
            flow.drawing("Key to the diagram", |width| pair_key(on.ground, width));
        }
        Fullness::Names | Fullness::Crowded => {
            flow.drawing("Key to the diagram", |width| pair_key_of_names(on.ground, width));
        }
        Fullness::NoKey => {
            flow.heading("Key to the diagram");
            flow.remark("There is no room for it here: the page of the stitches used names every letter.");
        }
    }
    flow.heading("Order of working");
    let told = flow.steps(&steps);
    let enough = !flow.full && told >= steps.len().min(FEW_STEPS);
    (flow, enough)
}

/// The dots at their true size beside the control scale.
fn pricking(leaf: &mut Leaf, all: Rect, sheet: &ClassSheet<'_>, on: &Worked<'_>) {
    let (width, height) = on.area;
    let said = format!("Pricking at its size, {width} \u{d7} {height} mm");
    leaf.heading(&said, point(all.x, all.y + 3.4));
    let top = all.y + TITLE;
    let corner = point(all.x + 0.5, top + (height + BESIDE_SCALE).max(SCALE_MM + 1.0));
    let window = rect(0.0, on.ground.top() * on.layout.grid.step_y_mm(), width, height);
    let at = point(all.x + BESIDE_SCALE, top + 1.0);
    let shows = format!(
        "Pricking of {}, {width} by {height} mm at true size: a dot for every pin, with a scale of 50 mm across and down",
        sheet.title
    );
    let dots = dots(on.ground, &on.layout.grid, window, window, at);
    leaf.add(Role::Figure(shows), [dots, scale_lines(corner)]);
    let lines = lines(MEASURE, 2.8, Face::Regular, all.width);
    let shapes = lines.iter().enumerate().map(|(k, words)| {
        let at = point(all.x, corner.y + 1.0 + 3.8 * (k + 1) as f64);
        text(&format!("{words} "), at, 2.8, Face::Regular, Rgb::INK, Anchor::Start)
    });
    leaf.put(Role::Paragraph, shapes.collect());
}

/// The teacher's notes, and lines to write on.
fn notes(leaf: &mut Leaf, all: Rect, notes: &str) {
    leaf.heading("Notes", point(all.x, all.y + 3.4));
    let mut y = all.y + TITLE - 1.0;
    let bottom = all.y + all.height;
    let mut shapes = Vec::new();
    for words in lines(notes, BODY, Face::Regular, all.width) {
        if y + LEADING > bottom {
            break;
        }
        y += LEADING;
        let words = format!("{words} ");
        shapes.push(text(&words, point(all.x, y), BODY, Face::Regular, Rgb::INK, Anchor::Start));
    }
    if !shapes.is_empty() {
        leaf.put(Role::Paragraph, shapes);
    }
    let mut ruled = Path::new();
    while y + RULE <= bottom + 1e-6 {
        y += RULE;
        ruled.add(&Path::line([point(all.x, y), point(all.x + all.width, y)]), point(0.0, 0.0));
    }
    if !ruled.steps.is_empty() {
        let line = Stroke { cap: Cap::Butt, ..Stroke::new(crate::colour::rgb(170, 162, 150), 0.18) };
        leaf.put(Role::Decoration, vec![Shape::stroke(ruled, line)]);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::page::handout::{largest_areas, room};

    #[test]
    fn nothing_on_a_page_lies_on_anything_else() {
        let long = "A sentence of notes that is meant to be long. ".repeat(6);
        for paper in [Paper::A4, Paper::LETTER] {
            let all = body(paper).grown(1e-6);
            let mut shapes = std::collections::BTreeSet::new();
            for width in (1..200).step_by(7).map(f64::from) {
                for height in (1..260).step_by(9).map(f64::from) {
                    for (notes, crowded) in [("", false), (&long, false), (&long, true)] {
                        let plan = Plan::new(paper, (width, height), notes, crowded);
                        let Some(plan) = plan else { continue };
                        let Plan { threads, pairs, pricking, words, notes, .. } = plan;
                        assert!(pricking.width >= width + BESIDE_SCALE && pricking.height >= height);
                        assert!(words.iter().all(|w| w.height >= 60.0), "{width} {height}: {words:?}");
                        shapes.insert((words.len(), notes.x < threads.x, pricking.width > 100.0));
                        let mut rects = vec![
                            threads.grown(0.0),
                            rect(pairs.x, pairs.y - TITLE, pairs.width, pairs.height + TITLE),
                            pricking,
                            notes,
                        ];
                        rects.extend(words);
                        for (k, a) in rects.iter().enumerate() {
                            assert!(
                                a.x >= all.x && a.x + a.width <= all.x + all.width,
                                "{width} {height} {k}"
                            );
                            assert!(
                                a.y >= all.y && a.y + a.height <= all.y + all.height,
                                "{width} {height} {k}"
                            );
                            for b in &rects[..k] {
                                assert!(!a.grown(-0.01).meets(b), "{width} by {height}: {a:?} on {b:?}");
                            }
                        }
                    }
                }
            }
            assert!(shapes.len() >= 4, "every shape of page is met: {shapes:?}");
        }
    }

    #[test]
    fn the_largest_areas_have_room_and_larger_ones_have_not() {
        for paper in [Paper::A4, Paper::LETTER] {
            let [wide, high] = largest_areas(paper);
            assert!(
                wide.0 > 150.0 && wide.1 >= 50.0 && high.1 > 180.0 && high.0 >= 50.0,
                "{wide:?} {high:?}"
            );
            for (width, height) in [wide, high] {
                assert!(room(paper, (width, height)));
                assert!(!room(paper, (width + 1.0, height + 1.0)));
            }
        }
    }
}
