//! Contact sheets: pictures in rows and columns, with heads that say in words,
//! letters and hanging bobbins what each row and column is.

use lace::{Arrangement, Point, arrangement::letter, point};

use crate::colour::{Rgb, Tone};
use crate::drawing::{Anchor, Cap, Drawing, Face, Group, Paint, Path, Shape, Stroke, Text};
use crate::font;
use crate::image::Image;
use crate::raster::rasterise;

/// Paper of the sheet.
const PAPER: Rgb = Rgb { r: 250, g: 246, b: 238 };
/// Words of less weight.
const QUIET: Rgb = Rgb { r: 96, g: 86, b: 74 };
/// Space between pictures and round the sheet, pixels.
const GAP: f64 = 8.0;
const MARGIN: f64 = 20.0;

/// One row of a contact sheet.
#[derive(Clone, Debug)]
pub struct Row {
    /// What it shows, in large letters.
    pub label: String,
    /// More about it, in small letters, line by line.
    pub notes: Vec<String>,
    /// One picture for each column, all of one size.
    pub cells: Vec<Image>,
}

/// A contact sheet.
#[derive(Clone, Debug)]
pub struct ContactSheet {
    /// What it shows.
    pub title: String,
    /// More about it.
    pub subtitle: String,
    /// The colour and name of each letter.
    pub palette: Vec<(Rgb, String)>,
    /// The colour order of each column.
    pub columns: Vec<Arrangement>,
    /// The rows.
    pub rows: Vec<Row>,
    /// Pixels to a millimetre of lace.
    pub px_per_mm: f64,
}

impl ContactSheet {
    /// The sheet as one picture. Rows of different lengths leave gaps.
    pub fn draw(&self) -> Image {
        let cell = self.rows.iter().flat_map(|r| &r.cells).next().map_or(96, Image::width);
        let side = f64::from(cell);
        // Letters grow with the pictures, within reason.
        let large = (side / 9.0).clamp(12.0, 20.0);
        let small = (large * 0.78).max(10.5);
        let label_room = (side * 1.45).clamp(150.0, 300.0);
        let head = 2.2 * large + 2.0 * small + GAP;
        let bobbins = (side * 0.42).max(34.0);
        let left = MARGIN + label_room + GAP;
        let top = MARGIN + head + bobbins + GAP;
        let width = left + self.columns.len() as f64 * (side + GAP) - GAP + MARGIN;
        let width = width.max(left + 2.0 * side);
        let height = top + self.rows.len() as f64 * (side + GAP) - GAP + MARGIN;
        // Drawn at one pixel to the unit, so that pictures fall on whole pixels.
        let mut drawing = Drawing::new(width.ceil(), height.ceil(), self.title.clone());
        drawing.background = Some(PAPER);
        drawing.colours = self.palette.iter().map(|(c, _)| *c).collect();
        let mut group = Group::new("heads");
        let room = width - 2.0 * MARGIN;
        let write =
            |group: &mut Group, at: Point, size: f64, words: &str, face: Face, colour: Rgb, room: f64| {
                group.shapes.push(Shape::Text(Text {
                    at,
                    size,
                    words: font::shortened(words, size, face, room),
                    anchor: Anchor::Start,
                    face,
                    paint: colour.into(),
                }));
            };
        write(
            &mut group,
            point(MARGIN, MARGIN + 1.2 * large),
            1.4 * large,
            &self.title,
            Face::Semibold,
            Rgb::INK,
            room,
        );
        write(
            &mut group,
            point(MARGIN, MARGIN + 1.4 * large + 1.5 * small),
            small,
            &self.subtitle,
            Face::Regular,
            QUIET,
            room,
        );
        self.legend(&mut group, point(MARGIN, MARGIN + 1.4 * large + 3.2 * small), small, room);
        for (k, order) in self.columns.iter().enumerate() {
            let x = left + k as f64 * (side + GAP);
            hang(&mut group, order, x, MARGIN + head, side, bobbins);
        }
        for (k, row) in self.rows.iter().enumerate() {
            let y = top + k as f64 * (side + GAP);
            let lines = font::wrapped(&row.label, large, Face::Semibold, label_room);
            let mut base = y + 1.1 * large;
            for line in &lines {
                write(&mut group, point(MARGIN, base), large, line, Face::Semibold, Rgb::INK, label_room);
                base += 1.25 * large;
            }
            for line in
                row.notes.iter().flat_map(|note| font::wrapped(note, small, Face::Regular, label_room))
            {
                if base > y + side {
                    break;
                }
                write(&mut group, point(MARGIN, base), small, &line, Face::Regular, QUIET, label_room);
                base += 1.3 * small;
            }
        }
        drawing.groups.push(group);
        let mut image = rasterise(&drawing, 1.0);
        for (k, row) in self.rows.iter().enumerate() {
            let y = top + k as f64 * (side + GAP);
            for (n, picture) in row.cells.iter().enumerate() {
                let x = left + n as f64 * (side + GAP);
                image.lay(picture, x.round() as u32, y.round() as u32);
            }
        }
        image
    }

