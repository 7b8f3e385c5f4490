//! The working diagram: a line for every pair, a mark for every stitch, a dot
//! for every pin, a bar for every twist on a leg.
//!
//! Bars for twists and dots for pins are common practice. A key explains the
//! marks, which are our own.

mod directions;
mod key;
mod labels;
mod marks;
mod pair_lines;

use lace::{
    Cell, End, Grid, Ground, Lacework, Lattice, Leg, PairEffect, Piece, Point, Side, Step, UprightCell,
    balanced_places, point,
};

use crate::colour::Rgb;
use crate::drawing::curve::{turned, unit};
use crate::drawing::font;
use crate::drawing::hung::Hung;
use crate::drawing::setting_out::cells;
use crate::drawing::{Anchor, Background, Cap, Drawing, Face, Group, Path, Rect, Shape, Size, Stroke, rect};
use crate::layout::lattice_mm;

use directions::{Directions, LEFT, RIGHT, Room};
use labels::Labels;
use marks::{Sizes, label, mark, pin, pin_at};
use pair_lines::{PairLine, PairLines, passages};

pub use key::diagram_key;
pub(crate) use key::{diagram_guide, diagram_key_of_names};
pub(crate) use marks::kind_letter;

/// The settings of a working diagram.
#[derive(Clone, Debug, PartialEq)]
pub struct DiagramLook {
    /// The colours of the hanging threads, two to a pair, as in the thread drawing.
    /// Without colours, pairs are drawn in ink.
    pub colours: Vec<Rgb>,
    /// Whether stitches are in balanced places (every hole convex) instead of those
    /// of the definition.
    pub balanced: bool,
    /// Whether the stitches of the order of working are numbered.
    pub numbers: bool,
    /// Whether an arrow shows where a pair turns back.
    pub arrows: bool,
    /// The background.
    pub background: Background,
}

impl Default for DiagramLook {
    fn default() -> DiagramLook {
        DiagramLook {
            colours: Vec::new(),
            balanced: false,
            numbers: false,
            arrows: true,
            background: Rgb::WHITE.into(),
        }
    }
}

/// The working diagram of a ground on a grid, shared by all its windows.
#[derive(Debug)]
pub struct WorkingDiagram<'a> {
    ground: &'a Lacework,
    hung: Hung<'a>,
    grid: Grid,
    look: DiagramLook,
    /// Where stitches are drawn, mm.
    places: Vec<Point>,
    /// The numbered steps.
    steps: Vec<Step>,
    /// Their numbers: those of the steps in words. A windmill, which is one of these,
    /// has one number for all its stitches.
    numbers: Vec<usize>,
}

impl<'a> WorkingDiagram<'a> {
    /// The diagram of a ground on a grid.
    pub fn new(ground: &'a Ground, grid: &Grid, look: DiagramLook) -> WorkingDiagram<'a> {
        let places = places(ground, grid, look.balanced);
        let order = look.numbers.then(|| ground.order_of_working());
        let numbers = order.as_ref().map_or_else(Vec::new, |order| ground.step_numbers(order));
        let steps = order.map_or_else(Vec::new, |order| order.steps);
        WorkingDiagram { ground, hung: Hung::Ground(ground), grid: *grid, look, places, steps, numbers }
    }

    /// The diagram of a piece, given its lacework, on a grid. Its numbers are those of
    /// the order of working; its colours those of [`Piece::threads`].
    pub fn of_piece(
        piece: &Piece,
        lacework: &'a Lacework,
        grid: &Grid,
        look: DiagramLook,
    ) -> WorkingDiagram<'a> {
        let step =
            |stitch| Step { stitch, cell: UprightCell::ORIGIN, left_pair: 0, twists: [0; 2], turns_to: None };
        let stitches = if look.numbers { lacework.stitches().len() } else { 0 };
        WorkingDiagram {
            ground: lacework,
            hung: Hung::of_piece(piece),
            grid: *grid,
            places: places(lacework, grid, false),
            look,
            steps: (0..stitches).map(step).collect(),
            numbers: (1..=stitches).collect(),
        }
    }

