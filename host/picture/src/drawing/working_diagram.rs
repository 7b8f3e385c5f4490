//! The pair drawing, or working diagram: a line for every pair, a mark for
//! every stitch, a dot for every pin, a bar for every twist on a leg.
//!
//! Bars for twists and dots for pins are common practice. The marks are our
//! own: each work of the ground has a letter and a colour of the palette of
//! M. Okabe and K. Ito, "Color Universal Design" (2008), which stay apart for
//! the colour-blind; a key explains them.

use indexmap::IndexSet;
use lace::{
    Cell, Grid, Ground, Lattice, PairEffect, Point, Side, Stitch, ThreadEntry, balanced_places, point,
};

use crate::colour::{Rgb, Tone, rgb};
use crate::drawing::curve::{turned, unit};
use crate::drawing::font;
use crate::drawing::setting_out::cells;
use crate::drawing::{Anchor, Cap, Drawing, Face, Group, Paint, Path, Rect, Shape, Step, Stroke, Text, rect};

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
pub(crate) fn works(ground: &Ground) -> IndexSet<&Stitch> {
    ground.stitches().iter().map(|s| &s.stitch).collect()
}

/// The letter of the work with this number: a to z, then aa, ab …
pub(crate) fn work_letter(mut number: usize) -> String {
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
    /// Radius of a stitch's mark.
    mark: f64,
    line: f64,
    /// As `unit`, but for letters, which must be read.
    letters: f64,
}

impl Sizes {
    fn new(grid: &Grid, spread: f64) -> Sizes {
        let unit = grid.step_x_mm().min(grid.step_y_mm()) * spread;
        Sizes { unit, mark: 0.16 * unit, line: 0.065 * unit, letters: unit.max(6.5) }
    }
}

/// The four ways from a stitch to its neighbours, each of length 1, clockwise
/// from the left pair coming in: left in, right in, right out, left out.
struct Ways([Point; 4]);

/// Least angle between two ways, so that their lines do not lie on each other.
const APART: f64 = 0.5;

impl Ways {
    /// The ways of each stitch, towards where its legs come from and go to.
    fn of(ground: &Ground, places: &[Point], shift: impl Fn(Cell) -> Point) -> Vec<Ways> {
        let mut all: Vec<Ways> = places.iter().map(|_| Ways([point(0.0, 0.0); 4])).collect();
        for leg in ground.legs() {
            let run = places[leg.to.stitch] + shift(leg.cell) - places[leg.from.stitch];
            all[leg.from.stitch].0[Ways::number(leg.from.side, true)] = unit(run);
            all[leg.to.stitch].0[Ways::number(leg.to.side, false)] = unit(run * -1.0);
        }
        for ways in &mut all {
            ways.spread();
        }
        all
    }

    fn number(side: Side, out: bool) -> usize {
        match (side, out) {
            (Side::Left, false) => 0,
            (Side::Right, false) => 1,
            (Side::Right, true) => 2,
            (Side::Left, true) => 3,
        }
    }

    fn to(&self, side: Side, out: bool) -> Point {
        self.0[Ways::number(side, out)]
    }

    /// Turns ways that almost coincide away from each other.
    fn spread(&mut self) {
        for k in 0..4 {
            let next = (k + 1) % 4;
            let (a, b) = (self.0[k], self.0[next]);
            let between = libm::atan2(a.x * b.y - a.y * b.x, a.x * b.x + a.y * b.y);
            if between.abs() < APART {
                let more = (APART - between) / 2.0;
                self.0[k] = rotated(a, -more);
                self.0[next] = rotated(b, more);
            }
        }
    }

    /// The middle of the gap after a way, clockwise, and its angle.
    fn gap(&self, after: usize) -> (Point, f64) {
        let (a, b) = (self.0[after], self.0[(after + 1) % 4]);
        let between = libm::atan2(a.x * b.y - a.y * b.x, a.x * b.x + a.y * b.y);
        let wide = if between > 0.0 { between } else { between + std::f64::consts::TAU };
        (rotated(a, wide / 2.0), wide)
    }

