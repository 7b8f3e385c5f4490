//! A page about one ground: the worked lace, enlarged and at actual size, the
//! working diagram with its key, the pricking, facts, and the steps in words. An order
//! of working that has no room on it follows on pages of its own.

use lace::{Ground, point};

use super::Fact;
use super::close_up::CloseUp;
use super::columns::{Columns, OrderInWords, Passage, Spacing};
use super::order_pages::OrderPages;
use super::typography::{BelowHead, GAP, MARGIN, QUIET, frames, head, heading, text};
use crate::colour::Rgb;
use crate::drawing::pricking::{Paper, cautions, control_scale, dots};
use crate::drawing::threads::{ThreadDrawing, ThreadLook};
use crate::drawing::working_diagram::{DiagramFit, DiagramLook, WorkingDiagram, diagram_key};
use crate::drawing::{Anchor, Background, Drawing, Face, Group, Rect, Repeating, Shape, Size, rect};
use crate::layout::Layout;

/// The contents of the page besides the ground itself.
#[derive(Clone, Debug)]
pub struct SheetLook {
    /// Name of the ground.
    pub title: String,
    /// More about it, one line.
    pub subtitle: String,
    /// How its pairs hang, in a sentence of any length.
    pub hanging: String,
    /// How threads are drawn: their colours, and the scale of the page in pixels per
    /// millimetre.
    pub threads: ThreadLook,
    /// The distances after which the worked lace repeats, colours and all, mm.
    pub repeat: Size,
    /// How pairs are drawn.
    pub pairs: DiagramLook,
    /// Where the threads go, in a sentence.
    pub travel: String,
    /// Facts about the ground.
    pub facts: Vec<Fact>,
    /// Paper, at least as large as [`LEAST_PAGE`].
    pub paper: Paper,
}

/// The smallest page that has room for everything.
pub const LEAST_PAGE: Paper = Paper { width: 200.0, height: 270.0 };

/// Height of the pricking with its heading and control scale, mm.
const PRICKING: f64 = 62.0;

/// The places on the page, mm: at the top the worked lace and facts, below them
/// the diagram and steps, at the foot the pricking.
struct Places {
    worked: Rect,
    true_size: Rect,
    facts: Rect,
    diagram: Rect,
    steps: Rect,
    pricking: Rect,
}

impl Places {
    /// The places below a head that is so much higher than usual, with room for facts
    /// of a height.
    fn new(paper: Paper, head: f64, facts: f64) -> Places {
        let Paper { width, height } = paper;
        let column = (width - 2.0 * MARGIN - GAP) / 2.0;
        let (left, right) = (MARGIN, MARGIN + column + GAP);
        let top = MARGIN + 20.0 + head;
        let row = (height - top - MARGIN - PRICKING - 3.0 * GAP) / 2.0;
        let second = top + row + GAP;
        let third = second + row + GAP;
        let swatch = (row - facts).min(row * 0.4).min(36.0);
        Places {
            worked: rect(left, top, column, row),
            true_size: rect(right, top, column, swatch),
            facts: rect(right, top + swatch, column, row - swatch),
            diagram: rect(left, second, column, row),
            steps: rect(right, second, column, row),
            pricking: rect(left, third, width - 2.0 * MARGIN, height - third),
        }
    }
}

/// Draws the page, and those of the order of working if it needs any.
pub fn ground_sheet(ground: &Ground, layout: &Layout, look: &SheetLook) -> Vec<Drawing> {
    let Paper { width, height } = look.paper;
    let mut page = blank(look);
    let hanging = BelowHead::new(&look.hanging, width);
    // How high the facts are, in a column that is as wide as theirs.
    let Places { facts: column, worked: Rect { width: across, .. }, .. } =
        Places::new(look.paper, hanging.height, 0.0);
    let close_up = CloseUp::of(ground, layout, &look.threads.colours, across);
    let needed = facts(Rect { height, ..column }, close_up, look).lowest() - column.y;
    let places = Places::new(look.paper, hanging.height, needed);
    let mut words = Group::new("words");
    words.shapes.extend(head(&look.title, &look.subtitle, width));
    words.shapes.extend(hanging.lines);

    worked(&mut page, &places, &ThreadDrawing::new(ground, layout), close_up, look);
    let order = OrderInWords::of(ground);
    let key = diagram_key(ground, places.steps.width);
    let view = Size { width: places.diagram.width, height: places.diagram.height };
    let fit = DiagramFit::new(ground, &layout.grid, look.pairs.balanced, view);
    let below =
        Rect { y: places.steps.y + key.height, height: places.steps.height - key.height, ..places.steps };
    let mut steps = Columns::new(vec![below], Spacing::SHEET);
    steps.heading("Order of working");
    let mut further = Vec::new();
    steps.order(&order);
    if steps.full || !fit.numbered {
        steps = Columns::new(vec![below], Spacing::SHEET);
        steps.heading("Order of working");
        steps.remark("On the next page, with a larger diagram and its numbers.");
        further = order_pages(ground, layout, look, &order);
    }
    let numbers = further.is_empty();
    diagram(&mut page, places.diagram, ground, &fit, &DiagramLook { numbers, ..look.pairs.clone() });
    page.place(&key, point(places.steps.x, places.steps.y), "pairs-");
    words.shapes.extend(shapes(facts(places.facts, close_up, look).into_passages()));
    words.shapes.push(caption(places.facts, close_up));
    words.shapes.extend(shapes(steps.into_passages()));

    let third = places.pricking;
    words.shapes.push(heading("Pricking, actual size", point(third.x, third.y - 1.0)));
    page.groups.push(words);
    let room = rect(0.0, 0.0, third.width - 12.0, PRICKING - 10.0);
    page.groups.push(dots(ground, &layout.grid, room, room, point(MARGIN + 12.0, third.y + 3.0)));
    page.groups.push(control_scale(point(MARGIN + 2.0, height - MARGIN + 2.0), width - MARGIN));
    page.groups.push(cautions(point(width - MARGIN, height - MARGIN - 4.0)));
    let mut framed = Group::new("frames");
    framed.shapes.push(frames(&[places.worked, places.true_size, places.diagram]));
    page.groups.push(framed);
    further.insert(0, page);
    if hanging.cut {
        further.extend(hanging_pages(look));
    }
    further
}

