//! Text on contact sheets: lines that fit their room, each drawn once however
//! often it is used.

use indexmap::IndexMap;
use lace::Point;

use super::{PAPER, QUIET, Wordings};
use crate::colour::Rgb;
use crate::drawing::font;
use crate::drawing::{Anchor, Drawing, Face, Group, Shape, Text};
use crate::export::image::Image;
use crate::export::raster::rasterise;

/// Adds a line of text, cut short to its room.
pub(super) fn write(
    group: &mut Group,
    at: Point,
    size: f64,
    words: &str,
    face: Face,
    colour: Rgb,
    room: f64,
) {
    group.shapes.push(Shape::Text(Text {
        at,
        size,
        words: font::shortened(words, size, face, room),
        anchor: Anchor::Start,
        face,
        paint: colour.into(),
    }));
}

/// The first wording that fits, or the last one cut short.
pub(super) fn fullest(wordings: &[String], size: f64, face: Face, room: f64) -> String {
    let fits = wordings.iter().find(|words| font::width(words, size, face) <= room);
    match (fits, wordings.last()) {
        (Some(words), _) => words.clone(),
        (None, Some(last)) => font::shortened(last, size, face, room),
        (None, None) => String::new(),
    }
}

/// Captions of one size, each drawn once.
pub(super) struct Captions {
    size: f64,
    width: u32,
    height: u32,
    drawn: IndexMap<(Wordings, bool), Image>,
}

impl Captions {
    pub(super) fn new(size: f64, width: u32, height: f64) -> Captions {
        Captions { size, width, height: height.ceil() as u32, drawn: IndexMap::new() }
    }

    /// Writes a line of a caption onto a picture, `strong` for names.
    pub(super) fn lay(&mut self, image: &mut Image, wordings: Wordings, strong: bool, x: u32, y: u32) {
        let (size, width, height) = (self.size, self.width, self.height);
        let drawn = self.drawn.entry((wordings, strong)).or_insert_with_key(|(wordings, strong)| {
            let (face, colour) = if *strong { (Face::Semibold, Rgb::INK) } else { (Face::Regular, QUIET) };
            let mut drawing = Drawing::new(f64::from(width), f64::from(height), "caption");
            drawing.background = PAPER.into();
            let mut group = Group::new("caption");
            let words = fullest(wordings, size, face, f64::from(width));
            write(&mut group, lace::point(0.0, size), size, &words, face, colour, f64::from(width));
            drawing.groups.push(group);
            rasterise(&drawing, 1.0)
        });
        image.lay(drawn, x, y);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_fullest_wording_that_fits_is_written() {
        let wordings: Wordings =
            ["columns, repeating every 8 mm", "columns, 8 mm", "columns"].map(str::to_owned).to_vec();
        let at = |room: f64| fullest(&wordings, 12.0, Face::Regular, room);
        assert_eq!(at(200.0), wordings[0]);
        assert_eq!(at(80.0), wordings[1]);
        assert_eq!(at(50.0), wordings[2]);
        let cut = at(30.0);
        assert!(cut.starts_with("col") && cut.ends_with('…'), "{cut}");
    }
}
