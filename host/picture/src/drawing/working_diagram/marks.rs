//! The marks of a working diagram: a circle with the letter of its kind for a
//! stitch, a dot for a pin.
//!
//! The marks are our own: each kind of stitch has a letter and a colour from the
//! palette of M. Okabe and K. Ito, "Color Universal Design" (2008), which the
//! colour-blind can distinguish.

use lace::{Grid, Point, Stitch, point};

use super::directions::{ABOVE, BELOW, Directions};
use crate::colour::{Rgb, rgb};
use crate::drawing::{Anchor, Face, Group, Path, Shape, Stroke, Text};

/// The palette of Okabe and Ito without black, the colour of the lines.
const PALETTE: [Rgb; 7] = [
    rgb(0xe6, 0x9f, 0x00),
    rgb(0x56, 0xb4, 0xe9),
    rgb(0x00, 0x9e, 0x73),
    rgb(0xcc, 0x79, 0xa7),
    rgb(0xf0, 0xe4, 0x42),
    rgb(0x00, 0x72, 0xb2),
    rgb(0xd5, 0x5e, 0x00),
];

/// The letter of the kind of stitch with this number: a to z, then aa, ab …
pub(crate) fn kind_letter(mut number: usize) -> String {
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

/// The smallest letters and numbers, mm: a little more than 6 points, the smallest
/// that is legible in print (common practice, no source).
const LEAST_LETTERS: f64 = 2.2;

/// Sizes of the marks, mm.
pub(super) struct Sizes {
    /// A grid step, the smaller of the two.
    pub unit: f64,
    /// Radius of a stitch's mark.
    pub mark: f64,
    /// Width of a line.
    pub line: f64,
    /// Like `unit`, but for letters, which must stay legible: at 0.24 of it they are
    /// never smaller than [`LEAST_LETTERS`].
    pub letters: f64,
}

impl Sizes {
    pub fn new(grid: &Grid, spread: f64) -> Sizes {
        let unit = grid.step_x_mm().min(grid.step_y_mm()) * spread;
        Sizes { unit, mark: 0.16 * unit, line: 0.065 * unit, letters: unit.max(LEAST_LETTERS / 0.24) }
    }
}

/// The mark of a kind of stitch.
pub(super) fn mark(group: &mut Group, kind: usize, at: Point, sizes: &Sizes) {
    group.shapes.push(Shape::Path {
        path: Path::circle(at, sizes.mark),
        fill: Some(PALETTE[kind % PALETTE.len()].into()),
        stroke: Some(Stroke::new(Rgb::INK, 0.03 * sizes.unit)),
    });
}

/// Where the pin of a stitch lies, if it has one, from the middle of its mark: inside
/// when the pin is closed, above it when all moves come after the pin, below it when all
/// come before.
pub(super) fn pin_at(stitch: &Stitch, directions: &Directions, sizes: &Sizes) -> Option<Point> {
    let off = match stitch.pin()? {
        0 if !stitch.moves().is_empty() => directions.gap(ABOVE).middle,
        n if n == stitch.moves().len() && n > 0 => directions.gap(BELOW).middle,
        _ => point(0.0, 0.0),
    };
    Some(off * (1.6 * sizes.mark))
}

/// The pin of a stitch, if it has one.
pub(super) fn pin(group: &mut Group, stitch: &Stitch, at: Point, directions: &Directions, sizes: &Sizes) {
    let Some(off) = pin_at(stitch, directions, sizes) else { return };
    group.shapes.push(Shape::Path {
        path: Path::circle(at + off, 0.07 * sizes.unit),
        fill: Some(Rgb::INK.into()),
        stroke: Some(Stroke::new(Rgb::WHITE, 0.025 * sizes.unit)),
    });
}

/// A line of text in ink.
pub(super) fn label(words: String, at: Point, size: f64, anchor: Anchor, face: Face) -> Text {
    Text { at, size, words, anchor, face, paint: Rgb::INK.into() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_of_kinds_go_on_after_z() {
        let names: Vec<String> = [0, 25, 26, 27, 701, 702].into_iter().map(kind_letter).collect();
        assert_eq!(names, ["a", "z", "aa", "ab", "zz", "aaa"]);
    }
}