    /// A dot, letter and name for each colour.
    fn legend(&self, group: &mut Group, at: Point, size: f64, room: f64) {
        let mut x = at.x;
        for (class, (_, name)) in self.palette.iter().enumerate() {
            let words = format!("{} {name}", letter(class as u8));
            let wide = font::width(&words, size, Face::Regular);
            if x + 1.4 * size + wide > at.x + room {
                break;
            }
            let dot = Path::circle(point(x + 0.45 * size, at.y - 0.35 * size), 0.42 * size);
            group.shapes.push(Shape::Path {
                path: dot,
                fill: Some(Paint::thread(class, Tone::PLAIN)),
                stroke: Some(Stroke::new(QUIET, 0.8)),
            });
            group.shapes.push(Shape::Text(Text {
                at: point(x + 1.2 * size, at.y),
                size,
                words,
                anchor: Anchor::Start,
                face: Face::Regular,
                paint: QUIET.into(),
            }));
            x += 1.2 * size + wide + 1.4 * size;
        }
    }
}

/// A column's head: the order's pairs hanging as bobbins on their threads, with
/// the letters above.
fn hang(group: &mut Group, order: &Arrangement, x: f64, y: f64, width: f64, height: f64) {
    let pairs = order.pairs();
    let step = width / pairs.len() as f64;
    let letters = (step * 0.9).min(height * 0.34).min(15.0);
    let from = y + if letters >= 6.0 { 1.25 * letters } else { 0.0 };
    let bobbin = (step * 0.32).min(6.0);
    for (k, pair) in pairs.iter().enumerate() {
        let middle = x + (k as f64 + 0.5) * step;
        if letters >= 6.0 {
            let [a, b] = *pair;
            let words = if a == b { letter(a).to_string() } else { format!("{}/{}", letter(a), letter(b)) };
            let size = letters.min(letters * step / font::width(&words, letters, Face::Semibold).max(1.0));
            group.shapes.push(Shape::Text(Text {
                at: point(middle, y + 0.9 * letters),
                size,
                words,
                anchor: Anchor::Middle,
                face: Face::Semibold,
                paint: Rgb::INK.into(),
            }));
        }
        for (thread, &colour) in pair.iter().enumerate() {
            let at = middle + (thread as f64 - 0.5) * step * 0.42;
            let paint = Paint::thread(colour as usize, Tone::PLAIN);
            let end = y + height;
            let neck = from + 0.35 * (end - from);
            let line = |a: f64, b: f64, wide: f64, cap: Cap, paint: Paint| {
                Shape::stroke(
                    Path::line([point(at, a), point(at, b)]),
                    Stroke { paint, width: wide, cap, dash: None },
                )
            };
            // A rim keeps pale bobbins apart from the paper.
            group.shapes.push(line(neck, end - bobbin / 2.0, bobbin + 1.0, Cap::Round, QUIET.into()));
            group.shapes.push(line(from, neck, (bobbin * 0.3).max(1.0), Cap::Butt, paint));
            group.shapes.push(line(neck, end - bobbin / 2.0, bobbin, Cap::Round, paint));
        }
    }
}
