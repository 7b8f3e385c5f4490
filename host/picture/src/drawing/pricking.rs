//! The pricking: a dot for every pin at true size, on pages of paper, with a
//! control scale to measure after printing.

use lace::{Grid, Lacework, Piece, Point, point};
use thiserror::Error;

use crate::colour::{Rgb, rgb};
use crate::drawing::font;
use crate::drawing::setting_out::cells;
use crate::drawing::{Anchor, Cap, Drawing, Face, Group, Path, Rect, Shape, Stroke, Text, rect};
use crate::layout::lattice_mm;

/// A size of paper, mm. Sources: ISO 216 for A4 and A3, ANSI/ASME Y14.1 for
/// Letter (8.5 by 11 inches).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Paper {
    /// Width, mm.
    pub width: f64,
    /// Height, mm.
    pub height: f64,
}

impl Paper {
    /// 210 by 297 mm.
    pub const A4: Paper = Paper { width: 210.0, height: 297.0 };
    /// 297 by 420 mm.
    pub const A3: Paper = Paper { width: 297.0, height: 420.0 };
    /// 8.5 by 11 inches.
    pub const LETTER: Paper = Paper { width: 215.9, height: 279.4 };

    /// The paper in the other orientation.
    pub const fn turned(self) -> Paper {
        Paper { width: self.height, height: self.width }
    }

    /// The area of the paper available for dots.
    pub const fn field(self) -> Rect {
        rect(
            EDGE + SCALE_ROOM,
            EDGE + HEAD,
            self.width - 2.0 * EDGE - SCALE_ROOM,
            self.height - 2.0 * EDGE - HEAD - SCALE_ROOM,
        )
    }
}

/// Why a pricking cannot be drawn.
#[derive(Clone, Copy, Debug, Error, PartialEq)]
pub enum PrickingError {
    /// The paper has no room for the control scale.
    #[error("paper of {0} mm by {1} mm is too small for a pricking: give at least {MIN_PAPER} mm each way")]
    PaperTooSmall(f64, f64),
    /// The area is empty, or needs too many pages.
    #[error(
        "an area of {0} mm by {1} mm cannot be pricked: give more than 0 and at most {MAX_AREA} mm each way"
    )]
    Area(f64, f64),
    /// Pins that lie too close together.
    #[error("the pins would lie {0:.2} mm apart; a pin needs {LEAST_APART} mm")]
    TooClose(f64),
}

/// Smallest paper, mm each way.
pub const MIN_PAPER: f64 = 100.0;
/// Largest area, mm each way.
pub const MAX_AREA: f64 = 2000.0;
/// Length of the control scale, mm.
pub const SCALE_MM: f64 = 50.0;

/// Blank margin that printers cannot reach.
const EDGE: f64 = 8.0;
/// Room above the dots for the heading, and below and at the left for the scale.
const HEAD: f64 = 17.0;
const SCALE_ROOM: f64 = 10.0;
/// How far beyond its edge a page shows the dots of its neighbour.
const BESIDE: f64 = 4.0;
/// Room round the pins of a piece.
const AROUND: f64 = 3.0;
/// Radius of a dot. Where pins lie closer than two dots, it is a quarter of their
/// distance.
const DOT: f64 = 0.4;
/// Least distance of two pins, mm: about the thickness of a pin (common practice, no
/// source).
pub const LEAST_APART: f64 = 0.5;
/// Distance at which dots of the usual size are two dots apart.
const USUALLY_APART: f64 = 4.0 * DOT;

/// Every pin of the ground within an area, mm from the origin of the
/// definition, in rows from the top.
pub fn pin_places(ground: &Lacework, grid: &Grid, area: Rect) -> Vec<Point> {
    let lattice = lattice_mm(ground, grid);
    let mut pins = Vec::new();
    for (stitch, &place) in ground.stitches().iter().zip(ground.places()) {
        if stitch.stitch.pin().is_some() {
            let at = grid.mm(place);
            for cell in cells(&lattice, rect(at.x, at.y, 0.0, 0.0), area) {
                pins.push(at + lattice.place(cell));
            }
        }
    }
    pins.sort_by(|a, b| a.y.total_cmp(&b.y).then(a.x.total_cmp(&b.x)));
    pins
}

/// The least distance of two pins in rows from the top; [`USUALLY_APART`] if none
/// lie closer.
fn least_apart(pins: &[Point]) -> f64 {
    let mut least = USUALLY_APART;
    for (k, pin) in pins.iter().enumerate() {
        for other in &pins[k + 1..] {
            if other.y - pin.y >= least {
                break;
            }
            least = least.min((*other - *pin).length());
        }
    }
    least
}

/// Refuses pins that lie too close together to be pricked.
///
/// # Errors
/// [`PrickingError::TooClose`].
pub fn can_be_pricked(ground: &Lacework, grid: &Grid, area: Rect) -> Result<(), PrickingError> {
    keep_apart(&pin_places(ground, grid, area))
}

fn keep_apart(pins: &[Point]) -> Result<(), PrickingError> {
    let apart = least_apart(pins);
    if apart < LEAST_APART { Err(PrickingError::TooClose(apart)) } else { Ok(()) }
}