/// An empty page.
fn blank(look: &SheetLook) -> Drawing {
    let mut page = Drawing::new(look.paper.width, look.paper.height, look.title.clone());
    page.background = Rgb::WHITE.into();
    page
}

/// Where the text of a page is that has nothing else.
fn body(paper: Paper) -> Rect {
    let top = MARGIN + 20.0;
    rect(MARGIN, top, paper.width - 2.0 * MARGIN, paper.height - top - MARGIN)
}

/// The pages of an order of working that has no room on the first.
fn order_pages(ground: &Ground, layout: &Layout, look: &SheetLook, order: &OrderInWords) -> Vec<Drawing> {
    let (width, body) = (look.paper.width, body(look.paper));
    let pages = OrderPages::new(ground, &layout.grid, &look.pairs, order, (Spacing::SHEET, body));
    let count = pages.text.len();
    let page = |(number, passages): (usize, Vec<Passage>)| {
        let mut page = blank(look);
        if number == 0 {
            page.place(&pages.diagram, point(pages.view.x, pages.view.y), "pairs-");
            let mut framed = Group::new("frames");
            framed.shapes.push(frames(&[pages.view]));
            page.groups.push(framed);
        }
        let of = if count > 1 { format!(", page {} of {count}", number + 1) } else { String::new() };
        let mut words = Group::new("words");
        words.shapes.extend(head(&look.title, &format!("Order of working{of}"), width));
        words.shapes.extend(shapes(passages));
        page.groups.push(words);
        page
    };
    pages.text.into_iter().enumerate().map(page).collect()
}

/// The pages of an arrangement that has no room on the first.
fn hanging_pages(look: &SheetLook) -> Vec<Drawing> {
    let body = body(look.paper);
    let mut columns = Columns::new(vec![body], Spacing::SHEET).running_on(vec![body]);
    columns.paragraph(&look.hanging);
    let mut pages: Vec<Drawing> = Vec::new();
    for passage in columns.into_passages() {
        let number = passage.column;
        let mut words = Group::new("words");
        if pages.len() <= number {
            pages.resize_with(number + 1, || blank(look));
            words.shapes.extend(head(&look.title, "How its pairs hang", look.paper.width));
        }
        words.shapes.extend(shapes(vec![passage]));
        pages[number].groups.push(words);
    }
    pages
}

/// The worked lace, enlarged and at actual size.
fn worked(
    page: &mut Drawing,
    places: &Places,
    threads: &ThreadDrawing<'_>,
    close_up: CloseUp,
    look: &SheetLook,
) {
    let mut place = |view: Rect, times: f64, prefix: &str| {
        let look_there = ThreadLook { px_per_mm: look.threads.px_per_mm * times, ..look.threads.clone() };
        let window = rect(0.0, 0.0, view.width / times, view.height / times);
        let first = page.groups.len();
        page.place(&threads.draw(window, &look_there).scaled(times), point(view.x, view.y), prefix);
        let period = Size { width: look.repeat.width * times, height: look.repeat.height * times };
        for group in &mut page.groups[first..] {
            group.repeating = Some(Repeating { view, period });
        }
    };
    place(places.worked, close_up.times, "worked-");
    place(places.true_size, 1.0, "true-size-");
}

/// The working diagram.
fn diagram(page: &mut Drawing, view: Rect, ground: &Ground, fit: &DiagramFit, look: &DiagramLook) {
    let look = DiagramLook { background: Background::Transparent, ..look.clone() };
    let diagram = WorkingDiagram::new(ground, &fit.grid, look);
    let window = diagram.window(Size { width: view.width, height: view.height });
    page.place(&diagram.draw(window), point(view.x, view.y), "pairs-");
}

/// Room for the caption of the pictures of threads, mm.
const CAPTION: f64 = 4.0;

/// The caption of the pictures of threads.
fn caption(all: Rect, close_up: CloseUp) -> Shape {
    let caption = format!("Worked: left {}, above actual size", close_up.words());
    text(&caption, point(all.x, all.y + CAPTION), 2.8, Face::Regular, QUIET, Anchor::Start)
}

/// Where the threads go, and facts, below the caption.
fn facts(all: Rect, close_up: CloseUp, look: &SheetLook) -> Columns {
    let below = Rect { y: all.y + CAPTION, height: all.height - CAPTION, ..all };
    let mut columns = Columns::new(vec![below], Spacing::SHEET);
    if !close_up.whole {
        columns.paragraph("The enlarged picture shows part of a repeat of the colours.");
    }
    columns.paragraph(&look.travel);
    look.facts.iter().for_each(|fact| columns.fact(&fact.label, &fact.value));
    columns
}

/// The shapes of text, without the spaces that only tagged pages need.
fn shapes(passages: Vec<Passage>) -> impl Iterator<Item = Shape> {
    let groups = passages.into_iter().flat_map(|passage| passage.groups);
    groups.flat_map(|group| group.shapes).map(|mut shape| {
        if let Shape::Text(text) = &mut shape {
            text.words.truncate(text.words.trim_end().len());
        }
        shape
    })
}
