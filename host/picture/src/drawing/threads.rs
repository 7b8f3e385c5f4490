//! The thread drawing: what a ground looks like worked.
//!
//! Every thread is cut half way between its crossings. Each piece holds one
//! crossing; all pieces that lie under are painted first, then all pieces that
//! lie over, then the shadows that these throw on what can be seen of those. So
//! what is over is over whatever else the drawing does.

use lace::{Cell, Ground, Point, point};

use crate::colour::{Rgb, Tone};
use crate::drawing::curve::dot;
use crate::drawing::setting_out::cells;
use crate::drawing::tile::{Piece, Tile};
use crate::drawing::{Drawing, Group, Paint, Path, Rect, Shape, rect};
use crate::layout::Layout;

/// How the threads are drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Style {
    /// Round threads in soft light.
    Shaded,
    /// Flat threads with a thin outline, for printing.
    Plain,
}

/// What a thread drawing shows.
#[derive(Clone, Debug, PartialEq)]
pub struct ThreadLook {
    /// The colours in which threads hang, left to right, two to a pair; they
    /// begin again when used up. Each is a class of the drawing.
    pub colours: Vec<Rgb>,
    /// Round or flat.
    pub style: Style,
    /// Whether pins are shown.
    pub pins: bool,
    /// Colour behind the threads; `None` is transparent.
    pub background: Option<Rgb>,
    /// The scale at which it will be looked at: where a thread is only a few
    /// pixels wide, fewer effects are drawn.
    pub px_per_mm: f64,
}

impl ThreadLook {
    /// Shaded threads on linen, without pins.
    pub fn new(colours: Vec<Rgb>, px_per_mm: f64) -> ThreadLook {
        ThreadLook { colours, style: Style::Shaded, pins: false, background: Some(Rgb::LINEN), px_per_mm }
    }
}

/// One of the lines laid on each other along a thread.
#[derive(Clone, Copy)]
struct Coat {
    /// Width, in thread widths.
    width: f64,
    tone: Tone,
    /// How far it lies towards the light, in thread widths, where the thread
    /// runs across the light.
    lit: f64,
}

/// A shadow on the threads below: how far it reaches beyond the thread that
/// throws it, in thread widths, and how dark it is.
type Shade = (f64, f32);

/// The coats and shadows for a style, at a thread width in pixels.
fn coats(style: Style, thread_px: f64) -> (Vec<Coat>, Vec<Shade>) {
    let coat = |width: f64, tone: Tone, lit: f64| Coat { width, tone, lit };
    match style {
        Style::Plain => (vec![coat(1.0, Tone::dark(62), 0.0), coat(0.78, Tone::PLAIN, 0.0)], Vec::new()),
        Style::Shaded if thread_px < 2.0 => {
            (vec![coat(1.0, Tone::dark(24), 0.0), coat(0.66, Tone::PLAIN, 0.0)], vec![(0.4, 0.22)])
        }
        Style::Shaded if thread_px < 4.0 => {
            (vec![coat(1.0, Tone::dark(34), 0.0), coat(0.68, Tone::PLAIN, 0.05)], vec![(0.4, 0.28)])
        }
        Style::Shaded => {
            // As many steps from edge to light as can be told apart.
            let steps = (thread_px / 2.5).round().clamp(3.0, 14.0) as usize;
            let coats = (0..=steps)
                .map(|k| {
                    let inward = k as f64 / steps as f64;
                    // A round thread darkens towards its edge as a circle
                    // falls away; a broad, weak light lies along its middle.
                    let away = 1.0 - inward;
                    let shade =
                        50.0 * away * away * away * away + 12.0 * away * away - 18.0 * inward * inward;
                    coat(1.0 - 0.86 * inward, Tone::light(-shade.round() as i8), 0.13 * inward * inward)
                })
                .collect();
            // Shadows laid on each other: darkest where the threads touch.
            let layers = (thread_px / 4.0).round().clamp(2.0, 9.0);
            let shades = (1..=layers as usize)
                .rev()
                .map(|k| {
                    let out = k as f64 / layers;
                    (0.55 * out * out.sqrt(), (0.36 / layers * (1.5 - out)) as f32)
                })
                .collect();
            (coats, shades)
        }
    }
}

/// The way to the light: straight up the page, so that grounds that are the
/// same left and right also look the same left and right.
const LIGHT: Point = point(0.0, -1.0);

