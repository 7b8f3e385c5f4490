//! One page about one ground: how it looks worked, larger and at its size, the
//! working diagram with its key, the pricking, facts, and the steps in words.

use lace::{Ground, Point, point};

use crate::colour::{Rgb, rgb};
use crate::drawing::font;
use crate::drawing::pricking::{Paper, cautions, control_scale, dots};
use crate::drawing::threads::{ThreadLook, draw_threads};
use crate::drawing::working_diagram::{PairLook, diagram_grid, diagram_window, draw_pairs, pair_key, worked};
use crate::drawing::{Anchor, Cap, Drawing, Face, Group, Path, Shape, Stroke, Text, rect};
use crate::layout::Layout;

/// What stands on the page besides the ground itself.
#[derive(Clone, Debug)]
pub struct SheetLook {
    /// Name of the ground.
    pub title: String,
    /// More about it, one line.
    pub subtitle: String,
    /// How threads are drawn: their colours, and the scale of the page in
    /// pixels to the millimetre.
    pub threads: ThreadLook,
    /// How pairs are drawn.
    pub pairs: PairLook,
    /// Where the threads go, in a sentence.
    pub travel: String,
    /// Facts: what, and how much.
    pub facts: Vec<(String, String)>,
    /// Paper, at least as large as [`LEAST_PAGE`].
    pub paper: Paper,
}

/// The smallest page that has room for everything.
pub const LEAST_PAGE: Paper = Paper { width: 200.0, height: 270.0 };

const MARGIN: f64 = 12.0;
const GAP: f64 = 8.0;
const QUIET: Rgb = rgb(96, 86, 74);
const BODY: f64 = 3.1;
const LEADING: f64 = 4.3;

/// A column of words that is filled from the top.
struct Column<'a> {
    group: &'a mut Group,
    at: Point,
    width: f64,
    bottom: f64,
}

impl Column<'_> {
    fn put(&mut self, words: &str, x: f64, size: f64, face: Face, colour: Rgb, anchor: Anchor) {
        let at = point(self.at.x + x, self.at.y);
        let text = Text { at, size, words: words.to_owned(), anchor, face, paint: colour.into() };
        self.group.shapes.push(Shape::Text(text));
    }

    fn heading(&mut self, words: &str) {
        self.at.y += 5.0;
        self.put(words, 0.0, 3.8, Face::Semibold, Rgb::INK, Anchor::Start);
        self.at.y += 1.2;
    }

    fn paragraph(&mut self, words: &str) {
        for words in font::wrapped(words, BODY, Face::Regular, self.width) {
            if self.room(1) {
                self.at.y += LEADING;
                self.put(&words, 0.0, BODY, Face::Regular, Rgb::INK, Anchor::Start);
            }
        }
        self.at.y += 1.0;
    }

    fn room(&self, lines: usize) -> bool {
        self.at.y + LEADING * lines as f64 <= self.bottom
    }

    fn fact(&mut self, what: &str, value: &str) {
        let wide = font::width(value, BODY, Face::Semibold);
        let lines = font::wrapped(what, BODY, Face::Regular, self.width - wide - 3.0);
        if !self.room(lines.len()) {
            return;
        }
        for (k, words) in lines.iter().enumerate() {
            self.at.y += LEADING;
            self.put(words, 0.0, BODY, Face::Regular, QUIET, Anchor::Start);
            if k == 0 {
                let value = font::shortened(value, BODY, Face::Semibold, self.width);
                self.put(&value, self.width, BODY, Face::Semibold, Rgb::INK, Anchor::End);
            }
        }
    }

    /// Numbered steps; says how many there is no room for.
    fn steps(&mut self, steps: &[String]) {
        const STEP: f64 = 2.75;
        const LINE: f64 = 3.9;
        let indent = 6.5;
        for (k, step) in steps.iter().enumerate() {
            let lines = font::wrapped(step, STEP, Face::Regular, self.width - indent);
            let rest = steps.len() - k;
            let last = if rest > 1 { 1 } else { 0 };
            if self.at.y + LINE * (lines.len() + last) as f64 > self.bottom {
                self.at.y += LINE;
                let words = if rest == 1 {
                    "… and one more step".into()
                } else {
                    format!("… and {rest} more steps")
                };
                self.put(&words, indent, STEP, Face::Regular, QUIET, Anchor::Start);
                return;
            }
            for (n, words) in lines.iter().enumerate() {
                self.at.y += LINE;
                if n == 0 {
                    let number = format!("{}", k + 1);
                    self.put(&number, indent - 1.6, STEP, Face::Semibold, QUIET, Anchor::End);
                }
                self.put(words, indent, STEP, Face::Regular, Rgb::INK, Anchor::Start);
            }
        }
    }
}

