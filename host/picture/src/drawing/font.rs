//! Letters: the embedded faces, and text as outlines.
//!
//! The faces are Source Sans Pro, Regular and Semibold, unmodified, under the
//! SIL Open Font License 1.1 (`fonts/SourceSansPro-LICENSE.txt`).

use std::sync::LazyLock;

use lace::{Point, point};
use rustybuzz::ttf_parser::{GlyphId, OutlineBuilder};
use rustybuzz::{UnicodeBuffer, shape};

use crate::drawing::{Anchor, Face, Path, Step, Text};

/// The bytes of a face, an OpenType file.
pub fn face_bytes(face: Face) -> &'static [u8] {
    match face {
        Face::Regular => include_bytes!("../../fonts/SourceSansPro-Regular.otf"),
        Face::Semibold => include_bytes!("../../fonts/SourceSansPro-Semibold.otf"),
    }
}

static FACES: LazyLock<[rustybuzz::Face<'static>; 2]> = LazyLock::new(|| {
    [Face::Regular, Face::Semibold]
        .map(|face| rustybuzz::Face::from_slice(face_bytes(face), 0).expect("the embedded faces are valid"))
});

fn parsed(face: Face) -> &'static rustybuzz::Face<'static> {
    &FACES[match face {
        Face::Regular => 0,
        Face::Semibold => 1,
    }]
}

/// A glyph in a line of text.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Glyph {
    /// Its index in the face.
    pub id: u16,
    /// Its origin, mm.
    pub at: Point,
    /// Byte offset of its text.
    pub cluster: usize,
    /// Its advance, mm.
    pub advance: f64,
}

/// The text without control characters.
pub fn plain_words(words: &str) -> String {
    words.chars().filter(|c| !c.is_control()).collect()
}

/// Sets a line of text: its placed glyphs, and its width in mm.
pub fn set(text: &Text) -> (Vec<Glyph>, f64) {
    let face = parsed(text.face);
    let mut buffer = UnicodeBuffer::new();
    buffer.push_str(&plain_words(&text.words));
    buffer.guess_segment_properties();
    let shaped = shape(face, &[], buffer);
    let scale = text.size / f64::from(face.units_per_em());
    let mut x = 0.0;
    let mut glyphs = Vec::with_capacity(shaped.len());
    for (info, place) in shaped.glyph_infos().iter().zip(shaped.glyph_positions()) {
        let advance = f64::from(place.x_advance) * scale;
        let offset = point(f64::from(place.x_offset) * scale, -f64::from(place.y_offset) * scale);
        let id = u16::try_from(info.glyph_id).unwrap_or(0);
        glyphs.push(Glyph { id, at: point(x, 0.0) + offset, cluster: info.cluster as usize, advance });
        x += advance;
    }
    let shift = match text.anchor {
        Anchor::Start => 0.0,
        Anchor::Middle => -x / 2.0,
        Anchor::End => -x,
    };
    for glyph in &mut glyphs {
        glyph.at = glyph.at + text.at + point(shift, 0.0);
    }
    (glyphs, x)
}

/// The width of some words, mm, at a letter size in mm.
pub fn width(words: &str, size: f64, face: Face) -> f64 {
    let text = Text {
        at: point(0.0, 0.0),
        size,
        words: words.to_owned(),
        anchor: Anchor::Start,
        face,
        paint: crate::colour::Rgb::BLACK.into(),
    };
    set(&text).1
}

/// The words, cut short with an ellipsis if wider than `room` mm.
pub fn shortened(words: &str, size: f64, face: Face, room: f64) -> String {
    if width(words, size, face) <= room {
        return words.to_owned();
    }
    let ends: Vec<usize> = words.char_indices().map(|(at, _)| at).collect();
    // Longer prefixes are wider: find the longest that fits.
    let fits =
        ends.partition_point(|&end| width(&format!("{}…", words[..end].trim_end()), size, face) <= room);
    format!("{}…", words[..ends[fits.saturating_sub(1)]].trim_end())
}