    /// Where words find room: in the gap asked for, or in the widest that is
    /// not `taken` when that is too narrow. The gap, and how far into it.
    fn room(&self, asked: usize, taken: Option<usize>) -> (usize, Point) {
        let wide = |gap: usize| self.gap(gap).1;
        let free = (0..4).filter(|&gap| Some(gap) != taken);
        let gap = if Some(asked) != taken && wide(asked) >= NARROW {
            asked
        } else {
            free.max_by(|&a, &b| wide(a).total_cmp(&wide(b))).unwrap_or(asked)
        };
        let (way, wide) = self.gap(gap);
        // Farther out in a narrow gap, where the lines lie farther apart.
        let half = libm::sin((wide / 2.0).min(std::f64::consts::FRAC_PI_2));
        (gap, way * (0.13 / half).clamp(0.31, 0.42))
    }
}

/// A narrower gap holds no word.
const NARROW: f64 = 0.9;

/// Gaps between ways, for [`Ways::gap`] and [`Ways::room`].
const ABOVE: usize = 0;
const RIGHT: usize = 1;
const BELOW: usize = 2;
const LEFT: usize = 3;

/// A direction turned clockwise by an angle in radians.
fn rotated(a: Point, angle: f64) -> Point {
    let (sin, cos) = (libm::sin(angle), libm::cos(angle));
    point(a.x * cos - a.y * sin, a.x * sin + a.y * cos)
}

/// A pair on its way: along a leg, or through a stitch.
struct Run {
    from: Point,
    to: Point,
    /// Directions in which it sets out and arrives, of length 1.
    ways: [Point; 2],
    /// How far the line keeps to these directions; 0 is a straight line.
    bend: f64,
    /// The threads of the pair, by the stitch and the entries (0 to 3) through
    /// which they came into it.
    stitch: usize,
    entries: [usize; 2],
}

impl Run {
    /// Its line, so far to the left of the way it goes.
    fn path(&self, left: f64) -> Path {
        let [from, to] =
            [(self.from, self.ways[0]), (self.to, self.ways[1])].map(|(p, way)| p + turned(way) * left);
        if self.bend == 0.0 {
            return Path::line([from, to]);
        }
        let (a, b) = (from + self.ways[0] * self.bend, to - self.ways[1] * self.bend);
        Path { steps: vec![Step::Move(from), Step::Curve(a, b, to)] }
    }
}