    /// Draws a window of the endless ground, in mm from the origin of the
    /// definition.
    pub fn draw(&self, window: Rect) -> Drawing {
        let mut drawing = Drawing::new(window.width, window.height, "Working diagram");
        drawing.background = self.look.background;
        drawing.colours = self.look.colours.clone();
        let painter = Painter::new(self, window);
        drawing.groups.extend(painter.lines());
        drawing.groups.extend(painter.marks());
        let mut labels = painter.labels();
        // Numbers come first: without them the order of working cannot be read.
        let numbers = painter.numbers(&mut labels);
        drawing.groups.push(painter.letters(&mut labels));
        if self.look.numbers {
            drawing.groups.push(numbers);
        }
        drawing
    }

    /// A window of a given size that begins just left of and above the numbered
    /// stitches, or those of the repeat.
    pub fn window(&self, size: Size) -> Rect {
        let Size { width, height } = size;
        let shown: Vec<Point> = if self.look.numbers {
            self.steps.iter().map(|step| self.place(step)).collect()
        } else {
            self.places.clone()
        };
        let bounds = Rect::around(shown).unwrap_or(rect(0.0, 0.0, 0.0, 0.0));
        let step = self.step();
        // Centred, unless that leaves too much space on either side.
        let margin = ((width - bounds.width) / 2.0).clamp(EDGE * step.x, 1.25 * step.x);
        rect(bounds.x - margin, bounds.y - EDGE * step.y, width, height)
    }

    /// Side of a square that shows all numbered stitches, mm.
    pub fn side(&self) -> f64 {
        let bounds = Rect::around(self.steps.iter().map(|step| self.place(step)));
        let bounds = bounds.unwrap_or(rect(0.0, 0.0, 0.0, 0.0));
        let step = self.step();
        (bounds.width + 2.0 * EDGE * step.x).max(bounds.height + 2.0 * EDGE * step.y)
    }

    /// One grid step across and down, mm.
    fn step(&self) -> Point {
        point(self.grid.step_x_mm(), self.grid.step_y_mm())
    }

    /// A window of a given size with the key below it.
    pub fn draw_with_key(&self, size: Size) -> Drawing {
        let diagram = self.draw(self.window(size));
        let key = diagram_key(self.ground, size.width.max(KEY_WIDTH));
        let mut both = Drawing::new(key.width, size.height + key.height, diagram.title.clone());
        both.background = self.look.background;
        both.place(&Drawing { background: Background::Transparent, ..diagram }, point(0.0, 0.0), "");
        both.place(&key, point(0.0, size.height), "");
        both
    }

    /// Where the stitch of a numbered step is drawn, mm.
    fn place(&self, step: &Step) -> Point {
        place(self.ground, &self.grid, &self.places, step)
    }
}

/// Least width of a legible key, mm.
const KEY_WIDTH: f64 = 80.0;

/// Where stitches are drawn, mm: in balanced places or in those of the definition.
fn places(ground: &Lacework, grid: &Grid, balanced: bool) -> Vec<Point> {
    let steps = if balanced { balanced_places(ground.repeat()) } else { ground.places().to_vec() };
    steps.into_iter().map(|p| grid.mm(p)).collect()
}

/// How a working diagram fits into some room.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DiagramFit {
    /// The grid: that of the pricking, enlarged.
    pub grid: Grid,
    /// Whether the whole order of working fits, with numbers and letters apart.
    pub numbered: bool,
    /// Height that is needed for it, mm.
    pub height: f64,
}

impl DiagramFit {
    /// Fits the order of working of a ground into a room: as large as letters and
    /// numbers need, but no larger than the room. If that is too small for numbers,
    /// whole repeats across fit.
    pub fn new(ground: &Ground, grid: &Grid, balanced: bool, room: Size) -> DiagramFit {
        let whole = DiagramFit::whole(ground, grid, balanced, room);
        if whole.numbered {
            return whole;
        }
        let repeat = ground.upright().width() * grid.step_x_mm() / grid.pin_spacing_mm();
        let readable = 16.0 / spread(ground, grid, &places(ground, grid, balanced));
        let spacing = readable.min(0.95 * room.width / repeat).clamp(16.0, LARGEST);
        DiagramFit { grid: Grid::new(spacing, grid.angle_deg()).unwrap_or(*grid), ..whole }
    }

