//! The pair drawing, or working diagram: a line for every pair, a mark for
//! every stitch, a dot for every pin, a bar for every twist on a leg.
//!
//! Bars for twists and dots for pins are common practice. The marks are our
//! own: each work of the ground has a letter and a colour of the palette of
//! M. Okabe and K. Ito, "Color Universal Design" (2008), which stay apart for
//! the colour-blind; a key explains them.

use indexmap::IndexSet;
use lace::{Grid, Ground, PairEffect, Point, Side, Work, balanced_places, point};

use crate::colour::{Rgb, Tone, rgb};
use crate::curve::{turned, unit};
use crate::drawing::{Anchor, Cap, Drawing, Face, Group, Paint, Path, Rect, Shape, Step, Stroke, Text, rect};
use crate::font;
use crate::setting_out::cells;

/// The palette of Okabe and Ito without black, which the lines have.
const PALETTE: [Rgb; 7] = [
    rgb(0xe6, 0x9f, 0x00),
    rgb(0x56, 0xb4, 0xe9),
    rgb(0x00, 0x9e, 0x73),
    rgb(0xcc, 0x79, 0xa7),
    rgb(0xf0, 0xe4, 0x42),
    rgb(0x00, 0x72, 0xb2),
    rgb(0xd5, 0x5e, 0x00),
];

/// What a working diagram shows.
#[derive(Clone, Debug, PartialEq)]
pub struct PairLook {
    /// Colours in which threads hang, two to a pair, as in the thread drawing;
    /// without any, pairs are drawn in ink.
    pub colours: Vec<Rgb>,
    /// Stitches in balanced places (every hole convex) instead of those of the
    /// definition.
    pub balanced: bool,
    /// Numbers for an order of working of so many repeats across and rows down.
    pub numbers: Option<(usize, usize)>,
    /// An arrow where a pair turns back.
    pub arrows: bool,
    /// Colour of the paper; `None` is transparent.
    pub background: Option<Rgb>,
}

impl Default for PairLook {
    fn default() -> PairLook {
        PairLook {
            colours: Vec::new(),
            balanced: false,
            numbers: None,
            arrows: true,
            background: Some(Rgb::WHITE),
        }
    }
}

/// The different works of a ground in the order of its stitches.
fn works(ground: &Ground) -> IndexSet<&Work> {
    ground.stitches().iter().map(|s| &s.work).collect()
}

/// The letter of the work with this number: a to z, then aa, ab …
fn work_letter(mut number: usize) -> String {
    let mut letters = String::new();
    loop {
        letters.insert(0, char::from(b'a' + (number % 26) as u8));
        number /= 26;
        if number == 0 {
            return letters;
        }
        number -= 1;
    }
}

/// Measures of the marks, mm.
struct Sizes {
    /// A grid step, the smaller way.
    unit: f64,
    /// From a stitch to where its pairs come in and go out.
    port: Point,
    /// Radius of a stitch's mark.
    mark: f64,
    line: f64,
}

impl Sizes {
    fn new(grid: &Grid, spread: f64) -> Sizes {
        let (x, y) = (grid.step_x_mm() * spread, grid.step_y_mm() * spread);
        let unit = x.min(y);
        Sizes { unit, port: point(0.26 * x, 0.26 * y), mark: 0.16 * unit, line: 0.065 * unit }
    }

    fn port(&self, side: Side, out: bool) -> Point {
        let sign = |positive: bool| if positive { 1.0 } else { -1.0 };
        point(self.port.x * sign(side == Side::Right), self.port.y * sign(out))
    }
}

/// A pair on its way: along a leg, or through a stitch.
struct Run {
    path: Path,
    /// The threads of the pair, by the stitch and the entries (0 to 3) through
    /// which they came into it.
    stitch: usize,
    entries: Option<[usize; 2]>,
}

