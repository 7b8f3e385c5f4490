//! The thread drawing: what a ground looks like worked.
//!
//! Every thread is cut half way between its crossings. Each piece holds one
//! crossing; all pieces that lie under are painted first, then the shadows that
//! the threads above throw on them, then all pieces that lie over. So what is
//! over is over whatever else the drawing does.

use lace::{Ground, Point, point};

use crate::colour::{Rgb, Tone};
use crate::curve::{Curve, distance, dot, turned};
use crate::drawing::{Cap, Drawing, Group, Paint, Path, Rect, Shape, Stroke, rect};
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

const fn coat(width: f64, tone: Tone, lit: f64) -> Coat {
    Coat { width, tone, lit }
}

/// A shadow on the threads below: how far it reaches beyond the thread that
/// throws it, in thread widths, and how dark it is.
type Shade = (f64, f32);

/// The coats and shadows for a style, at a thread width in pixels.
fn coats(style: Style, thread_px: f64) -> (&'static [Coat], &'static [Shade]) {
    const FINE: &[Coat] = &[
        coat(1.0, Tone::dark(52), 0.0),
        coat(0.9, Tone::dark(32), 0.0),
        coat(0.76, Tone::dark(14), 0.03),
        coat(0.58, Tone::PLAIN, 0.06),
        coat(0.36, Tone::light(14), 0.11),
        coat(0.15, Tone::light(30), 0.15),
    ];
    const MIDDLE: &[Coat] = &[
        coat(1.0, Tone::dark(45), 0.0),
        coat(0.76, Tone::dark(10), 0.02),
        coat(0.54, Tone::PLAIN, 0.06),
        coat(0.24, Tone::light(20), 0.12),
    ];
    const SMALL: &[Coat] = &[coat(1.0, Tone::dark(42), 0.0), coat(0.64, Tone::PLAIN, 0.05)];
    const TINY: &[Coat] = &[coat(1.0, Tone::dark(30), 0.0), coat(0.6, Tone::PLAIN, 0.0)];
    const PLAIN: &[Coat] = &[coat(1.0, Tone::dark(62), 0.0), coat(0.78, Tone::PLAIN, 0.0)];
    match style {
        Style::Plain => (PLAIN, &[]),
        Style::Shaded if thread_px >= 9.0 => (FINE, &[(0.5, 0.16), (0.32, 0.2), (0.16, 0.28)]),
        Style::Shaded if thread_px >= 4.0 => (MIDDLE, &[(0.42, 0.24), (0.2, 0.34)]),
        Style::Shaded if thread_px >= 2.0 => (SMALL, &[(0.36, 0.45)]),
        Style::Shaded => (TINY, &[(0.4, 0.45)]),
    }
}

/// The way to the light: straight up the page, so that grounds that are the
/// same left and right also look the same left and right.
const LIGHT: Point = point(0.0, -1.0);

/// A thread on its way through one crossing, with the crossing in its own cell.
struct Piece {
    /// The segment by which it leaves the crossing.
    out: usize,
    /// From the crossing before to the crossing after.
    whole: Curve,
    /// Lengths along `whole` where the piece begins and ends.
    ends: [f64; 2],
}

impl Piece {
    /// The piece with some more (or, negative, less) at either end.
    fn stretched(&self, by: f64) -> Curve {
        let middle = (self.ends[0] + self.ends[1]) / 2.0;
        self.whole.part((self.ends[0] - by).min(middle - 1e-6), (self.ends[1] + by).max(middle + 1e-6))
    }
}

/// One repeat, ready to be set out: what lies under and over at each crossing.
struct Tile {
    under: Vec<Piece>,
    over: Vec<Piece>,
}

impl Tile {
    fn new(ground: &Ground, layout: &Layout) -> Tile {
        let braid = ground.braid();
        let shift = |cell: [i64; 2]| layout.across * cell[0] as f64 + layout.down * cell[1] as f64;
        // The in dart through which a thread came that leaves by an out dart is
        // on the other side of the same crossing, and the other way round.
        let curves: Vec<Curve> = (0..braid.segments.len())
            .map(|out| {
                let line = &layout.lines[out];
                let came = braid.map.departure(out ^ 1);
                let goes = braid.map.arrival(out) ^ 1;
                let before = &layout.lines[came];
                let before = before[before.len() - 2] - shift(braid.segments[came].cell);
                let after = layout.lines[goes][1] + shift(braid.segments[out].cell);
                Curve::through(line, before, after)
            })
            .collect();
        let piece = |out: usize| {
            let came = braid.map.departure(out ^ 1);
            let first = curves[came].moved(point(0.0, 0.0) - shift(braid.segments[came].cell));
            let (a, b) = (first.length(), curves[out].length());
            Piece { out, whole: first.then(&curves[out]), ends: [a / 2.0, a + b / 2.0] }
        };
        // The thread that comes from the left leaves to the right.
        let over = |node: usize| 2 * node + usize::from(braid.nodes[node].left_over);
        Tile {
            over: (0..braid.nodes.len()).map(|node| piece(over(node))).collect(),
            under: (0..braid.nodes.len()).map(|node| piece(over(node) ^ 1)).collect(),
        }
    }

