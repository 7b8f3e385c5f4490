//! The thread drawing: what a worked ground looks like.
//!
//! Every thread is cut halfway between its crossings, so that each piece holds
//! one crossing. All pieces that pass under are painted first, then all that
//! pass over, then the shadows that the upper pieces cast on the visible parts
//! of the lower ones. So over and under are always right.

use std::collections::BTreeMap;
use std::ops::RangeInclusive;

use lace::{Cell, Ground, Lacework, Piece, Point, point};

use crate::colour::backdrop::backdrop;
use crate::colour::{Rgb, Tone};
use crate::drawing::hung::Hung;
use crate::drawing::setting_out::cells;
use crate::drawing::tile::{Strand, Tile};
use crate::drawing::{Background, Drawing, Group, Paint, Path, Rect, Shape, rect};
use crate::layout::Layout;

/// The style of the threads.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Style {
    /// Round threads in soft light.
    Shaded,
    /// Flat threads with a thin outline, for printing.
    Plain,
}

/// The settings of a thread drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct ThreadLook {
    /// The colours of the hanging threads, left to right, two to a pair, repeated as
    /// often as needed. Each is a class of the drawing.
    pub colours: Vec<Rgb>,
    /// Round or flat.
    pub style: Style,
    /// Whether pins are shown.
    pub pins: bool,
    /// The background behind the threads.
    pub background: Background,
    /// The scale at which it will be viewed: fewer effects are drawn when a thread
    /// is only a few pixels wide.
    pub px_per_mm: f64,
}

impl ThreadLook {
    /// Shaded threads without pins, on a cloth on which they stand out.
    pub fn new(colours: Vec<Rgb>, px_per_mm: f64) -> ThreadLook {
        let background = backdrop(&colours).into();
        ThreadLook { colours, style: Style::Shaded, pins: false, background, px_per_mm }
    }
}

/// A drawing in which every thread is a class of its own.
#[derive(Clone, Debug)]
pub struct EachThread {
    /// The drawing.
    pub drawing: Drawing,
    /// The place of the thread of class 0 among the hanging threads; class `k`
    /// hangs `k` places further right. The first thread of the first pair has
    /// place 0.
    pub first: i64,
}

/// The paths of threads, one for each coat, by the threads' numbers.
type Coated = BTreeMap<i64, Vec<Path>>;

/// One of the strokes laid over each other along a thread.
#[derive(Clone, Copy)]
struct Coat {
    /// Width, in thread widths.
    width: f64,
    tone: Tone,
    /// Its offset towards the light, in thread widths, where the thread runs across
    /// the light.
    lit: f64,
}

/// A shadow on the threads below.
#[derive(Clone, Copy)]
struct Shade {
    /// How far it reaches beyond the thread that casts it, in thread widths.
    reach: f64,
    /// How dark it is.
    opacity: f32,
}

/// The coats and shadows for a style, at a thread width in pixels.
fn coats(style: Style, thread_px: f64) -> (Vec<Coat>, Vec<Shade>) {
    let coat = |width: f64, tone: Tone, lit: f64| Coat { width, tone, lit };
    match style {
        Style::Plain => (vec![coat(1.0, Tone::dark(62), 0.0), coat(0.78, Tone::PLAIN, 0.0)], Vec::new()),
        Style::Shaded if thread_px < 2.0 => (
            vec![coat(1.0, Tone::dark(24), 0.0), coat(0.66, Tone::PLAIN, 0.0)],
            vec![Shade { reach: 0.4, opacity: 0.22 }],
        ),
        Style::Shaded if thread_px < 4.0 => (
            vec![coat(1.0, Tone::dark(34), 0.0), coat(0.68, Tone::PLAIN, 0.05)],
            vec![Shade { reach: 0.4, opacity: 0.28 }],
        ),
        Style::Shaded => {
            // As many steps from edge to light as can be distinguished.
            let steps = (thread_px / 2.5).round().clamp(3.0, 14.0) as usize;
            let coats = (0..=steps)
                .map(|k| {
                    let inward = k as f64 / steps as f64;
                    // A round thread darkens towards its edge like a cylinder; a
                    // broad, weak highlight lies along its middle.
                    let away = 1.0 - inward;
                    let shade =
                        50.0 * away * away * away * away + 12.0 * away * away - 18.0 * inward * inward;
                    coat(1.0 - 0.86 * inward, Tone::light(-shade.round() as i8), 0.13 * inward * inward)
                })
                .collect();
            // Overlapping shadows: darkest where the threads touch.
            let layers = (thread_px / 4.0).round().clamp(2.0, 9.0);
            let shades = (1..=layers as usize)
                .rev()
                .map(|k| {
                    let out = k as f64 / layers;
                    let opacity = (0.36 / layers * (1.5 - out)) as f32;
                    Shade { reach: 0.55 * out * out.sqrt(), opacity }
                })
                .collect();
            (coats, shades)
        }
    }
}