/// Breaks words into lines at most `room` mm wide; a wider single word gets its
/// own line.
pub fn wrapped(words: &str, size: f64, face: Face, room: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in words.split_whitespace() {
        match lines.last_mut() {
            Some(line) if width(&format!("{line} {word}"), size, face) <= room => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}

struct Outline {
    path: Path,
    scale: f64,
    at: Point,
    last: Point,
}

impl Outline {
    fn place(&self, x: f32, y: f32) -> Point {
        self.at + point(f64::from(x), -f64::from(y)) * self.scale
    }
}

impl OutlineBuilder for Outline {
    fn move_to(&mut self, x: f32, y: f32) {
        self.last = self.place(x, y);
        self.path.steps.push(Step::Move(self.last));
    }
    fn line_to(&mut self, x: f32, y: f32) {
        self.last = self.place(x, y);
        self.path.steps.push(Step::Line(self.last));
    }
    fn quad_to(&mut self, x1: f32, y1: f32, x: f32, y: f32) {
        let (control, end) = (self.place(x1, y1), self.place(x, y));
        let toward = |from: Point| from + (control - from) * (2.0 / 3.0);
        self.path.steps.push(Step::Curve(toward(self.last), toward(end), end));
        self.last = end;
    }
    fn curve_to(&mut self, x1: f32, y1: f32, x2: f32, y2: f32, x: f32, y: f32) {
        self.last = self.place(x, y);
        self.path.steps.push(Step::Curve(self.place(x1, y1), self.place(x2, y2), self.last));
    }
    fn close(&mut self) {
        self.path.steps.push(Step::Close);
    }
}

/// The outline of one letter with its origin at `at`, mm.
pub fn glyph_outline(face: Face, id: u16, size: f64, at: Point) -> Path {
    let face = parsed(face);
    let mut outline =
        Outline { path: Path::new(), scale: size / f64::from(face.units_per_em()), at, last: at };
    // A space has no outline.
    let _ = face.outline_glyph(GlyphId(id), &mut outline);
    outline.path
}

/// The outlines of a line of text.
pub fn outlines(text: &Text) -> Path {
    let mut path = Path::new();
    for glyph in set(text).0 {
        path.steps.extend(glyph_outline(text.face, glyph.id, text.size, glyph.at).steps);
    }
    path
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::colour::Rgb;

    fn text(words: &str, anchor: Anchor) -> Text {
        Text {
            at: point(10.0, 5.0),
            size: 4.0,
            words: words.into(),
            anchor,
            face: Face::Regular,
            paint: Rgb::INK.into(),
        }
    }

    #[test]
    fn text_sits_on_its_baseline_and_is_aligned_by_its_anchor() {
        let width = width("HHH", 4.0, Face::Regular);
        for (anchor, left) in
            [(Anchor::Start, 10.0), (Anchor::Middle, 10.0 - width / 2.0), (Anchor::End, 10.0 - width)]
        {
            let bounds = outlines(&text("HHH", anchor)).bounds().unwrap();
            assert!(bounds.x > left && bounds.x + bounds.width < left + width);
            assert!((bounds.y + bounds.height - 5.0).abs() < 1e-6, "an H sits on the line");
            // Source Sans Pro: capitals are 0.66 em high (published metrics).
            assert!((bounds.height / 4.0 - 0.66).abs() < 0.01);
        }
    }

    #[test]
    fn control_characters_are_left_out_and_long_words_are_cut() {
        assert_eq!(
            outlines(&text("a\u{1b}[31m\nb", Anchor::Start)),
            outlines(&text("a[31mb", Anchor::Start))
        );
        let short = shortened("a very long name of a ground", 4.0, Face::Regular, 20.0);
        assert!(short.ends_with('…') && short.starts_with("a very"));
        assert!(width(&short, 4.0, Face::Regular) <= 20.0);
        assert_eq!(shortened("rose", 4.0, Face::Regular, 20.0), "rose");
    }

    #[test]
    fn the_faces_have_every_character_the_pictures_use() {
        for face in [Face::Regular, Face::Semibold] {
            for sign in "ABCXYZabcxyzäöüßéèñ0123456789×·–—…→←°²±/()".chars() {
                assert!(parsed(face).glyph_index(sign).is_some(), "{sign} in {face:?}");
            }
        }
    }
}