/// Draws a window of the endless ground as a working diagram, in mm from the
/// origin of the definition.
pub fn draw_pairs(ground: &Ground, grid: &Grid, window: Rect, look: &PairLook) -> Drawing {
    let mut drawing = Drawing::new(window.width, window.height, "Working diagram");
    drawing.background = look.background;
    drawing.colours = look.colours.clone();
    let places = places(ground, grid, look.balanced);
    let (across, down) = (grid.mm(ground.lattice().across), grid.mm(ground.lattice().down));
    let lattice = Lattice { across, down };
    let shift = |cell: Cell| lattice.place(cell);
    let corner = point(window.x, window.y);
    let sizes = Sizes::new(grid, spread(ground, grid, &places));
    let ways = Ways::of(ground, &places, shift);
    // From a stitch to where its pairs come in and go out.
    let port = |s: usize, side: Side, out: bool| ways[s].to(side, out) * (0.3 * sizes.unit);
    let set_out = |bounds: Rect| cells(across, down, bounds.grown(sizes.unit), window);

    let mut lines = Lines::new(look, sizes.line);
    let (mut bars, mut arrows) = (Path::new(), Path::new());
    for leg in ground.legs() {
        let from = places[leg.from.stitch] + port(leg.from.stitch, leg.from.side, true);
        let to = places[leg.to.stitch] + shift(leg.cell) + port(leg.to.stitch, leg.to.side, false);
        let order = ground.stitches()[leg.from.stitch].stitch.end_order();
        let first = 2 * leg.from.side.index();
        let along = unit(to - from);
        let entries = [order[first], order[first + 1]];
        let run = Run { from, to, ways: [along; 2], bend: 0.0, stitch: leg.from.stitch, entries };
        let middle = from + (to - from) * 0.5;
        let mut leg_bars = Path::new();
        for k in 0..leg.twists {
            let at = middle + along * ((f64::from(k) - f64::from(leg.twists - 1) / 2.0) * 0.13 * sizes.unit);
            let half = turned(along) * (0.15 * sizes.unit);
            leg_bars.add(&Path::line([at - half, at + half]), point(0.0, 0.0));
        }
        let turns = ground.stitches()[leg.from.stitch].stitch.pair_effect() == PairEffect::Return;
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
        for (from, to, entries) in through(&stitch.stitch) {
            let run = Run {
                from: at + port(s, from, false),
                to: at + port(s, to, true),
                ways: [ways[s].to(from, false) * -1.0, ways[s].to(to, true)],
                bend: 0.18 * sizes.unit,
                stitch: s,
                entries,
            };
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
    // The middle of a word beside a stitch: letters to the right where there
    // is room, numbers to the left.
    let beside = |(_, out): (usize, Point), words: &str, size: f64| {
        let wider = font::width(words, size, Face::Regular) - 0.5 * size;
        let far = sizes.mark + 0.15 * sizes.letters;
        out * (far / 0.31) + point(unit(out).x * wider / 2.0, 0.35 * size)
    };
    for (s, stitch) in ground.stitches().iter().enumerate() {
        let kind = works.get_index_of(&stitch.stitch).unwrap_or(0);
        let letter = work_letter(kind);
        let size = 0.26 * sizes.letters;
        let off = beside(ways[s].room(RIGHT, None), &letter, size);
        for cell in set_out(rect(places[s].x, places[s].y, 0.0, 0.0)) {
            let at = places[s] + shift(cell) - corner;
            mark(&mut marks, kind, at, &sizes);
            pin(&mut pins, &stitch.stitch, at, &ways[s], &sizes);
            letters.shapes.push(label(letter.clone(), at + off, size, Anchor::Middle, Face::Semibold));
        }
    }
    drawing.groups.extend([marks, pins, letters]);
    if let Some((repeats, rows)) = look.numbers {
        let mut numbers = Group::new("order-of-working");
        for (k, step) in ground.order_of_working(repeats, rows).iter().enumerate() {
            let at = places[step.stitch] + shift(ground.upright().to_definition(step.cell)) - corner;
            let inside = (0.0..=window.width).contains(&at.x) && (0.0..=window.height).contains(&at.y);
            if inside {
                let (number, size) = ((k + 1).to_string(), 0.24 * sizes.letters);
                let ways = &ways[step.stitch];
                let off = beside(ways.room(LEFT, Some(ways.room(RIGHT, None).0)), &number, size);
                numbers.shapes.push(label(number, at + off, size, Anchor::Middle, Face::Regular));
            }
        }
        drawing.groups.push(numbers);
    }
    drawing
}

/// Where stitches are drawn, mm: balanced, or where the definition has them.
fn places(ground: &Ground, grid: &Grid, balanced: bool) -> Vec<Point> {
    let steps = if balanced { balanced_places(ground.repeat()) } else { ground.places().to_vec() };
    steps.into_iter().map(|p| grid.mm(p)).collect()
}

/// How many repeats across and rows down are worked in numbered steps: as few
/// as show how the stitches follow each other.
pub fn worked(ground: &Ground) -> (usize, usize) {
    let enough = ground.stitches().len().max(8);
    let sides = (1..=8).flat_map(|repeats| (1..=8).map(move |rows| (repeats, rows)));
    let count = |(repeats, rows)| ground.order_of_working(repeats, rows).len();
    let fits = sides.filter(|&side| count(side) >= enough);
    fits.min_by_key(|&(repeats, rows)| (count((repeats, rows)), repeats.abs_diff(rows))).unwrap_or((8, 8))
}

/// The grid on which a working diagram of a width in mm is drawn: that of the
/// pricking, enlarged so that letters and numbers can be read, while a whole
/// repeat shows.
pub fn diagram_grid(ground: &Ground, grid: &Grid, width: f64) -> Grid {
    let nearest = spread(ground, grid, &places(ground, grid, false));
    // Rows 8 mm apart, or the nearest stitches so when they are nearer.
    let readable = (16.0 / nearest).min(32.0);
    let repeat = ground.upright().width() * grid.step_x_mm() / grid.pin_spacing_mm();
    let spacing = readable.min(0.95 * width / repeat).max(16.0);
    Grid::new(spacing, grid.angle_deg()).unwrap_or(*grid)
}

/// The window of a working diagram, `width` by `height` mm, that begins just
/// left of and above the stitches numbered, or those of the repeat.
pub(crate) fn diagram_window(
    ground: &Ground,
    grid: &Grid,
    (width, height): (f64, f64),
    look: &PairLook,
) -> Rect {
    let places = places(ground, grid, look.balanced);
    let shift = |cell| grid.mm(ground.lattice().place(ground.upright().to_definition(cell)));
    let numbered: Vec<Point> = match look.numbers {
        Some((repeats, rows)) => {
            let steps = ground.order_of_working(repeats, rows);
            steps.iter().map(|step| places[step.stitch] + shift(step.cell)).collect()
        }
        None => places,
    };
    let bounds = Rect::around(numbered).unwrap_or(rect(0.0, 0.0, 0.0, 0.0));
    let step = point(grid.step_x_mm(), grid.step_y_mm());
    // In the middle, unless that leaves too much on either side.
    let margin = ((width - bounds.width) / 2.0).clamp(0.75 * step.x, 1.25 * step.x);
    rect(bounds.x - margin, bounds.y - 0.75 * step.y, width, height)
}

/// A working diagram of a size in mm, and below it its key.
pub fn working_diagram(
    ground: &Ground,
    grid: &Grid,
    (width, height): (f64, f64),
    look: &PairLook,
) -> Drawing {
    let diagram = draw_pairs(ground, grid, diagram_window(ground, grid, (width, height), look), look);
    let key = pair_key(ground, width.max(KEY_WIDTH));
    let mut both = Drawing::new(width.max(KEY_WIDTH), height + key.height, diagram.title.clone());
    both.background = look.background;
    both.place(&Drawing { background: None, ..diagram }, point(0.0, 0.0), "");
    both.place(&key, point(0.0, height), "");
    both
}

/// Least width of a key whose words can be read, mm.
const KEY_WIDTH: f64 = 80.0;

/// How much smaller than on the dot grid marks must be so that the nearest two
/// stitches keep clear of each other: 1 or less.
fn spread(ground: &Ground, grid: &Grid, places: &[Point]) -> f64 {
    let lattice = Lattice { across: grid.mm(ground.lattice().across), down: grid.mm(ground.lattice().down) };
    let mut nearest = f64::INFINITY;
    for leg in ground.legs() {
        let run = places[leg.to.stitch] + lattice.place(leg.cell) - places[leg.from.stitch];
        nearest = nearest.min((run.x / grid.step_x_mm()).abs().max((run.y / grid.step_y_mm()).abs()));
    }
    nearest.clamp(0.2, 1.0)
}

/// The pairs' ways through a stitch, from side to side with the entries of the
/// threads: crossing each other, turning back, or, where the threads of a pair
/// part, both.
fn through(work: &Stitch) -> Vec<(Side, Side, [usize; 2])> {
    let order = work.end_order();
    let mut runs = Vec::new();
    for from in Side::BOTH {
        for to in Side::BOTH {
            let ends = [order[2 * to.index()], order[2 * to.index() + 1]];
            match ends.map(|e| e / 2 == from.index()) {
                [true, true] => runs.push((from, to, ends)),
                [true, false] => runs.push((from, to, [ends[0]; 2])),
                [false, true] => runs.push((from, to, [ends[1]; 2])),
                [false, false] => {}
            }
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

    fn add(&mut self, ground: &Ground, run: &Run, cell: Cell, here: Point) {
        self.ink.add(&run.path(0.0), here);
        let classes = self.threads.len() as i64;
        if classes == 0 {
            return;
        }
        // Threads lie beside each other; a lone thread lies in the middle.
        let apart = if run.entries[0] == run.entries[1] { 0.0 } else { 0.3 * self.width };
        for (entry, left) in run.entries.into_iter().zip([apart, -apart]) {
            let entry = ThreadEntry::new(run.stitch, entry);
            let slot = ground.hanging().origin(entry, ground.upright().to_upright(cell));
            self.threads[slot.rem_euclid(classes) as usize].add(&run.path(left), here);
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
fn pin(group: &mut Group, work: &Stitch, at: Point, ways: &Ways, sizes: &Sizes) {
    let Some(after) = work.pin() else {
        return;
    };
    let off = match after {
        0 if !work.moves().is_empty() => ways.gap(ABOVE).0,
        n if n == work.moves().len() && n > 0 => ways.gap(BELOW).0,
        _ => point(0.0, 0.0),
    };
    group.shapes.push(Shape::Path {
        path: Path::circle(at + off * (1.6 * sizes.mark), 0.07 * sizes.unit),
        fill: Some(Rgb::INK.into()),
        stroke: Some(Stroke::new(Rgb::WHITE, 0.025 * sizes.unit)),
    });
}

fn label(words: String, at: Point, size: f64, anchor: Anchor, face: Face) -> Shape {
    Shape::Text(Text { at, size, words, anchor, face, paint: Rgb::INK.into() })
}

/// Lines of a key, each a sign and what it means.
struct Key {
    group: Group,
    width: f64,
    base: f64,
    sizes: Sizes,
}

impl Key {
    const LINE: f64 = 5.4;
    const SIZE: f64 = 3.2;

    fn new(width: f64) -> Key {
        let grid = Grid::new(20.0, 45.0).expect("a grid that can be pricked");
        Key { group: Group::new("key"), width, base: 0.0, sizes: Sizes::new(&grid, 1.0) }
    }

    /// A line; `sign` draws what it is about round a place.
    fn line(&mut self, sign: impl FnOnce(&mut Group, Point, &Sizes), words: &str) {
        self.base += Key::LINE;
        sign(&mut self.group, point(3.0, self.base - 0.35 * Key::SIZE), &self.sizes);
        let lines = font::wrapped(words, Key::SIZE, Face::Regular, self.width - 11.0);
        for (k, words) in lines.into_iter().enumerate() {
            self.base += if k > 0 { 1.25 * Key::SIZE } else { 0.0 };
            let at = point(11.0, self.base);
            self.group.shapes.push(label(words, at, Key::SIZE, Anchor::Start, Face::Regular));
        }
    }

    fn work(&mut self, kind: usize, words: &str) {
        let sign = |group: &mut Group, at: Point, sizes: &Sizes| {
            mark(group, kind, at, sizes);
            let at = at + point(1.6 * sizes.mark, 0.35 * Key::SIZE);
            group.shapes.push(label(work_letter(kind), at, Key::SIZE, Anchor::Start, Face::Semibold));
        };
        self.line(sign, words);
    }

    fn pin(&mut self, words: &str) {
        let sign = |group: &mut Group, at: Point, sizes: &Sizes| {
            group.shapes.push(Shape::fill(Path::circle(at, 0.07 * sizes.unit), Rgb::INK));
        };
        self.line(sign, words);
    }

    fn twists(&mut self) {
        let sign = |group: &mut Group, at: Point, sizes: &Sizes| {
            let half = point(3.0, 0.0);
            let bar = point(0.0, 0.15 * sizes.unit);
            let line = Path::line([at - half, at + half]);
            group.shapes.push(Shape::stroke(line, Stroke::new(Rgb::INK, sizes.line)));
            let bars = Stroke { cap: Cap::Butt, ..Stroke::new(Rgb::INK, 0.055 * sizes.unit) };
            group.shapes.push(Shape::stroke(Path::line([at - bar, at + bar]), bars));
        };
        self.line(sign, "one more twist of the pair for every bar");
    }

    fn turns(&mut self) {
        let sign = |group: &mut Group, at: Point, sizes: &Sizes| {
            let tip = at + point(0.0, 0.1 * sizes.unit);
            let (w, h) = (0.1 * sizes.unit, 0.19 * sizes.unit);
            let head = Path::polygon([tip, tip + point(w, -h), tip + point(-w, -h)]);
            group.shapes.push(Shape::fill(head, Rgb::INK));
        };
        self.line(sign, "the pairs turn back here; without an arrow they cross");
    }

    fn drawing(self, title: &str) -> Drawing {
        let mut drawing = Drawing::new(self.width, self.base + 2.0, title);
        drawing.groups.push(self.group);
        drawing
    }
}

/// The key to a working diagram: what each mark, letter, dot, bar and arrow
/// means, `width` mm wide and as high as it needs to be.
pub fn pair_key(ground: &Ground, width: f64) -> Drawing {
    key_of(ground, width, |work| format!("{}   ({work})", work.words()))
}

/// The same with the names of stitches alone, without their moves.
pub(crate) fn pair_key_of_names(ground: &Ground, width: f64) -> Drawing {
    key_of(ground, width, Stitch::words)
}

fn key_of(ground: &Ground, width: f64, said: impl Fn(&Stitch) -> String) -> Drawing {
    let mut key = Key::new(width);
    for (kind, work) in works(ground).into_iter().enumerate() {
        key.work(kind, &said(work));
    }
    if ground.stitches().iter().any(|s| s.stitch.pin().is_some()) {
        key.pin("a pin: inside the mark when the stitch closes it");
    }
    if ground.legs().iter().any(|l| l.twists > 0) {
        key.twists();
    }
    if ground.stitches().iter().any(|s| s.stitch.pair_effect() == PairEffect::Return) {
        key.turns();
    }
    key.drawing("Key to the working diagram")
}

/// How to read the working diagrams of several grounds: every sign there is,
/// `width` mm wide, in two colours that hang.
pub(crate) fn pair_crib(width: f64, colours: [Rgb; 2]) -> Drawing {
    let mut key = Key::new(width);
    key.line(
        |group, at, sizes| {
            let half = point(3.0, 0.0);
            let under = Stroke::new(Rgb::INK, 1.7 * sizes.line);
            group.shapes.push(Shape::stroke(Path::line([at - half, at + half]), under));
            for (colour, side) in colours.into_iter().zip([-1.0, 1.0]) {
                let off = point(0.0, side * 0.3 * sizes.line);
                let line = Stroke::new(colour, 0.6 * sizes.line);
                group.shapes.push(Shape::stroke(Path::line([at - half + off, at + half + off]), line));
            }
        },
        "a pair, in the colours of its two threads",
    );
    key.work(
        0,
        "a stitch with the letter of its kind: a colour and a letter for every kind on a page; the key beside the diagram says which",
    );
    key.pin("a pin: inside the mark when the stitch closes it, above it when it is set first, below it when it is set last");
    key.twists();
    key.turns();
    let number = |group: &mut Group, at: Point, _: &Sizes| {
        let at = at + point(0.0, 0.35 * Key::SIZE);
        group.shapes.push(label("12".to_owned(), at, Key::SIZE, Anchor::Middle, Face::Regular));
    };
    key.line(number, "beside a mark: its place in the order of working, and the number of its step in words");
    key.drawing("How to read the working diagrams")
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