/// Draws a window of the endless ground as a working diagram, in mm from the
/// origin of the definition.
pub fn draw_pairs(ground: &Ground, grid: &Grid, window: Rect, look: &PairLook) -> Drawing {
    let mut drawing = Drawing::new(window.width, window.height, "Working diagram");
    drawing.background = look.background;
    drawing.colours = look.colours.clone();
    let places: Vec<Point> =
        if look.balanced { balanced_places(ground.repeat()) } else { ground.places().to_vec() };
    let places: Vec<Point> = places.iter().map(|&p| grid.mm(p)).collect();
    let (across, down) = (grid.mm(ground.lattice().across), grid.mm(ground.lattice().down));
    let shift = |cell: [i64; 2]| across * cell[0] as f64 + down * cell[1] as f64;
    let corner = point(window.x, window.y);
    let sizes = Sizes::new(grid, spread(ground, grid, &places));
    let set_out = |bounds: Rect| cells(across, down, bounds.grown(sizes.unit), window);

    let mut lines = Lines::new(look, sizes.line);
    let (mut bars, mut arrows) = (Path::new(), Path::new());
    for leg in ground.legs() {
        let from = places[leg.from.stitch] + sizes.port(leg.from.side, true);
        let to = places[leg.to.stitch] + shift(leg.cell.map(i64::from)) + sizes.port(leg.to.side, false);
        let order = ground.stitches()[leg.from.stitch].work.end_order();
        let first = 2 * leg.from.side.index();
        let run = Run {
            path: Path::line([from, to]),
            stitch: leg.from.stitch,
            entries: Some([order[first], order[first + 1]]),
        };
        let along = unit(to - from);
        let middle = from + (to - from) * 0.5;
        let mut leg_bars = Path::new();
        for k in 0..leg.twists {
            let at = middle + along * ((f64::from(k) - f64::from(leg.twists - 1) / 2.0) * 0.13 * sizes.unit);
            let half = turned(along) * (0.15 * sizes.unit);
            leg_bars.add(&Path::line([at - half, at + half]), point(0.0, 0.0));
        }
        let turns = ground.stitches()[leg.from.stitch].work.pair_effect() == PairEffect::Return;
        let head = (look.arrows && turns).then(|| {
            let tip = from + along * (0.2 * sizes.unit);
            let (back, half) = (along * (0.19 * sizes.unit), turned(along) * (0.1 * sizes.unit));
            Path::polygon([tip, tip - back + half, tip - back - half])
        });
        for cell in set_out(Rect::around([from, to]).unwrap_or(rect(0.0, 0.0, 0.0, 0.0))) {
            let here = shift(cell) - corner;
            lines.add(ground, &run, cell, here);
            bars.add(&leg_bars, here);
            if let Some(head) = &head {
                arrows.add(head, here);
            }
        }
    }
    for (s, stitch) in ground.stitches().iter().enumerate() {
        let at = places[s];
        for run in through(s, &stitch.work, &sizes, at) {
            for cell in set_out(rect(at.x, at.y, 0.0, 0.0)) {
                lines.add(ground, &run, cell, shift(cell) - corner);
            }
        }
    }
    drawing.groups.push(lines.group());
    let mut group = Group::new("twists");
    if !bars.steps.is_empty() {
        let line = Stroke { cap: Cap::Butt, ..Stroke::new(Rgb::INK, 0.055 * sizes.unit) };
        group.shapes.push(Shape::stroke(bars, line));
    }
    drawing.groups.push(group);
    let mut group = Group::new("turns");
    if !arrows.steps.is_empty() {
        group.shapes.push(Shape::fill(arrows, Rgb::INK));
    }
    drawing.groups.push(group);

    let works = works(ground);
    let (mut marks, mut pins, mut letters) =
        (Group::new("stitches"), Group::new("pins"), Group::new("letters"));
    for (s, stitch) in ground.stitches().iter().enumerate() {
        let kind = works.get_index_of(&stitch.work).unwrap_or(0);
        for cell in set_out(rect(places[s].x, places[s].y, 0.0, 0.0)) {
            let at = places[s] + shift(cell) - corner;
            mark(&mut marks, kind, at, &sizes);
            pin(&mut pins, &stitch.work, at, &sizes);
            letters.shapes.push(label(
                work_letter(kind),
                at + point(1.4 * sizes.mark, 0.09 * sizes.unit),
                0.26 * sizes.unit,
                Anchor::Start,
                Face::Semibold,
            ));
        }
    }
    drawing.groups.extend([marks, pins, letters]);
    if let Some((repeats, rows)) = look.numbers {
        let mut numbers = Group::new("order-of-working");
        for (k, step) in ground.order_of_working(repeats, rows).iter().enumerate() {
            let at = places[step.stitch] + shift(ground.frame().to_cell(step.cell)) - corner;
            let inside = (0.0..=window.width).contains(&at.x) && (0.0..=window.height).contains(&at.y);
            if inside {
                let at = at - point(1.4 * sizes.mark, -0.09 * sizes.unit);
                numbers.shapes.push(label(
                    (k + 1).to_string(),
                    at,
                    0.24 * sizes.unit,
                    Anchor::End,
                    Face::Regular,
                ));
            }
        }
        drawing.groups.push(numbers);
    }
    drawing
}