/// Draws the page.
pub fn ground_sheet(ground: &Ground, layout: &Layout, look: &SheetLook) -> Drawing {
    let Paper { width, height } = look.paper;
    let mut page = Drawing::new(width, height, look.title.clone());
    page.background = Some(Rgb::WHITE);
    let column = (width - 2.0 * MARGIN - GAP) / 2.0;
    let (left, right) = (MARGIN, MARGIN + column + GAP);
    let top = MARGIN + 20.0;
    let mut words = Group::new("words");
    let mut head = Column {
        group: &mut words,
        at: point(MARGIN, MARGIN + 6.0),
        width: width - 2.0 * MARGIN,
        bottom: top,
    };
    let title = font::shortened(&look.title, 7.5, Face::Semibold, head.width);
    head.put(&title, 0.0, 7.5, Face::Semibold, Rgb::INK, Anchor::Start);
    head.at.y += 6.5;
    let subtitle = font::shortened(&look.subtitle, 3.6, Face::Regular, head.width);
    head.put(&subtitle, 0.0, 3.6, Face::Regular, QUIET, Anchor::Start);

    // Rows: worked and facts; diagram and steps; pricking.
    let pricking_height = 62.0;
    let row = (height - top - MARGIN - pricking_height - 3.0 * GAP) / 2.0;
    let second = top + row + GAP;
    let third = second + row + GAP;

    let view = rect(0.0, 0.0, column, row);
    let (across, enlarged) = enlargement(ground, layout, view.width);
    let close = ThreadLook { px_per_mm: look.threads.px_per_mm * enlarged, ..look.threads.clone() };
    let window = rect(0.0, 0.0, across, view.height / enlarged);
    let threads = draw_threads(ground, layout, window, &close).scaled(enlarged);
    page.place(&threads, point(left, top), "worked-");

    let swatch = (row * 0.4).min(36.0);
    let true_size = draw_threads(ground, layout, rect(0.0, 0.0, column, swatch), &look.threads);
    page.place(&true_size, point(right, top), "true-size-");

    let grid = diagram_grid(ground, &layout.grid, column);
    let (repeats, rows) = look.pairs.numbers.unwrap_or_else(|| worked(ground));
    let pairs = PairLook { background: None, numbers: Some((repeats, rows)), ..look.pairs.clone() };
    let window = diagram_window(ground, &grid, (column, row), &pairs);
    page.place(&draw_pairs(ground, &grid, window, &pairs), point(left, second), "pairs-");
    let key = pair_key(ground, column);
    page.place(&key, point(right, second), "pairs-");

    let mut facts =
        Column { group: &mut words, at: point(right, top + swatch), width: column, bottom: top + row };
    let times = if enlarged == 1.0 { "at its size".to_owned() } else { format!("{enlarged} times its size") };
    facts.at.y += 4.0;
    let caption = format!("Worked: left {times}, above at its size");
    facts.put(&caption, 0.0, 2.8, Face::Regular, QUIET, Anchor::Start);
    facts.paragraph(&look.travel);
    for (what, value) in &look.facts {
        facts.fact(what, value);
    }
    let mut steps = Column {
        group: &mut words,
        at: point(right, second + key.height),
        width: column,
        bottom: second + row,
    };
    steps.heading("Order of working");
    steps.steps(&ground.steps_in_words(repeats, rows));

    let mut base = Column { group: &mut words, at: point(left, third - 1.0), width: column, bottom: height };
    base.put("Pricking at its size", 0.0, 3.8, Face::Semibold, Rgb::INK, Anchor::Start);
    page.groups.push(words);
    let room = rect(0.0, 0.0, width - 2.0 * MARGIN - 12.0, pricking_height - 10.0);
    page.groups.push(dots(ground, &layout.grid, room, room, point(MARGIN + 12.0, third + 3.0)));
    page.groups.push(control_scale(point(MARGIN + 2.0, height - MARGIN + 2.0), width - MARGIN));
    page.groups.push(cautions(point(width - MARGIN, height - MARGIN - 4.0)));
    page.groups.push(frames(&[
        rect(left, top, column, row),
        rect(right, top, column, swatch),
        rect(left, second, column, row),
    ]));
    page
}

/// How many mm of lace are shown across, and how many times enlarged, for the
/// close view: about two and a half repeats, enlarged by a whole number; of a
/// large repeat a little more than one, rather than not enlarged.
pub(crate) fn enlargement(ground: &Ground, layout: &Layout, width: f64) -> (f64, f64) {
    let repeat = ground.upright().width() * layout.grid.step_x_mm();
    let several = width / (2.5 * repeat).max(6.0 * layout.grid.step_x_mm());
    let one = (width / (1.2 * repeat)).min(2.0);
    let times = several.max(one).floor().clamp(1.0, 5.0);
    (width / times, times)
}

fn frames(rects: &[crate::drawing::Rect]) -> Group {
    let mut group = Group::new("frames");
    let mut path = Path::new();
    for &r in rects {
        path.add(&Path::rect(r), point(0.0, 0.0));
    }
    group.shapes.push(Shape::stroke(path, Stroke { cap: Cap::Butt, ..Stroke::new(QUIET, 0.2) }));
    group
}