    /// The same, but the whole order of working fits however small it is.
    pub fn whole(ground: &Ground, grid: &Grid, balanced: bool, room: Size) -> DiagramFit {
        // Of a pin spacing of 1 mm.
        let step = point(grid.step_x_mm(), grid.step_y_mm()) * (1.0 / grid.pin_spacing_mm());
        let places = places(ground, grid, balanced);
        let nearest = spread(ground, grid, &places);
        let steps = ground.order_of_working().steps;
        let bounds = Rect::around(steps.iter().map(|step| place(ground, grid, &places, step)));
        let bounds = bounds.unwrap_or(rect(0.0, 0.0, 0.0, 0.0));
        let needs = point(bounds.width, bounds.height) * (1.0 / grid.pin_spacing_mm()) + step * (2.0 * EDGE);
        // Rows 8 mm apart, or the nearest two stitches if they are closer.
        let readable = (16.0 / nearest).min(LARGEST);
        let spacing = readable.min(room.width / needs.x).min(room.height / needs.y);
        DiagramFit {
            grid: Grid::new(spacing, grid.angle_deg()).unwrap_or(*grid),
            numbered: spacing * step.x.min(step.y) * nearest >= LEGIBLE,
            height: spacing * needs.y,
        }
    }
}

/// How many times as large as the lace a working diagram must be for its numbers to
/// be legible.
pub fn legible_at(ground: &Lacework, grid: &Grid) -> f64 {
    let nearest = spread(ground, grid, &places(ground, grid, false));
    LEGIBLE / (grid.step_x_mm().min(grid.step_y_mm()) * nearest)
}

/// Greatest pin spacing of a working diagram, mm.
const LARGEST: f64 = 64.0;
/// Least distance of the nearest two stitches between which numbers and letters do
/// not meet, mm.
const LEGIBLE: f64 = 5.5;
/// The same for numbers alone, mm: nearer stitches that have numbers have no letters,
/// and the steps say what they are.
const NUMBERS_ALONE: f64 = 3.5;
/// How far a pair is drawn from where it is hung, and to where it ends, in units.
const OPEN: f64 = 0.5;
/// Room round the numbered stitches, grid steps.
const EDGE: f64 = 0.75;

/// Where the stitch of a step is drawn, mm, if those of the repeat are at `places`.
fn place(ground: &Lacework, grid: &Grid, places: &[Point], step: &Step) -> Point {
    let cell = ground.upright().to_definition(step.cell);
    places[step.stitch] + grid.mm(ground.lattice().place(cell))
}

/// The factor, 1 or less, by which marks are made smaller than on the dot grid so
/// that the two nearest stitches do not touch.
fn spread(ground: &Lacework, grid: &Grid, places: &[Point]) -> f64 {
    let lattice = lattice_mm(ground, grid);
    let mut nearest = f64::INFINITY;
    for (_, leg) in ground.legs().iter().enumerate().filter(|&(l, _)| !ground.is_open(l)) {
        let run = places[leg.to.stitch] + lattice.place(leg.cell) - places[leg.from.stitch];
        nearest = nearest.min((run.x / grid.step_x_mm()).abs().max((run.y / grid.step_y_mm()).abs()));
    }
    nearest.clamp(0.2, 1.0)
}

/// A window of a diagram being drawn.
struct Painter<'a> {
    diagram: &'a WorkingDiagram<'a>,
    window: Rect,
    /// The steps from one cell to the next, mm.
    lattice: Lattice,
    sizes: Sizes,
    /// The directions of each stitch.
    directions: Vec<Directions>,
}