/// How much smaller than on the dot grid marks must be so that the nearest two
/// stitches keep clear of each other: 1 or less.
fn spread(ground: &Ground, grid: &Grid, places: &[Point]) -> f64 {
    let (across, down) = (grid.mm(ground.lattice().across), grid.mm(ground.lattice().down));
    let mut nearest = f64::INFINITY;
    for leg in ground.legs() {
        let cell = leg.cell;
        let run = places[leg.to.stitch] + across * f64::from(cell[0]) + down * f64::from(cell[1])
            - places[leg.from.stitch];
        nearest = nearest.min((run.x / grid.step_x_mm()).abs().max((run.y / grid.step_y_mm()).abs()));
    }
    nearest.clamp(0.2, 1.0)
}

/// The pairs' ways through a stitch: crossing each other, turning back, or,
/// where the threads of a pair part, both.
fn through(s: usize, work: &Work, sizes: &Sizes, at: Point) -> Vec<Run> {
    let order = work.end_order();
    let mut runs = Vec::new();
    for from in Side::BOTH {
        for to in Side::BOTH {
            let entries = [order[2 * to.index()], order[2 * to.index() + 1]];
            let coming: Vec<usize> = entries.into_iter().filter(|e| e / 2 == from.index()).collect();
            if coming.is_empty() {
                continue;
            }
            let (start, end) = (sizes.port(from, false), sizes.port(to, true));
            let bend = |p: Point| point(p.x * 0.12, p.y * 0.5);
            let path = Path {
                steps: vec![Step::Move(at + start), Step::Curve(at + bend(start), at + bend(end), at + end)],
            };
            let pair = match coming[..] {
                [a, b] => [a, b],
                [a, ..] => [a, a],
                [] => continue,
            };
            runs.push(Run { path, stitch: s, entries: Some(pair) });
        }
    }
    runs
}

/// The lines of pairs, gathered so that each colour is drawn once.
struct Lines<'a> {
    look: &'a PairLook,
    width: f64,
    ink: Path,
    /// Left and right threads by class.
    threads: Vec<Path>,
}

impl Lines<'_> {
    fn new(look: &PairLook, width: f64) -> Lines<'_> {
        Lines { look, width, ink: Path::new(), threads: vec![Path::new(); look.colours.len()] }
    }

    fn add(&mut self, ground: &Ground, run: &Run, cell: [i64; 2], here: Point) {
        self.ink.add(&run.path, here);
        let classes = self.threads.len() as i64;
        let Some(entries) = run.entries.filter(|_| classes > 0) else {
            return;
        };
        // Threads lie beside each other; a lone thread lies in the middle.
        let apart = if entries[0] == entries[1] { 0.0 } else { 0.3 * self.width };
        for (entry, side) in entries.into_iter().zip([-1.0, 1.0]) {
            let slot = ground.hanging().origin(run.stitch, entry, ground.frame().from_cell(cell));
            let path = &mut self.threads[slot.rem_euclid(classes) as usize];
            path.add(&run.path, here + point(side * apart, 0.0));
        }
    }

    fn group(self) -> Group {
        let mut group = Group::new("pairs");
        let coloured = !self.look.colours.is_empty();
        let wide = if coloured { 1.7 * self.width } else { self.width };
        if !self.ink.steps.is_empty() {
            group.shapes.push(Shape::stroke(self.ink, Stroke::new(Rgb::INK, wide)));
        }
        for (class, path) in self.threads.into_iter().enumerate() {
            if !path.steps.is_empty() {
                let line = Stroke::new(Paint::thread(class, Tone::PLAIN), 0.6 * self.width);
                group.shapes.push(Shape::stroke(path, line));
            }
        }
        group
    }
}

fn mark(group: &mut Group, kind: usize, at: Point, sizes: &Sizes) {
    group.shapes.push(Shape::Path {
        path: Path::circle(at, sizes.mark),
        fill: Some(PALETTE[kind % PALETTE.len()].into()),
        stroke: Some(Stroke::new(Rgb::INK, 0.03 * sizes.unit)),
    });
}