    /// What of the thread below a crossing lies within `reach` of the edge of
    /// the thread above, as an area.
    fn shade(&self, node: usize, thread: f64, reach: f64) -> Path {
        let step = thread / 12.0;
        let above = self.over[node].stretched(thread).samples(step);
        let below = self.under[node].stretched(0.0).samples(step);
        let middle = {
            let near = |k: &usize| (distance(below[*k].0, &above) * 1e9) as i64;
            (0..below.len()).min_by_key(near).unwrap_or(0)
        };
        let side = |sign: f64| -> Vec<Point> {
            let edge: Vec<Point> =
                below.iter().map(|&(p, t)| p + turned(t) * (sign * thread / 2.0)).collect();
            let shaded = |k: usize| distance(edge[k], &above) < thread / 2.0 + reach;
            let first = (0..=middle).rev().take_while(|&k| shaded(k)).last().unwrap_or(middle);
            let last = (middle..edge.len()).take_while(|&k| shaded(k)).last().unwrap_or(middle);
            edge[first..=last].to_vec()
        };
        let mut around = side(1.0);
        around.extend(side(-1.0).into_iter().rev());
        Path::polygon(around)
    }
}

/// Every cell whose copy of something within `bounds` can reach into `window`.
fn cells(layout: &Layout, bounds: Rect, window: Rect) -> Vec<[i64; 2]> {
    let (a, b) = (layout.across, layout.down);
    let area = a.x * b.y - a.y * b.x;
    // The steps that bring `bounds` to meet `window` form a rectangle; its
    // corners, in lattice coordinates, bound those of every cell in question.
    let (left, right) = (window.x - bounds.x - bounds.width, window.x + window.width - bounds.x);
    let (top, bottom) = (window.y - bounds.y - bounds.height, window.y + window.height - bounds.y);
    let corners = [(left, top), (right, top), (left, bottom), (right, bottom)]
        .map(|(x, y)| [(x * b.y - y * b.x) / area, (a.x * y - a.y * x) / area]);
    let range = |k: usize| {
        let values = corners.map(|c| c[k]);
        let low = values.iter().copied().fold(f64::INFINITY, f64::min).floor() as i64;
        let high = values.iter().copied().fold(f64::NEG_INFINITY, f64::max).ceil() as i64;
        low..=high
    };
    let mut cells = Vec::new();
    for j in range(1) {
        for i in range(0) {
            let step = a * i as f64 + b * j as f64;
            let there = rect(bounds.x + step.x, bounds.y + step.y, bounds.width, bounds.height);
            if there.meets(&window) {
                cells.push([i, j]);
            }
        }
    }
    cells
}

/// The class of the thread that leaves a crossing by `out`, with the crossing
/// in a cell of the definition, when `classes` colours hang at the top.
fn class(ground: &Ground, out: usize, cell: [i64; 2], classes: usize) -> usize {
    let (stitch, position) = ground.braid().segments[out].entry;
    let slot = ground.hanging().origin(stitch, position, ground.frame().from_cell(cell));
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
    let here = |cell: [i64; 2]| {
        layout.across * cell[0] as f64 + layout.down * cell[1] as f64 - point(window.x, window.y)
    };

    // Pieces below reach a little into those above, so that no gap shows;
    // above, each coat is a little longer than the one it lies on, so that no
    // coat ends in sight.
    let overlap = 0.08 * thread;
    let paint = |pieces: &[Piece], name: &str, over: bool| -> Vec<Group> {
        let mut coated: Vec<Vec<Path>> = vec![vec![Path::new(); coats.len()]; classes];
        for piece in pieces {
            let bounds = piece.stretched(overlap).path().bounds().unwrap_or(rect(0.0, 0.0, 0.0, 0.0));
            let paths: Vec<Path> = coats
                .iter()
                .enumerate()
                .map(|(k, coat)| {
                    let by = if over {
                        -overlap * (coats.len() - 1 - k) as f64 / coats.len() as f64
                    } else {
                        overlap
                    };
                    let lit = coat.lit * thread;
                    piece.stretched(by).shifted(|t| (LIGHT - t * dot(LIGHT, t)) * lit).path()
                })
                .collect();
            for cell in cells(layout, bounds.grown(thread / 2.0), window) {
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
                for (path, coat) in paths.into_iter().zip(coats) {
                    if !path.steps.is_empty() {
                        let stroke = Stroke {
                            paint: Paint::thread(class, coat.tone),
                            width: coat.width * thread,
                            cap: Cap::Butt,
                            dash: None,
                        };
                        group.shapes.push(Shape::stroke(path, stroke));
                    }
                }
                group
            })
            .filter(|group| !group.shapes.is_empty())
            .collect()
    };

    drawing.groups.extend(paint(&tile.under, "under", false));
    if !shades.is_empty() {
        let mut group = Group::new("shadows");
        for &(reach, opacity) in shades {
            let mut all = Path::new();
            for node in 0..tile.under.len() {
                let path = tile.shade(node, thread, reach * thread);
                if let Some(bounds) = path.bounds() {
                    for cell in cells(layout, bounds, window) {
                        all.add(&path, here(cell));
                    }
                }
            }
            group.shapes.push(Shape::fill(all, Paint::veil(Rgb::BLACK, opacity)));
        }
        drawing.groups.push(group);
    }
    drawing.groups.extend(paint(&tile.over, "over", true));
    if look.pins {
        drawing.groups.push(pins(layout, window, look, here));
    }
    drawing
}

/// The pins as small heads seen from above.
fn pins(layout: &Layout, window: Rect, look: &ThreadLook, here: impl Fn([i64; 2]) -> Point) -> Group {
    let mut group = Group::new("pins");
    let (mut rims, mut heads, mut glints) = (Path::new(), Path::new(), Path::new());
    for pin in &layout.pins {
        let r = pin.radius;
        let bounds = rect(pin.at.x - r, pin.at.y - r, 2.0 * r, 2.0 * r);
        for cell in cells(layout, bounds, window) {
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