impl<'a> Painter<'a> {
    fn new(diagram: &'a WorkingDiagram<'a>, window: Rect) -> Painter<'a> {
        let WorkingDiagram { ground, grid, places, .. } = diagram;
        let lattice = lattice_mm(ground, grid);
        let sizes = Sizes::new(grid, spread(ground, grid, places));
        let directions = Directions::of(ground, places, |cell| lattice.place(cell));
        Painter { diagram, window, lattice, sizes, directions }
    }

    fn corner(&self) -> Point {
        point(self.window.x, self.window.y)
    }

    /// Distance from a stitch at which its pairs come in and go out.
    fn port(&self, stitch: usize, side: Side, out: bool) -> Point {
        self.directions[stitch].to(side, out) * (0.3 * self.sizes.unit)
    }

    /// The cells whose copy of `bounds` is visible.
    fn set_out(&self, bounds: Rect) -> Vec<Cell> {
        cells(&self.lattice, bounds.grown(self.sizes.unit), self.window)
    }

    /// The cells in which a stitch is visible.
    fn copies(&self, stitch: usize) -> Vec<Cell> {
        let at = self.diagram.places[stitch];
        self.set_out(rect(at.x, at.y, 0.0, 0.0))
    }

    /// Pairs, the bars of their twists, and arrows where they turn back.
    fn lines(&self) -> [Group; 3] {
        let ground = self.diagram.ground;
        let mut lines = PairLines::new(self.diagram.look.colours.len(), self.sizes.line);
        let (mut bars, mut arrows) = (Path::new(), Path::new());
        for (l, leg) in ground.legs().iter().enumerate() {
            if ground.is_open(l) {
                for line in self.ends(leg) {
                    lines.add(&self.diagram.hung, &line, Cell::ORIGIN, -self.corner());
                }
                continue;
            }
            let line = self.leg_line(leg);
            let leg_bars = self.bars(&line, leg.twists);
            let head = self.turns(leg).then(|| self.arrow_head(&line));
            for cell in self.set_out(Rect::around([line.from, line.to]).unwrap_or(rect(0.0, 0.0, 0.0, 0.0))) {
                let here = self.lattice.place(cell) - self.corner();
                lines.add(&self.diagram.hung, &line, cell, here);
                bars.add(&leg_bars, here);
                if let Some(head) = &head {
                    arrows.add(head, here);
                }
            }
        }
        for s in 0..ground.stitches().len() {
            for line in self.lines_through(s) {
                for cell in self.copies(s) {
                    lines.add(&self.diagram.hung, &line, cell, self.lattice.place(cell) - self.corner());
                }
            }
        }
        let (mut twists, mut turns) = (Group::new("twists"), Group::new("turns"));
        if !bars.steps.is_empty() {
            let line = Stroke { cap: Cap::Butt, ..Stroke::new(Rgb::INK, 0.055 * self.sizes.unit) };
            twists.shapes.push(Shape::stroke(bars, line));
        }
        if !arrows.steps.is_empty() {
            turns.shapes.push(Shape::fill(arrows, Rgb::INK));
        }
        [lines.group(), twists, turns]
    }

    /// Whether an arrow shows that the pair of a leg turned back.
    fn turns(&self, leg: &Leg) -> bool {
        let left = &self.diagram.ground.stitches()[leg.from.stitch].stitch;
        self.diagram.look.arrows && left.pair_effect() == PairEffect::Return
    }

    /// The line of a leg, from the cell of the stitch it leaves.
    fn leg_line(&self, leg: &Leg) -> PairLine {
        let WorkingDiagram { ground, places, .. } = self.diagram;
        let from = places[leg.from.stitch] + self.port(leg.from.stitch, leg.from.side, true);
        let to = places[leg.to.stitch]
            + self.lattice.place(leg.cell)
            + self.port(leg.to.stitch, leg.to.side, false);
        let order = ground.stitches()[leg.from.stitch].stitch.end_order();
        let first = 2 * leg.from.side.index();
        let entries = [order[first], order[first + 1]];
        let stitch = leg.from.stitch;
        PairLine { from, to, directions: [unit(to - from); 2], bend: 0.0, stitch, entries }
    }

    /// The lines of the pair that ends, and of the one that is hung, where a leg is open.
    fn ends(&self, leg: &Leg) -> [PairLine; 2] {
        let WorkingDiagram { ground, places, .. } = self.diagram;
        let line = |end: End, out: bool, entries: [usize; 2]| {
            let near = places[end.stitch] + self.port(end.stitch, end.side, out);
            let far = near + self.directions[end.stitch].to(end.side, out) * (OPEN * self.sizes.unit);
            let [from, to] = if out { [near, far] } else { [far, near] };
            PairLine { from, to, directions: [unit(to - from); 2], bend: 0.0, stitch: end.stitch, entries }
        };
        let order = ground.stitches()[leg.from.stitch].stitch.end_order();
        let [ends, hangs] = [leg.from, leg.to].map(|end| [2 * end.side.index(), 2 * end.side.index() + 1]);
        [line(leg.from, true, ends.map(|k| order[k])), line(leg.to, false, hangs)]
    }

    /// The lines of pairs through a stitch.
    fn lines_through(&self, stitch: usize) -> Vec<PairLine> {
        let at = self.diagram.places[stitch];
        let directions = &self.directions[stitch];
        passages(&self.diagram.ground.stitches()[stitch].stitch)
            .into_iter()
            .map(|passage| PairLine {
                from: at + self.port(stitch, passage.from, false),
                to: at + self.port(stitch, passage.to, true),
                directions: [-directions.to(passage.from, false), directions.to(passage.to, true)],
                bend: 0.18 * self.sizes.unit,
                stitch,
                entries: passage.entries,
            })
            .collect()
    }

    /// A bar across a straight line for every twist.
    fn bars(&self, line: &PairLine, twists: u32) -> Path {
        let (along, unit) = (line.directions[0], self.sizes.unit);
        let middle = line.from + (line.to - line.from) * 0.5;
        let mut bars = Path::new();
        for k in 0..twists {
            let at = middle + along * ((f64::from(k) - f64::from(twists - 1) / 2.0) * 0.13 * unit);
            let half = turned(along) * (0.15 * unit);
            bars.add(&Path::line([at - half, at + half]), point(0.0, 0.0));
        }
        bars
    }

    /// An arrow head near the beginning of a straight line.
    fn arrow_head(&self, line: &PairLine) -> Path {
        let (along, unit) = (line.directions[0], self.sizes.unit);
        let tip = line.from + along * (0.2 * unit);
        let (back, half) = (along * (0.19 * unit), turned(along) * (0.1 * unit));
        Path::polygon([tip, tip - back + half, tip - back - half])
    }

    /// Stitches and pins.
    fn marks(&self) -> [Group; 2] {
        let kinds = self.diagram.ground.distinct_stitches();
        let (mut marks, mut pins) = (Group::new("stitches"), Group::new("pins"));
        for (s, placed) in self.diagram.ground.stitches().iter().enumerate() {
            let kind = kinds.get_index_of(&placed.stitch).unwrap_or(0);
            for at in self.places_of(s) {
                mark(&mut marks, kind, at, &self.sizes);
                pin(&mut pins, &placed.stitch, at, &self.directions[s], &self.sizes);
            }
        }
        [marks, pins]
    }

    /// Where the visible copies of a stitch are drawn.
    fn places_of(&self, stitch: usize) -> impl Iterator<Item = Point> {
        let at = self.diagram.places[stitch] - self.corner();
        self.copies(stitch).into_iter().map(move |cell| at + self.lattice.place(cell))
    }

    /// Room for letters and numbers between all that is drawn.
    fn labels(&self) -> Labels {
        let mut labels = Labels::default();
        let (ground, unit) = (self.diagram.ground, self.sizes.unit);
        let wide = pair_lines::width(!self.diagram.look.colours.is_empty(), self.sizes.line);
        for (_, leg) in ground.legs().iter().enumerate().filter(|&(l, _)| !ground.is_open(l)) {
            let line = self.leg_line(leg);
            let (from, to, along) = (line.from, line.to, line.directions[0]);
            // Bars lie round the middle, an arrow near the beginning.
            let bars = along * (0.07 * unit * f64::from(leg.twists));
            let middle = from + (to - from) * 0.5;
            let head = self.turns(leg).then(|| [from, from + along * (0.2 * unit)]);
            for cell in self.set_out(Rect::around([from, to]).unwrap_or(rect(0.0, 0.0, 0.0, 0.0))) {
                let here = self.lattice.place(cell) - self.corner();
                labels.line([from, to].map(|p| p + here), wide);
                if leg.twists > 0 {
                    labels.line([middle - bars, middle + bars].map(|p| p + here), 0.3 * unit);
                }
                if let Some(head) = head {
                    labels.line(head.map(|p| p + here), 0.2 * unit);
                }
            }
        }
        for (s, placed) in ground.stitches().iter().enumerate() {
            let ports = Side::BOTH.map(|side| [false, true].map(|out| self.port(s, side, out)));
            let pin = pin_at(&placed.stitch, &self.directions[s], &self.sizes);
            for at in self.places_of(s) {
                labels.mark(at, self.sizes.mark);
                ports.iter().flatten().for_each(|&port| labels.line([at, at + port], wide));
                if let Some(pin) = pin {
                    labels.mark(at + pin, 0.08 * unit);
                }
            }
        }
        labels
    }

    /// The letters of the kinds of stitch.
    fn letters(&self, labels: &mut Labels) -> Group {
        let ground = self.diagram.ground;
        let kinds = ground.distinct_stitches();
        let mut letters = Group::new("letters");
        for (s, placed) in ground.stitches().iter().enumerate() {
            let letter = kind_letter(kinds.get_index_of(&placed.stitch).unwrap_or(0));
            let size = 0.26 * self.sizes.letters;
            let off = self.beside(&self.directions[s].room(RIGHT, None), &letter, size);
            let numbered = self.numbered_copies(s);
            for cell in self.copies(s) {
                if self.sizes.unit < NUMBERS_ALONE && numbered.contains(&cell) {
                    continue;
                }
                let at = self.diagram.places[s] + self.lattice.place(cell) - self.corner();
                let mut text = label(letter.clone(), at + off, size, Anchor::Middle, Face::Semibold);
                labels.put(&mut text, at, self.sizes.mark, None);
                letters.shapes.push(Shape::Text(text));
            }
        }
        letters
    }

    /// The cells in which a stitch has a number.
    fn numbered_copies(&self, stitch: usize) -> Vec<Cell> {
        let upright = self.diagram.ground.upright();
        let own = self.diagram.steps.iter().filter(|step| step.stitch == stitch);
        own.map(|step| upright.to_definition(step.cell)).collect()
    }

    /// The step numbers in the order of working.
    fn numbers(&self, labels: &mut Labels) -> Group {
        let view = Size { width: self.window.width, height: self.window.height };
        let mut numbers = Group::new("order-of-working");
        let mut last = 0;
        for (step, &number) in self.diagram.steps.iter().zip(&self.diagram.numbers) {
            if std::mem::replace(&mut last, number) == number {
                continue;
            }
            let at = self.diagram.place(step) - self.corner();
            let inside =
                (0.0..=self.window.width).contains(&at.x) && (0.0..=self.window.height).contains(&at.y);
            if inside {
                let (number, size) = (number.to_string(), 0.24 * self.sizes.letters);
                let directions = &self.directions[step.stitch];
                let letter = directions.room(RIGHT, None).gap;
                let off = self.beside(&directions.room(LEFT, Some(letter)), &number, size);
                let mut text = label(number, at + off, size, Anchor::Middle, Face::Regular);
                labels.put(&mut text, at, self.sizes.mark, Some(view));
                numbers.shapes.push(Shape::Text(text));
            }
        }
        numbers
    }

    /// The centre of a label beside a stitch, relative to the stitch: letters to the
    /// right if there is room, numbers to the left.
    fn beside(&self, room: &Room, words: &str, size: f64) -> Point {
        let wider = font::width(words, size, Face::Regular) - 0.5 * size;
        let distance = self.sizes.mark + 0.15 * self.sizes.letters;
        room.offset * (distance / 0.31) + point(unit(room.offset).x * wider / 2.0, 0.35 * size)
    }
}