/// The pin of a stitch, if it has one: inside the mark when the pin is closed,
/// above or below when all moves come after it or before it.
fn pin(group: &mut Group, work: &Work, at: Point, sizes: &Sizes) {
    let Some(after) = work.pin() else {
        return;
    };
    let up = match after {
        0 if !work.moves().is_empty() => -1.0,
        n if n == work.moves().len() && n > 0 => 1.0,
        _ => 0.0,
    };
    group.shapes.push(Shape::Path {
        path: Path::circle(at + point(0.0, up * 1.5 * sizes.mark), 0.07 * sizes.unit),
        fill: Some(Rgb::INK.into()),
        stroke: Some(Stroke::new(Rgb::WHITE, 0.025 * sizes.unit)),
    });
}

fn label(words: String, at: Point, size: f64, anchor: Anchor, face: Face) -> Shape {
    Shape::Text(Text { at, size, words, anchor, face, paint: Rgb::INK.into() })
}

/// The key to a working diagram: what each mark, letter, dot, bar and arrow
/// means, `width` mm wide and as high as it needs to be.
pub fn pair_key(ground: &Ground, width: f64) -> Drawing {
    const LINE: f64 = 6.0;
    const SIZE: f64 = 3.4;
    let grid = Grid::new(24.0, 45.0).expect("a grid that can be pricked");
    let sizes = Sizes::new(&grid, 1.0);
    let mut group = Group::new("key");
    let mut base = 0.0;
    let mut line = |sign: &mut dyn FnMut(&mut Group, Point), words: &str| {
        base += LINE;
        sign(&mut group, point(5.0, base - 0.35 * SIZE));
        let words = font::shortened(words, SIZE, Face::Regular, width - 12.0);
        group.shapes.push(label(words, point(12.0, base), SIZE, Anchor::Start, Face::Regular));
    };
    for (kind, work) in works(ground).into_iter().enumerate() {
        let words = format!("{}   ({work})", work.words());
        line(
            &mut |group, at| {
                mark(group, kind, at, &sizes);
                let at = at + point(1.2 * sizes.mark, 0.35 * SIZE);
                group.shapes.push(label(work_letter(kind), at, SIZE, Anchor::Start, Face::Semibold));
            },
            &words,
        );
    }
    if ground.stitches().iter().any(|s| s.work.pin().is_some()) {
        line(
            &mut |group, at| {
                group.shapes.push(Shape::fill(Path::circle(at, 0.07 * sizes.unit), Rgb::INK));
            },
            "a pin; inside its mark: closed by the second half of the stitch",
        );
    }
    if ground.legs().iter().any(|l| l.twists > 0) {
        line(
            &mut |group, at| {
                let half = point(3.0, 0.0);
                let bar = point(0.0, 0.15 * sizes.unit);
                group.shapes.push(Shape::stroke(
                    Path::line([at - half, at + half]),
                    Stroke::new(Rgb::INK, sizes.line),
                ));
                let bars = Stroke { cap: Cap::Butt, ..Stroke::new(Rgb::INK, 0.055 * sizes.unit) };
                group.shapes.push(Shape::stroke(Path::line([at - bar, at + bar]), bars));
            },
            "one more twist of the pair for every bar",
        );
    }
    if ground.stitches().iter().any(|s| s.work.pair_effect() == PairEffect::Return) {
        line(
            &mut |group, at| {
                let tip = at + point(0.0, 0.1 * sizes.unit);
                let (w, h) = (0.1 * sizes.unit, 0.19 * sizes.unit);
                group.shapes.push(Shape::fill(
                    Path::polygon([tip, tip + point(w, -h), tip + point(-w, -h)]),
                    Rgb::INK,
                ));
            },
            "the pairs turn back here; without an arrow they cross",
        );
    }
    let mut drawing = Drawing::new(width, base + 2.0, "Key to the working diagram");
    drawing.groups.push(group);
    drawing
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_of_works_go_on_after_z() {
        let names: Vec<String> = [0, 25, 26, 27, 701, 702].into_iter().map(work_letter).collect();
        assert_eq!(names, ["a", "z", "aa", "ab", "zz", "aaa"]);
    }
}