/// The pages of a pricking of an area of the ground, mm from the origin of the
/// definition; `title` and `notes` are printed above the dots of every page.
///
/// An area larger than the paper takes several pages. Neighbouring pages share
/// the crosses at the corners of each part, which show how to join them.
///
/// # Errors
/// [`PrickingError`] when the paper is smaller than [`MIN_PAPER`] or the area
/// is empty or larger than [`MAX_AREA`], and when pins lie too close together.
pub fn pricking(
    ground: &Lacework,
    grid: &Grid,
    area: Rect,
    paper: Paper,
    title: &str,
    notes: &str,
) -> Result<Vec<Drawing>, PrickingError> {
    pages(&|part| pin_places(ground, grid, part), area, paper, title, notes)
}

/// The pages of the pricking of a piece: its pins, and those over which pairs are hung
/// where no stitch has one.
///
/// # Errors
/// As for [`pricking()`].
pub fn pricking_of_piece(
    piece: &Piece,
    grid: &Grid,
    paper: Paper,
    title: &str,
    notes: &str,
) -> Result<Vec<Drawing>, PrickingError> {
    let mut pins: Vec<Point> = piece.pin_places().into_iter().map(|p| grid.mm(p)).collect();
    pins.sort_by(|a, b| a.y.total_cmp(&b.y).then(a.x.total_cmp(&b.x)));
    let Some(area) = Rect::around(pins.iter().copied()) else {
        return Err(PrickingError::Area(0.0, 0.0));
    };
    let within = |part: Rect| {
        let part = part.grown(1e-6);
        pins.iter().copied().filter(|pin| part.meets(&rect(pin.x, pin.y, 0.0, 0.0))).collect()
    };
    pages(&within, area.grown(AROUND), paper, title, notes)
}

/// The pages of an area, given the pins in any part of it.
fn pages(
    pins: &dyn Fn(Rect) -> Vec<Point>,
    area: Rect,
    paper: Paper,
    title: &str,
    notes: &str,
) -> Result<Vec<Drawing>, PrickingError> {
    if !(paper.width >= MIN_PAPER && paper.height >= MIN_PAPER) {
        return Err(PrickingError::PaperTooSmall(paper.width, paper.height));
    }
    let fits = |length: f64| length > 0.0 && length <= MAX_AREA;
    if !fits(area.width) || !fits(area.height) {
        return Err(PrickingError::Area(area.width, area.height));
    }
    keep_apart(&pins(area))?;
    let field = paper.field();
    let columns = (area.width / field.width - 1e-9).ceil().max(1.0) as usize;
    let rows = (area.height / field.height - 1e-9).ceil().max(1.0) as usize;
    let mut pages = Vec::with_capacity(columns * rows);
    for row in 0..rows {
        for column in 0..columns {
            let mut page = Drawing::new(paper.width, paper.height, title);
            page.background = Rgb::WHITE.into();
            let part = rect(
                area.x + column as f64 * field.width,
                area.y + row as f64 * field.height,
                field.width.min(area.width - column as f64 * field.width),
                field.height.min(area.height - row as f64 * field.height),
            );
            let number = (columns * rows > 1).then(|| {
                format!(
                    "Page {} of {}: row {}, column {}",
                    row * columns + column + 1,
                    columns * rows,
                    row + 1,
                    column + 1
                )
            });
            page.groups.push(heading(paper, title, notes, number.as_deref()));
            page.groups.push(dots_of(pins, area, part, point(field.x, field.y)));
            if columns * rows > 1 {
                page.groups.push(joins(part, field));
            }
            let corner = point(EDGE + 2.0, paper.height - EDGE - 2.0);
            page.groups.push(control_scale(corner, paper.width - EDGE));
            page.groups.push(cautions(point(paper.width - EDGE, EDGE + 13.5)));
            pages.push(page);
        }
    }
    Ok(pages)
}

fn line(words: String, at: Point, size: f64, anchor: Anchor, face: Face) -> Shape {
    Shape::Text(Text { at, size, words, anchor, face, paint: Rgb::INK.into() })
}

fn heading(paper: Paper, title: &str, notes: &str, number: Option<&str>) -> Group {
    let mut group = Group::new("heading");
    let right = paper.width - EDGE;
    let mut room = right - EDGE;
    if let Some(number) = number {
        group.shapes.push(line(number.to_owned(), point(right, EDGE + 4.5), 3.4, Anchor::End, Face::Regular));
        room -= font::width(number, 3.4, Face::Regular) + 4.0;
    }
    let title = font::shortened(title, 5.0, Face::Semibold, room);
    group.shapes.push(line(title, point(EDGE, EDGE + 4.5), 5.0, Anchor::Start, Face::Semibold));
    let notes = font::shortened(notes, 3.4, Face::Regular, right - EDGE);
    group.shapes.push(line(notes, point(EDGE, EDGE + 9.5), 3.4, Anchor::Start, Face::Regular));
    group
}

