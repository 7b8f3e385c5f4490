//! The page of one ground, and the pages that follow it when its order of working
//! has no room there.

use lace::point;

use super::page_builder::{PageBuilder, body};
use super::plan::{BESIDE_SCALE, Plan, RULE, TITLE};
use super::{Body, ClassSheet, Handout, Prepared, PreparedGround};
use crate::colour::{Rgb, rgb};
use crate::drawing::font;
use crate::drawing::pricking::{MEASURE, Paper, SCALE_MM, dots, scale_lines};
use crate::drawing::tagged_page::Role;
use crate::drawing::threads::ThreadLook;
use crate::drawing::working_diagram::{
    DiagramFit, DiagramLook, WorkingDiagram, diagram_key, diagram_key_of_names,
};
use crate::drawing::{Anchor, Background, Cap, Face, Path, Rect, Shape, Size, Stroke, rect};
use crate::page::close_up::CloseUp;
use crate::page::columns::{Columns, Spacing};
use crate::page::order_pages::OrderPages;
use crate::page::typography::{BODY, GAP, LEADING, QUIET, lines, text};

/// Resolution for which threads are shaded, in pixels per millimetre of paper:
/// 150 dots per inch. Finer shading makes files too large to send to a class.
pub(super) const PX_PER_MM: f64 = 5.9;

/// The pages of a ground, the first with the given number.
pub(super) fn pages(handout: &Handout<'_>, prepared: &Prepared<'_>, number: usize) -> Vec<PageBuilder> {
    let sheet = prepared.sheet;
    let mut page = PageBuilder::new(handout.paper, &sheet.title);
    page.head(&sheet.title, &sheet.subtitle);
    if let Some(ground) = &prepared.ground {
        let further = fill(&mut page, handout.paper, sheet, ground, number + 1);
        return [page].into_iter().chain(further).collect();
    }
    if let Body::Missing { why } = &sheet.body {
        let mut all = body(handout.paper);
        page.frames(&[all]);
        all = all.grown(-6.0);
        let mut columns = Columns::new(vec![all], Spacing::HANDOUT);
        columns.heading(&format!("Page {number} is missing"));
        why.iter().for_each(|words| columns.paragraph(words));
        let top = columns.y() + GAP;
        page.columns(columns);
        let height = all.y + all.height - top;
        notes(&mut page, rect(all.x, top, all.width, height), &sheet.notes);
    }
    vec![page]
}

/// Fills the page, and returns the pages of the order of working, which begin at
/// `next`, if it needs any.
fn fill(
    page: &mut PageBuilder,
    paper: Paper,
    sheet: &ClassSheet<'_>,
    ground: &PreparedGround<'_>,
    next: usize,
) -> Vec<PageBuilder> {
    // The first plan in which everything fits, or else the last.
    let mut filled = Fullness::ALL.into_iter().filter_map(|fullness| {
        let crowded = fullness >= Fullness::Crowded;
        let plan = Plan::new(paper, ground.on.area, &sheet.notes, crowded)?;
        let words = Words::new(&plan, ground, fullness, next);
        Some((plan, fullness, words))
    });
    // Areas that do not fit are refused earlier.
    let Some((plan, fullness, words)) = filled.find(|(_, _, words)| words.enough) else { return Vec::new() };
    threads(page, plan.threads, sheet, ground);
    pairs(page, plan.pairs, sheet, ground, fullness.has_steps());
    page.frames(&[plan.threads, plan.pairs]);
    let mut below = plan.notes;
    if plan.follow {
        let top = below.y.min(words.columns.lowest() + GAP / 2.0);
        below = rect(below.x, top, below.width, below.y + below.height - top);
    }
    page.columns(words.columns);
    pricking(page, plan.pricking, sheet, ground);
    notes(page, below, &sheet.notes);
    if fullness.has_steps() { Vec::new() } else { order_pages(paper, sheet, ground) }
}

/// The pages of an order of working that has no room on that of its ground.
fn order_pages(paper: Paper, sheet: &ClassSheet<'_>, ground: &PreparedGround<'_>) -> Vec<PageBuilder> {
    let on = ground.on;
    let look = DiagramLook { colours: on.colours.clone(), ..DiagramLook::default() };
    let setting = (Spacing::HANDOUT, body(paper));
    let OrderPages { diagram, view, text } =
        OrderPages::new(on.ground, &on.layout.grid, &look, &ground.order, setting);
    let count = text.len();
    let mut pages = Vec::with_capacity(count);
    for (passages, number) in text.into_iter().zip(1..) {
        let mut page = PageBuilder::new(paper, &sheet.title);
        let of = if count > 1 { format!(", page {number} of {count}") } else { String::new() };
        page.head(&sheet.title, &format!("Order of working{of}"));
        if number == 1 {
            let shows = format!("{}, with the order of working in numbers", shows_pairs(sheet));
            page.picture(&diagram, point(view.x, view.y), shows);
            page.frames(&[view]);
        }
        page.passages(passages);
        pages.push(page);
    }
    pages
}