/// The direction of the light: straight up the page, so that symmetrical grounds
/// look symmetrical.
const LIGHT: Point = point(0.0, -1.0);

/// The threads of a ground cut into pieces, shared by all its pictures whatever
/// their window, colours and style.
#[derive(Debug)]
pub struct ThreadDrawing<'a> {
    lacework: &'a Lacework,
    hung: Hung<'a>,
    layout: &'a Layout,
    tile: Tile,
}

impl<'a> ThreadDrawing<'a> {
    /// Prepares the threads of a ground as laid out.
    pub fn new(ground: &'a Ground, layout: &'a Layout) -> ThreadDrawing<'a> {
        ThreadDrawing {
            lacework: ground,
            hung: Hung::Ground(ground),
            layout,
            tile: Tile::new(ground, layout),
        }
    }

    /// Prepares the threads of a piece as laid out, given its lacework
    /// ([`Piece::lacework`]). The classes of its drawings are those of [`Piece::threads`].
    pub fn of_piece(piece: &Piece, lacework: &'a Lacework, layout: &'a Layout) -> ThreadDrawing<'a> {
        ThreadDrawing { lacework, hung: Hung::of_piece(piece), layout, tile: Tile::new(lacework, layout) }
    }

    /// Where its threads lie.
    pub fn layout(&self) -> &'a Layout {
        self.layout
    }

    /// Draws a window of the endless ground, in mm from the origin of the
    /// definition. The first row of hanging pairs is just above its topmost stitch.
    ///
    /// The classes of the drawing are the hanging threads from left to right, modulo
    /// the number of `look.colours` (without colours: one class, black).
    pub fn draw(&self, window: Rect, look: &ThreadLook) -> Drawing {
        let colours = if look.colours.is_empty() { vec![Rgb::BLACK] } else { look.colours.clone() };
        let classes = colours.len() as i64;
        let lowest = self.first_slot(window).rem_euclid(classes) as usize;
        let palette = Palette { first: 0, lowest, colours };
        self.numbered(window, look, |place| place.rem_euclid(classes), |_| palette)
    }

    /// The first slot of the repeat in which a window begins; 0 for a piece.
    fn first_slot(&self, window: Rect) -> i64 {
        let Some(slots) = self.hung.slots() else { return 0 };
        let across = self.here(self.lacework.upright().across(), rect(0.0, 0.0, 0.0, 0.0)).length();
        // A window that begins with a repeat may fall short of it by a rounding.
        let repeats = (window.x / across + 1e-9).floor() as i64;
        repeats * slots
    }

    /// Draws a window as [`ThreadDrawing::draw`] does, but with a class for every
    /// thread that is in it, from left to right, so that the drawing suits every
    /// arrangement of colours. `look.colours` are not used.
    pub fn draw_each(&self, window: Rect, look: &ThreadLook) -> EachThread {
        let mut first = 0;
        let drawing = self.numbered(
            window,
            look,
            |place| place,
            |seen| {
                first = *seen.start();
                let classes = usize::try_from(seen.end() - seen.start()).unwrap_or(0) + 1;
                Palette { first, lowest: 0, colours: vec![Rgb::BLACK; classes] }
            },
        );
        EachThread { drawing, first }
    }

    /// Draws a window. `number` gives the number of the thread that hangs at a
    /// place; `palette`, given the least and the largest number seen, the classes.
    fn numbered(
        &self,
        window: Rect,
        look: &ThreadLook,
        number: impl Fn(i64) -> i64,
        palette: impl FnOnce(RangeInclusive<i64>) -> Palette,
    ) -> Drawing {
        let mut drawing = Drawing::new(window.width, window.height, "Thread drawing");
        drawing.background = look.background;
        let (coats, shades) = coats(look.style, self.layout.thread_mm * look.px_per_mm);
        let (beaten, over): (Vec<&Strand>, Vec<&Strand>) = self.tile.over.iter().partition(|p| p.beaten);
        let drawn =
            [(self.tile.under.iter().collect(), Lies::Under), (over, Lies::Over), (beaten, Lies::Beaten)]
                .map(|(pieces, lies)| (lies, self.coated(&pieces, lies, &coats, &number, window)));
        let seen = || drawn.iter().flat_map(|(_, coated)| coated.keys()).copied();
        let palette = palette(seen().min().unwrap_or(0)..=seen().max().unwrap_or(0));
        for (lies, coated) in drawn {
            // What is beaten up hides the shadows below.
            if lies == Lies::Beaten && !shades.is_empty() {
                drawing.groups.push(self.shadows(&shades, window));
            }
            drawing.groups.extend(groups(coated, &palette, lies, &coats));
        }
        drawing.colours = palette.colours;
        if look.pins {
            drawing.groups.push(self.pins(look.style, window));
        }
        drawing
    }

    /// The origin of a cell in a window.
    fn here(&self, cell: Cell, window: Rect) -> Point {
        self.layout.lattice.place(cell) - point(window.x, window.y)
    }

    /// The cells whose copy of `bounds` is visible in a window.
    fn set_out(&self, bounds: Rect, window: Rect) -> Vec<Cell> {
        cells(&self.layout.lattice, bounds, window)
    }

    /// The place at the top of the thread that leaves a crossing in a cell of the
    /// definition by `out`.
    fn place(&self, out: usize, cell: Cell) -> i64 {
        self.hung.thread(self.lacework.braid().segments[out].entry, cell)
    }

    /// The pieces with their coats, by the numbers of their threads.
    fn coated(
        &self,
        pieces: &[&Strand],
        lies: Lies,
        coats: &[Coat],
        number: &impl Fn(i64) -> i64,
        window: Rect,
    ) -> Coated {
        let mut coated = Coated::new();
        for piece in pieces {
            let bands = self.bands(piece, lies, coats);
            let Some(bounds) = bands.first().and_then(Path::bounds) else {
                continue;
            };
            for cell in self.set_out(bounds, window) {
                let number = number(self.place(piece.out, cell));
                let paths = coated.entry(number).or_insert_with(|| vec![Path::new(); coats.len()]);
                for (all, band) in paths.iter_mut().zip(&bands) {
                    all.add(band, self.here(cell, window));
                }
            }
        }
        coated
    }

    /// The coats of a piece, the widest first.
    ///
    /// Lower pieces reach some way under the upper ones, so that no gap shows. On
    /// upper pieces each coat is a little longer than the one below it, so that no
    /// end of a coat is visible.
    fn bands(&self, piece: &Strand, lies: Lies, coats: &[Coat]) -> Vec<Path> {
        let thread = self.layout.thread_mm;
        let overlap = 0.25 * thread;
        let band = |(k, coat): (usize, &Coat)| {
            let short = 0.08 * thread * (coats.len() - 1 - k) as f64 / coats.len() as f64;
            let more =
                piece.same_side.map(|same| if lies != Lies::Under && !same { -short } else { overlap });
            let lit = coat.lit * thread;
            piece.band(coat.width * thread, thread, more, |t| (LIGHT - t * LIGHT.dot(t)) * lit)
        };
        coats.iter().enumerate().map(band).collect()
    }

    /// The shadows that upper threads cast on lower ones.
    fn shadows(&self, shades: &[Shade], window: Rect) -> Group {
        let thread = self.layout.thread_mm;
        let mut group = Group::new("shadows");
        for shade in shades {
            let mut all = Path::new();
            for node in 0..self.tile.under.len() {
                let path = self.tile.shade(node, thread, shade.reach * thread);
                if let Some(bounds) = path.bounds() {
                    for cell in self.set_out(bounds, window) {
                        all.add(&path, self.here(cell, window));
                    }
                }
            }
            group.shapes.push(Shape::fill(all, Paint::veil(Rgb::BLACK, shade.opacity)));
        }
        group
    }

    /// The pins as small heads seen from above.
    fn pins(&self, style: Style, window: Rect) -> Group {
        let mut group = Group::new("pins");
        let (mut rims, mut heads, mut glints) = (Path::new(), Path::new(), Path::new());
        for pin in &self.layout.pins {
            let r = pin.radius;
            let bounds = rect(pin.at.x - r, pin.at.y - r, 2.0 * r, 2.0 * r);
            for cell in self.set_out(bounds, window) {
                let at = pin.at + self.here(cell, window);
                rims.add(&Path::circle(at, r), point(0.0, 0.0));
                heads.add(&Path::circle(at, 0.76 * r), point(0.0, 0.0));
                glints.add(&Path::circle(at + LIGHT * (0.3 * r), 0.3 * r), point(0.0, 0.0));
            }
        }
        let flat = style == Style::Plain;
        let (rim, head) =
            if flat { (Rgb::INK, Rgb::WHITE) } else { (Tone::dark(55).rgb(Rgb::BRASS), Rgb::BRASS) };
        for (path, colour) in [(rims, rim), (heads, head)] {
            group.shapes.push(Shape::fill(path, colour));
        }
        if !flat {
            group.shapes.push(Shape::fill(glints, Tone::light(60).rgb(Rgb::BRASS)));
        }
        group
    }
}

