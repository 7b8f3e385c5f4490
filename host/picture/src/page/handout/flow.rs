//! Words that run down columns, one after the other.

use lace::{Point, point};

use super::leaf::{Leaf, lines, text};
use super::{BODY, LEADING, QUIET};
use crate::colour::Rgb;
use crate::drawing::font;
use crate::drawing::tagged_page::Role;
use crate::drawing::{Anchor, Drawing, Face, Group, Rect, Shape};

/// Letters and lines of numbered steps and of remarks, mm.
const SMALL: f64 = 2.75;
const SMALL_LEADING: f64 = 3.8;

/// Columns being filled from the top.
pub(super) struct Flow {
    columns: Vec<Rect>,
    column: usize,
    y: f64,
    lowest: f64,
    parts: Vec<(Role, Vec<Group>)>,
    /// Something had no room and was left out.
    pub full: bool,
}

impl Flow {
    /// Empty columns, the first filled first.
    pub fn new(columns: Vec<Rect>) -> Flow {
        let y = columns.first().map_or(0.0, |c| c.y);
        Flow { columns, column: 0, y, lowest: y, parts: Vec::new(), full: false }
    }

    /// Where the next thing would stand.
    pub fn y(&self) -> f64 {
        self.y
    }

    /// How far down the fullest column reaches.
    pub fn lowest(&self) -> f64 {
        self.lowest.max(self.y)
    }

    /// Goes on in the next column, if there is one.
    pub fn next_column(&mut self) {
        if self.column + 1 < self.columns.len() {
            self.lowest = self.lowest();
            self.column += 1;
            self.y = self.here().y;
        }
    }

    fn is_last(&self) -> bool {
        self.column + 1 == self.columns.len()
    }

    fn here(&self) -> Rect {
        self.columns[self.column.min(self.columns.len() - 1)]
    }

    fn left(&self) -> f64 {
        self.here().y + self.here().height - self.y
    }

    /// Makes room of a height in this column or the next. The upper left corner
    /// of the room; `None` when all columns are full.
    fn room(&mut self, height: f64) -> Option<Point> {
        while self.left() < height {
            if self.is_last() {
                self.full = true;
                return None;
            }
            self.next_column();
        }
        let at = point(self.here().x, self.y);
        self.y += height;
        Some(at)
    }

    fn put(&mut self, role: Role, shapes: Vec<Shape>) {
        if !shapes.is_empty() {
            self.parts.push((role, vec![Group { shapes, ..Group::new("words") }]));
        }
    }

    /// A heading, which stays with two lines of what follows.
    pub fn heading(&mut self, words: &str) {
        if self.left() < 7.0 + 2.0 * LEADING {
            self.next_column();
        }
        // None above the first thing of a column.
        let above = if self.y > self.here().y { 6.0 } else { 3.4 };
        if let Some(at) = self.room(above + 1.4) {
            let at = at + point(0.0, above);
            self.put(Role::Heading(2), vec![text(words, at, 3.8, Face::Semibold, Rgb::INK, Anchor::Start)]);
        }
    }

    fn set(&mut self, words: &str, size: f64, leading: f64, colour: Rgb) {
        let mut shapes = Vec::new();
        let all = lines(words, size, Face::Regular, self.here().width);
        let count = all.len();
        for (k, line) in all.into_iter().enumerate() {
            let Some(at) = self.room(leading) else { break };
            // The space that breaking the line took away, for those who read
            // the file and not the page.
            let line = if k + 1 < count { line + " " } else { line };
            let at = at + point(0.0, leading);
            shapes.push(text(&line, at, size, Face::Regular, colour, Anchor::Start));
        }
        self.put(Role::Paragraph, shapes);
        self.y += 0.8;
    }

    /// A paragraph.
    pub fn paragraph(&mut self, words: &str) {
        self.set(words, BODY, LEADING, Rgb::INK);
    }

    /// A remark in small letters.
    pub fn remark(&mut self, words: &str) {
        self.y += 0.8;
        self.set(words, SMALL, SMALL_LEADING, QUIET);
    }

    /// What and how much, each on its side of the column.
    pub fn fact(&mut self, what: &str, value: &str) {
        let width = self.here().width;
        let wide = font::width(what, BODY, Face::Regular) + 3.0;
        let values = lines(value, BODY, Face::Semibold, (width - wide).max(width / 3.0));
        let mut shapes = Vec::new();
        for (k, value) in values.iter().enumerate() {
            let Some(at) = self.room(LEADING) else { break };
            let at = at + point(0.0, LEADING);
            if k == 0 {
                let what = font::shortened(what, BODY, Face::Regular, 2.0 * width / 3.0 - 3.0);
                shapes.push(text(&format!("{what} "), at, BODY, Face::Regular, QUIET, Anchor::Start));
            }
            let at = at + point(width, 0.0);
            shapes.push(text(value, at, BODY, Face::Semibold, Rgb::INK, Anchor::End));
        }
        self.put(Role::Paragraph, shapes);
    }

    /// A heading and a drawing of words below it, whole.
    pub fn drawing(&mut self, heading: &str, make: impl Fn(f64) -> Drawing) {
        let mut drawing = make(self.here().width);
        if self.left() < 7.5 + drawing.height && !self.is_last() {
            self.next_column();
            drawing = make(self.here().width);
        }
        self.heading(heading);
        if let Some(at) = self.room(drawing.height) {
            // Only to move it there.
            let mut place = Drawing::new(0.0, 0.0, "");
            place.place(&drawing, at, "");
            self.parts.push((Role::Paragraph, place.groups));
        }
    }

    /// Numbered steps; says how many there is no room for. How many there was
    /// room for.
    pub fn steps(&mut self, steps: &[String]) -> usize {
        let indent = 6.5;
        for (k, step) in steps.iter().enumerate() {
            let all = lines(step, SMALL, Face::Regular, self.here().width - indent);
            let rest = steps.len() - k;
            let last = self.is_last();
            // Room for the words that there are more.
            let more = if last && rest > 1 { 1 } else { 0 };
            if last && self.left() < SMALL_LEADING * (all.len() + more) as f64 {
                let words = match rest {
                    1 => "… and one more step".to_owned(),
                    _ => format!("… and {rest} more steps"),
                };
                if let Some(at) = self.room(SMALL_LEADING) {
                    let at = at + point(indent, SMALL_LEADING);
                    let line = text(&words, at, SMALL, Face::Regular, QUIET, Anchor::Start);
                    self.put(Role::Paragraph, vec![line]);
                }
                return k;
            }
            let Some(at) = self.room(SMALL_LEADING * all.len() as f64) else { return k };
            let mut shapes = Vec::new();
            for (n, words) in all.iter().enumerate() {
                let at = at + point(0.0, SMALL_LEADING * (n + 1) as f64);
                if n == 0 {
                    let number = format!("{}", k + 1);
                    let at = at + point(indent - 1.6, 0.0);
                    shapes.push(text(&number, at, SMALL, Face::Semibold, QUIET, Anchor::End));
                }
                let words = if n + 1 < all.len() { format!("{words} ") } else { words.clone() };
                let at = at + point(indent, 0.0);
                shapes.push(text(&words, at, SMALL, Face::Regular, Rgb::INK, Anchor::Start));
            }
            self.put(Role::Item, shapes);
        }
        steps.len()
    }

    /// Puts everything on the page.
    pub fn onto(self, leaf: &mut Leaf) {
        for (role, groups) in self.parts {
            leaf.add(role, groups);
        }
    }
}