/// The thread drawing with its scale below.
fn threads(page: &mut PageBuilder, view: Rect, sheet: &ClassSheet<'_>, ground: &PreparedGround<'_>) {
    page.heading("Worked", point(view.x, view.y + 3.4 - TITLE));
    let on = ground.on;
    let close_up = CloseUp::of(on.ground, on.layout, &on.colours, view.width);
    let CloseUp { across, times, whole } = close_up;
    let look = ThreadLook::new(on.colours.clone(), PX_PER_MM * times);
    let top = on.ground.top() * on.layout.grid.step_y_mm();
    let window = rect(0.0, top, across, view.height / times);
    let drawing = ground.threads.draw(window, &look).scaled(times);
    let size = close_up.words();
    let shows = format!("{} as it looks worked, in the colours of the class, {size}", sheet.title);
    page.picture(&drawing, point(view.x, view.y), shows);
    // A bar of 5 mm of lace, or of 10 mm when enlarged at most 3 times.
    let mm = if times > 3.0 { 5.0 } else { 10.0 };
    let (right, base) = (view.x + view.width, view.y + view.height + 3.6);
    let left = right - mm * times;
    let ticks = [left, right].map(|x| Path::line([point(x, base - 2.2), point(x, base)]));
    let mut bar = Path::line([point(left, base - 1.1), point(right, base - 1.1)]);
    ticks.iter().for_each(|tick| bar.add(tick, point(0.0, 0.0)));
    let line = Stroke { cap: Cap::Butt, ..Stroke::new(Rgb::INK, 0.25) };
    page.put(Role::Decoration, vec![Shape::stroke(bar, line)]);
    // The bar tells the size, where there is more to say.
    let mut words = if whole {
        format!("{size}; the bar is {mm} mm of lace")
    } else {
        format!("part of a repeat of the colours; the bar is {mm} mm")
    };
    words[..1].make_ascii_uppercase();
    let words = font::shortened(&words, 2.8, Face::Regular, left - view.x - 2.0);
    let line = text(&words, point(view.x, base), 2.8, Face::Regular, QUIET, Anchor::Start);
    page.put(Role::Paragraph, vec![line]);
}

/// The working diagram.
fn pairs(
    page: &mut PageBuilder,
    view: Rect,
    sheet: &ClassSheet<'_>,
    ground: &PreparedGround<'_>,
    numbers: bool,
) {
    page.heading("Working diagram", point(view.x, view.y + 3.4 - TITLE));
    let on = ground.on;
    let fit = fit(view, ground);
    let look = DiagramLook {
        colours: on.colours.clone(),
        numbers,
        background: Background::Transparent,
        ..DiagramLook::default()
    };
    let diagram = WorkingDiagram::new(on.ground, &fit.grid, look);
    let drawing = diagram.draw(diagram.window(Size { width: view.width, height: view.height }));
    page.picture(&drawing, point(view.x, view.y), shows_pairs(sheet));
}

fn fit(view: Rect, ground: &PreparedGround<'_>) -> DiagramFit {
    let room = Size { width: view.width, height: view.height };
    DiagramFit::new(ground.on.ground, &ground.on.layout.grid, false, room)
}

/// What a working diagram shows.
fn shows_pairs(sheet: &ClassSheet<'_>) -> String {
    format!(
        "Working diagram of {}: a line for every pair, a mark for every stitch, as the key says",
        sheet.title
    )
}

/// How much a page contains, the fullest first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Fullness {
    /// Everything.
    Full,
    /// With the shorter text on where colours go.
    Brief,
    /// Also with a key without moves.
    BriefNames,
    /// Everything but the order of working, which has pages of its own.
    WithoutSteps,
    /// Also with the shorter text and a key without moves.
    Names,
    /// Also with smaller pictures and fewer lines to write on.
    Crowded,
    /// Also without a key: the page of the stitches explains the letters.
    NoKey,
}