/// The dots of a part of an area, with the corner of the part at `corner`, and
/// paler dots just outside it.
pub(crate) fn dots(ground: &Lacework, grid: &Grid, area: Rect, part: Rect, corner: Point) -> Group {
    dots_of(&|part| pin_places(ground, grid, part), area, part, corner)
}

fn dots_of(pins: &dyn Fn(Rect) -> Vec<Point>, area: Rect, part: Rect, corner: Point) -> Group {
    let mut group = Group::new("dots");
    let (mut own, mut beside) = (Path::new(), Path::new());
    // Dots on the edge of the area count as inside.
    let (area, own_part) = (area.grown(1e-6), part.grown(1e-6));
    let pins = pins(part.grown(BESIDE));
    let radius = DOT.min(least_apart(&pins) / 4.0);
    for pin in pins {
        if !area.meets(&rect(pin.x, pin.y, 0.0, 0.0)) {
            continue;
        }
        let at = pin - point(part.x, part.y) + corner;
        let dots = if own_part.meets(&rect(pin.x, pin.y, 0.0, 0.0)) { &mut own } else { &mut beside };
        dots.add(&Path::circle(at, radius), point(0.0, 0.0));
    }
    for (path, colour) in [(beside, rgb(190, 190, 190)), (own, Rgb::BLACK)] {
        if !path.steps.is_empty() {
            group.shapes.push(Shape::fill(path, colour));
        }
    }
    group
}

/// Crosses at the corners of the part on this page.
fn joins(part: Rect, field: Rect) -> Group {
    let mut group = Group::new("joins");
    let mut crosses = Path::new();
    for x in [field.x, field.x + part.width] {
        for y in [field.y, field.y + part.height] {
            for arm in [point(3.0, 0.0), point(0.0, 3.0)] {
                crosses.add(&Path::line([point(x, y) - arm, point(x, y) + arm]), point(0.0, 0.0));
            }
        }
    }
    group.shapes.push(Shape::stroke(crosses, Stroke { cap: Cap::Butt, ..Stroke::new(Rgb::INK, 0.15) }));
    group
}

/// Safety at the pillow, for places with room for one line only (common
/// practice, no source).
pub(crate) const CAUTIONS: &str = "Count pins and scissors out and in again; keep them from small children. Good light, an easy posture and breaks; your teacher\u{2019}s and local rules come first.";
/// The same at length (common practice, no source).
pub const CAUTIONS_AT_LENGTH: [&str; 5] = [
    "Pins, needles and scissors are sharp. Carry them closed or in a box, put the scissors down shut, and count the pins before and after: none stays in a chair, on the floor or in the finished lace.",
    "Keep pins, beads and other small parts away from small children and animals; children work with someone who watches.",
    "Let the lamp light the pillow from the side opposite your working hand, without a glare, and keep it clear of thread and cloth: lamps grow hot.",
    "Sit so that shoulders, neck and wrists are easy and the pillow is at a height you need not bend to. Look up and take a break before anything aches, every half hour or so.",
    "What your teacher says and the rules of the place where you work come first.",
];

/// [`CAUTIONS`] in small print, right-aligned to a place.
pub(crate) fn cautions(end: Point) -> Group {
    let mut group = Group::new("cautions");
    group.shapes.push(Shape::Text(Text {
        at: end,
        size: 2.4,
        words: CAUTIONS.to_owned(),
        anchor: Anchor::End,
        face: Face::Regular,
        paint: rgb(96, 86, 74).into(),
    }));
    group
}

/// Instructions for the control scale.
pub(crate) const MEASURE: &str =
    "Measure both lines: each must be 50 mm long. If not, print again at 100 % (actual size).";

/// Two lines of 50 mm from a corner, to the right and up, with ticks every
/// 10 mm.
pub(crate) fn scale_lines(corner: Point) -> Group {
    let mut group = Group::new("control-scale");
    let mut lines = Path::new();
    for (along, up) in [(point(1.0, 0.0), point(0.0, -1.0)), (point(0.0, -1.0), point(1.0, 0.0))] {
        lines.add(&Path::line([corner, corner + along * SCALE_MM]), point(0.0, 0.0));
        for k in 0..=5 {
            let at = corner + along * (f64::from(k) * 10.0);
            let tick = up * if k % 5 == 0 { 3.0 } else { 1.5 };
            lines.add(&Path::line([at, at + tick]), point(0.0, 0.0));
        }
    }
    group.shapes.push(Shape::stroke(lines, Stroke { cap: Cap::Butt, ..Stroke::new(Rgb::BLACK, 0.2) }));
    group
}

/// The [`scale_lines`] with their instructions, which end before `right`.
pub(crate) fn control_scale(corner: Point, right: f64) -> Group {
    let mut group = scale_lines(corner);
    let at = corner + point(SCALE_MM + 4.0, 0.0);
    let lines = font::wrapped(MEASURE, 3.0, Face::Regular, right - at.x);
    for (k, words) in lines.iter().rev().enumerate() {
        let at = at - point(0.0, 4.0 * k as f64);
        group.shapes.push(line(words.clone(), at, 3.0, Anchor::Start, Face::Regular));
    }
    group
}
