//! Keys to working diagrams: what each mark, letter, dot, bar and arrow means.

use lace::{Grid, Lacework, PairEffect, Point, Stitch, point};

use super::marks::{Sizes, kind_letter, label, mark};
use crate::colour::Rgb;
use crate::drawing::font;
use crate::drawing::{Anchor, Cap, Drawing, Face, Group, Path, Shape, Stroke};

/// The lines of a key, each a sign and its meaning.
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

    /// Adds a line; `sign` draws its sign at a place.
    fn line(&mut self, sign: impl FnOnce(&mut Group, Point, &Sizes), words: &str) {
        self.base += Key::LINE;
        sign(&mut self.group, point(3.0, self.base - 0.35 * Key::SIZE), &self.sizes);
        let lines = font::wrapped(words, Key::SIZE, Face::Regular, self.width - 11.0);
        for (k, words) in lines.into_iter().enumerate() {
            self.base += if k > 0 { 1.25 * Key::SIZE } else { 0.0 };
            let at = point(11.0, self.base);
            self.group.shapes.push(Shape::Text(label(words, at, Key::SIZE, Anchor::Start, Face::Regular)));
        }
    }

    /// Explains a mark with the letter of its kind.
    fn stitch(&mut self, kind: usize, words: &str) {
        let sign = |group: &mut Group, at: Point, sizes: &Sizes| {
            mark(group, kind, at, sizes);
            let at = at + point(1.6 * sizes.mark, 0.35 * Key::SIZE);
            group.shapes.push(Shape::Text(label(
                kind_letter(kind),
                at,
                Key::SIZE,
                Anchor::Start,
                Face::Semibold,
            )));
        };
        self.line(sign, words);
    }

    /// Explains a dot.
    fn pin(&mut self, words: &str) {
        let sign = |group: &mut Group, at: Point, sizes: &Sizes| {
            group.shapes.push(Shape::fill(Path::circle(at, 0.07 * sizes.unit), Rgb::INK));
        };
        self.line(sign, words);
    }

    /// Explains a bar.
    fn twists(&mut self) {
        let sign = |group: &mut Group, at: Point, sizes: &Sizes| {
            let half = point(3.0, 0.0);
            let bar = point(0.0, 0.15 * sizes.unit);
            let line = Path::line([at - half, at + half]);
            group.shapes.push(Shape::stroke(line, Stroke::new(Rgb::INK, sizes.line)));
            let bars = Stroke { cap: Cap::Butt, ..Stroke::new(Rgb::INK, 0.055 * sizes.unit) };
            group.shapes.push(Shape::stroke(Path::line([at - bar, at + bar]), bars));
        };
        self.line(sign, "each bar is one extra twist of the pair");
    }

    /// Explains an arrow.
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
pub fn diagram_key(ground: &Lacework, width: f64) -> Drawing {
    key_of(ground, width, |stitch| {
        let words = ground.kind_in_words(stitch);
        match stitch.letters() {
            Some(letters) => format!("{words}   ({letters})"),
            None => words,
        }
    })
}

/// The same with only the names of stitches, without their moves.
pub(crate) fn diagram_key_of_names(ground: &Lacework, width: f64) -> Drawing {
    key_of(ground, width, |stitch| ground.kind_in_words(stitch))
}

fn key_of(ground: &Lacework, width: f64, words: impl Fn(&Stitch) -> String) -> Drawing {
    let mut key = Key::new(width);
    for (kind, stitch) in ground.distinct_stitches().into_keys().enumerate() {
        key.stitch(kind, &words(stitch));
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

/// How to read the working diagrams of several grounds: every sign, `width` mm
/// wide, with pairs in two colours.
pub(crate) fn diagram_guide(width: f64, colours: [Rgb; 2]) -> Drawing {
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
    key.stitch(
        0,
        "a stitch with the letter of its kind: a colour and a letter for every kind on a page; the key beside the diagram says which",
    );
    key.pin("a pin: inside the mark when the stitch closes it, above it when it is set first, below it when it is set last");
    key.twists();
    key.turns();
    let number = |group: &mut Group, at: Point, _: &Sizes| {
        let at = at + point(0.0, 0.35 * Key::SIZE);
        group.shapes.push(Shape::Text(label("12".to_owned(), at, Key::SIZE, Anchor::Middle, Face::Regular)));
    };
    key.line(number, "beside a mark: its place in the order of working, and the number of its step in words; a windmill has one number");
    key.drawing("How to read the working diagrams")
}