/// Whether a piece lies over or under the thread it crosses.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Lies {
    Under,
    Over,
    /// Over, as a pass of a tally that is beaten up.
    Beaten,
}

impl Lies {
    const fn word(self) -> &'static str {
        match self {
            Lies::Under => "under",
            Lies::Over => "over",
            Lies::Beaten => "beaten",
        }
    }
}

/// The classes of a drawing.
struct Palette {
    /// The number of the threads of class 0.
    first: i64,
    /// The class that is painted before the others. Where the edges of two threads share
    /// a pixel, the later one covers it; with the first thread of a repeat first, that
    /// is the same one in every repeat, whichever classes the two have there.
    lowest: usize,
    colours: Vec<Rgb>,
}

/// One group for each class.
fn groups(coated: Coated, palette: &Palette, lies: Lies, coats: &[Coat]) -> Vec<Group> {
    let group = |(number, paths): (i64, Vec<Path>)| {
        let class = (number - palette.first) as usize;
        let mut group = Group::new(format!("thread-{class}-{}", lies.word()));
        for (path, coat) in paths.into_iter().zip(coats) {
            if !path.steps.is_empty() {
                group.shapes.push(Shape::fill(path, Paint::thread(class, coat.tone)));
            }
        }
        (class, group)
    };
    let classes = palette.colours.len();
    let mut groups: Vec<(usize, Group)> = coated.into_iter().map(group).collect();
    groups.sort_by_key(|(class, _)| (class + classes - palette.lowest) % classes);
    groups.into_iter().map(|(_, group)| group).filter(|group| !group.shapes.is_empty()).collect()
}

/// Draws a single window of a ground; see [`ThreadDrawing::draw`].
pub fn draw_threads(ground: &Ground, layout: &Layout, window: Rect, look: &ThreadLook) -> Drawing {
    ThreadDrawing::new(ground, layout).draw(window, look)
}