/// The class of the thread that leaves a crossing by `out`, with the crossing
/// in a cell of the definition, when `classes` colours hang at the top.
fn class(ground: &Ground, out: usize, cell: Cell, classes: usize) -> usize {
    let entry = ground.braid().segments[out].entry;
    let slot = ground.hanging().origin(entry, ground.upright().to_upright(cell));
    slot.rem_euclid(classes as i64) as usize
}

/// Draws a window of the endless ground, in mm from the origin of the
/// definition; the first row of hanging pairs is just above its topmost stitch.
///
/// Classes of the drawing are the threads as they hang, left to right,
/// beginning again after `look.colours` (no colours: one class, black).
pub fn draw_threads(ground: &Ground, layout: &Layout, window: Rect, look: &ThreadLook) -> Drawing {
    let mut drawing = Drawing::new(window.width, window.height, "Thread drawing");
    drawing.background = look.background;
    drawing.colours = if look.colours.is_empty() { vec![Rgb::BLACK] } else { look.colours.clone() };
    let classes = drawing.colours.len();
    let thread = layout.thread_mm;
    let (coats, shades) = coats(look.style, thread * look.px_per_mm);
    let tile = Tile::new(ground, layout);
    let here = |cell: Cell| layout.lattice().place(cell) - point(window.x, window.y);

    // Pieces below reach some way under those above, so that no gap shows;
    // above, each coat is a little longer than the one it lies on, so that no
    // coat ends in sight.
    let overlap = 0.25 * thread;
    let paint = |pieces: &[Piece], name: &str, over: bool| -> Vec<Group> {
        let mut coated: Vec<Vec<Path>> = vec![vec![Path::new(); coats.len()]; classes];
        for piece in pieces {
            let paths: Vec<Path> = coats
                .iter()
                .enumerate()
                .map(|(k, coat)| {
                    let short = 0.08 * thread * (coats.len() - 1 - k) as f64 / coats.len() as f64;
                    let more = piece.alike.map(|alike| if over && !alike { -short } else { overlap });
                    let lit = coat.lit * thread;
                    piece.band(coat.width * thread, thread, more, |t| (LIGHT - t * dot(LIGHT, t)) * lit)
                })
                .collect();
            let Some(bounds) = paths.first().and_then(Path::bounds) else {
                continue;
            };
            for cell in cells(layout.across, layout.down, bounds, window) {
                let class = class(ground, piece.out, cell, classes);
                for (all, path) in coated[class].iter_mut().zip(&paths) {
                    all.add(path, here(cell));
                }
            }
        }
        coated
            .into_iter()
            .enumerate()
            .map(|(class, paths)| {
                let mut group = Group::new(format!("thread-{class}-{name}"));
                for (path, coat) in paths.into_iter().zip(&coats) {
                    if !path.steps.is_empty() {
                        group.shapes.push(Shape::fill(path, Paint::thread(class, coat.tone)));
                    }
                }
                group
            })
            .filter(|group| !group.shapes.is_empty())
            .collect()
    };

    drawing.groups.extend(paint(&tile.under, "under", false));
    drawing.groups.extend(paint(&tile.over, "over", true));
    if !shades.is_empty() {
        let mut group = Group::new("shadows");
        for &(reach, opacity) in &shades {
            let mut all = Path::new();
            for node in 0..tile.under.len() {
                let path = tile.shade(node, thread, reach * thread);
                if let Some(bounds) = path.bounds() {
                    for cell in cells(layout.across, layout.down, bounds, window) {
                        all.add(&path, here(cell));
                    }
                }
            }
            group.shapes.push(Shape::fill(all, Paint::veil(Rgb::BLACK, opacity)));
        }
        drawing.groups.push(group);
    }
    if look.pins {
        drawing.groups.push(pins(layout, window, look, here));
    }
    drawing
}

/// The pins as small heads seen from above.
fn pins(layout: &Layout, window: Rect, look: &ThreadLook, here: impl Fn(Cell) -> Point) -> Group {
    let mut group = Group::new("pins");
    let (mut rims, mut heads, mut glints) = (Path::new(), Path::new(), Path::new());
    for pin in &layout.pins {
        let r = pin.radius;
        let bounds = rect(pin.at.x - r, pin.at.y - r, 2.0 * r, 2.0 * r);
        for cell in cells(layout.across, layout.down, bounds, window) {
            let at = pin.at + here(cell);
            rims.add(&Path::circle(at, r), point(0.0, 0.0));
            heads.add(&Path::circle(at, 0.76 * r), point(0.0, 0.0));
            glints.add(&Path::circle(at + LIGHT * (0.3 * r), 0.3 * r), point(0.0, 0.0));
        }
    }
    let flat = look.style == Style::Plain;
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