impl Fullness {
    const ALL: [Fullness; 7] = [
        Fullness::Full,
        Fullness::Brief,
        Fullness::BriefNames,
        Fullness::WithoutSteps,
        Fullness::Names,
        Fullness::Crowded,
        Fullness::NoKey,
    ];

    /// Whether the page has the order of working.
    fn has_steps(self) -> bool {
        self < Fullness::WithoutSteps
    }
}

/// What is needed, where colours go, the key and the steps.
struct Words {
    columns: Columns,
    /// Whether all of it fits, or nothing more can be left out.
    enough: bool,
}

impl Words {
    /// The words of a page; an order of working that has no room begins on page
    /// `next`.
    fn new(plan: &Plan, ground: &PreparedGround<'_>, fullness: Fullness, next: usize) -> Words {
        let on = ground.on;
        let mut columns = Columns::new(plan.words.clone(), Spacing::HANDOUT);
        columns.heading("Materials");
        on.materials.iter().for_each(|fact| columns.fact(&fact.label, &fact.value));
        columns.remark(&on.rule);
        columns.heading("Where each colour goes");
        let in_full = matches!(fullness, Fullness::Full | Fullness::WithoutSteps);
        let travel = if in_full { &on.travel } else { &on.travel_in_brief };
        travel.iter().for_each(|words| columns.paragraph(words));
        match fullness {
            Fullness::Full | Fullness::Brief | Fullness::WithoutSteps => {
                columns.drawing("Key to the diagram", |width| diagram_key(on.ground, width));
            }
            Fullness::BriefNames | Fullness::Names | Fullness::Crowded => {
                columns.drawing("Key to the diagram", |width| diagram_key_of_names(on.ground, width));
            }
            Fullness::NoKey => {
                columns.heading("Key to the diagram");
                columns.remark(
                    "There is no room for it here: the page of the stitches used names every letter.",
                );
            }
        }
        columns.heading("Order of working");
        if fullness.has_steps() {
            columns.order(&ground.order);
        } else {
            columns.remark(&format!("On page {next}, with a larger diagram and its numbers."));
        }
        let numbered = !fullness.has_steps() || fit(plan.pairs, ground).numbered;
        let enough = numbered && !columns.full || fullness == Fullness::NoKey;
        Words { columns, enough }
    }
}

/// The dots at actual size beside the control scale.
fn pricking(page: &mut PageBuilder, all: Rect, sheet: &ClassSheet<'_>, ground: &PreparedGround<'_>) {
    let on = ground.on;
    let Size { width, height } = on.area;
    page.heading(&format!("Pricking, actual size, {width} \u{d7} {height} mm"), point(all.x, all.y + 3.4));
    let top = all.y + TITLE;
    let corner = point(all.x + 0.5, top + (height + BESIDE_SCALE).max(SCALE_MM + 1.0));
    let window = rect(0.0, on.ground.top() * on.layout.grid.step_y_mm(), width, height);
    let at = point(all.x + BESIDE_SCALE, top + 1.0);
    let shows = format!(
        "Pricking of {}, {width} by {height} mm, actual size: a dot for every pin, with a scale of 50 mm across and down",
        sheet.title
    );
    let dots = dots(on.ground, &on.layout.grid, window, window, at);
    page.add(Role::Figure(shows), [dots, scale_lines(corner)]);
    let lines = lines(MEASURE, 2.8, Face::Regular, all.width);
    let shapes = lines.iter().enumerate().map(|(k, words)| {
        let at = point(all.x, corner.y + 1.0 + 3.8 * (k + 1) as f64);
        text(&format!("{words} "), at, 2.8, Face::Regular, Rgb::INK, Anchor::Start)
    });
    page.put(Role::Paragraph, shapes.collect());
}

/// The teacher's notes, and lines to write on.
fn notes(page: &mut PageBuilder, all: Rect, notes: &str) {
    page.heading("Notes", point(all.x, all.y + 3.4));
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
        page.put(Role::Paragraph, shapes);
    }
    let mut ruled = Path::new();
    while y + RULE <= bottom + 1e-6 {
        y += RULE;
        ruled.add(&Path::line([point(all.x, y), point(all.x + all.width, y)]), point(0.0, 0.0));
    }
    if !ruled.steps.is_empty() {
        let line = Stroke { cap: Cap::Butt, ..Stroke::new(rgb(170, 162, 150), 0.18) };
        page.put(Role::Decoration, vec![Shape::stroke(ruled, line)]);
    }
}
