//! Text that flows from column to column: measured, broken into lines, with
//! headings kept with what follows. The result is a list of passages in reading
//! order, each with its role.

use lace::{Ground, Point, point};

use super::typography::{BODY, LEADING, QUIET, heading, lines, text};
use crate::colour::Rgb;
use crate::drawing::font;
use crate::drawing::tagged_page::Role;
use crate::drawing::{Anchor, Drawing, Face, Group, Rect, Shape};

/// Letter size and line height of numbered steps and of remarks, mm.
const SMALL: f64 = 2.75;
const SMALL_LEADING: f64 = 3.8;
/// By how much sums of the same lengths may differ, mm.
const ROUNDING: f64 = 1e-6;
/// Indent of numbered steps for their numbers, mm.
const INDENT: f64 = 6.5;

/// The spacing of the passages in a column, mm.
#[derive(Clone, Copy, Debug)]
pub(super) struct Spacing {
    /// From the passage above to the baseline of a heading.
    pub above_heading: f64,
    /// The same for the first passage of a column.
    pub above_first_heading: f64,
    /// Below the baseline of a heading.
    pub below_heading: f64,
    /// Below a paragraph.
    pub below_paragraph: f64,
    /// Line height of numbered steps.
    pub steps_leading: f64,
}

impl Spacing {
    /// Of a handout.
    pub const HANDOUT: Spacing = Spacing {
        above_heading: 6.0,
        above_first_heading: 3.4,
        below_heading: 1.4,
        below_paragraph: 0.8,
        steps_leading: 3.8,
    };
    /// Of a sheet, which is one page.
    pub const SHEET: Spacing = Spacing {
        above_heading: 5.0,
        above_first_heading: 5.0,
        below_heading: 1.2,
        below_paragraph: 1.0,
        steps_leading: 3.9,
    };
}

/// An order of working in words.
#[derive(Clone, Debug)]
pub(super) struct OrderInWords {
    start: String,
    steps: Vec<String>,
    going_on: String,
}

impl OrderInWords {
    /// The order of working of a ground.
    pub fn of(ground: &Ground) -> OrderInWords {
        let order = ground.order_of_working();
        OrderInWords {
            start: order.start_in_words(),
            steps: ground.steps_in_words(&order),
            going_on: ground.going_on_in_words(&order),
        }
    }
}

/// A passage of text.
pub(super) struct Passage {
    /// The number of the column that it is in.
    pub column: usize,
    /// Its role.
    pub role: Role,
    /// Its shapes in reading order.
    pub groups: Vec<Group>,
}

/// Columns being filled from the top.
pub(super) struct Columns {
    columns: Vec<Rect>,
    /// Columns of every further page.
    further: Vec<Rect>,
    column: usize,
    y: f64,
    lowest: f64,
    spacing: Spacing,
    passages: Vec<Passage>,
    /// Whether something was left out for lack of room.
    pub full: bool,
}

impl Columns {
    /// Empty columns, at least one, filled in order.
    pub fn new(columns: Vec<Rect>, spacing: Spacing) -> Columns {
        let y = columns.first().map_or(0.0, |c| c.y);
        let further = Vec::new();
        Columns { columns, further, column: 0, y, lowest: y, spacing, passages: Vec::new(), full: false }
    }

    /// Lets the text run on to as many further pages as it needs, each with these
    /// columns.
    #[must_use]
    pub fn running_on(mut self, further: Vec<Rect>) -> Columns {
        self.further = further;
        self
    }

    /// Where the next passage would start.
    pub fn y(&self) -> f64 {
        self.y
    }

    /// The lowest point of the fullest column.
    pub fn lowest(&self) -> f64 {
        self.lowest.max(self.y)
    }

    /// Continues in the next column, if there is one.
    pub fn next_column(&mut self) {
        if self.column + 1 == self.columns.len() {
            self.columns.extend_from_slice(&self.further);
        }
        if self.column + 1 < self.columns.len() {
            self.lowest = self.lowest();
            self.column += 1;
            self.y = self.here().y;
        }
    }

    fn is_last(&self) -> bool {
        self.column + 1 == self.columns.len() && self.further.is_empty()
    }

    fn here(&self) -> Rect {
        self.columns[self.column.min(self.columns.len() - 1)]
    }

    fn left(&self) -> f64 {
        self.here().y + self.here().height - self.y
    }

    /// Reserves a height in this column or a later one. Returns the upper left corner
    /// of the room; `None` when all columns are full.
    fn room(&mut self, height: f64) -> Option<Point> {
        while self.left() + ROUNDING < height {
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
            let groups = vec![Group { shapes, ..Group::new("words") }];
            self.passages.push(Passage { column: self.column, role, groups });
        }
    }

    /// Adds a heading, kept with two lines of what follows.
    pub fn heading(&mut self, words: &str) {
        if self.left() < 7.0 + 2.0 * LEADING {
            self.next_column();
        }
        let Spacing { above_heading, above_first_heading, below_heading, .. } = self.spacing;
        let above = if self.y > self.here().y { above_heading } else { above_first_heading };
        if let Some(at) = self.room(above + below_heading) {
            self.put(Role::Heading(2), vec![heading(words, at + point(0.0, above))]);
        }
    }

    fn set(&mut self, words: &str, size: f64, leading: f64, below: f64, colour: Rgb) {
        let mut shapes = Vec::new();
        for line in spaced(lines(words, size, Face::Regular, self.here().width)) {
            let Some(at) = self.room(leading) else { break };
            let at = at + point(0.0, leading);
            shapes.push(text(&line, at, size, Face::Regular, colour, Anchor::Start));
        }
        self.put(Role::Paragraph, shapes);
        self.y += below;
    }

    /// Adds a paragraph.
    pub fn paragraph(&mut self, words: &str) {
        self.set(words, BODY, LEADING, self.spacing.below_paragraph, Rgb::INK);
    }

    /// Adds a remark in small letters.
    pub fn remark(&mut self, words: &str) {
        self.y += 0.8;
        self.set(words, SMALL, SMALL_LEADING, 0.8, QUIET);
    }

    /// Adds a label and its value at opposite sides of the column. Both wrap when
    /// they do not fit on one line, and stay in one column.
    pub fn fact(&mut self, label: &str, value: &str) {
        const BETWEEN: f64 = 3.0;
        let width = self.here().width;
        let room = width - font::width(label, BODY, Face::Regular) - BETWEEN;
        let values = lines(value, BODY, Face::Semibold, room.max(width / 3.0));
        let widest = values.iter().map(|line| font::width(line, BODY, Face::Semibold)).fold(0.0, f64::max);
        let labels = lines(label, BODY, Face::Regular, width - widest - BETWEEN);
        let rows = labels.len().max(values.len());
        let Some(at) = self.room(LEADING * rows as f64) else { return };
        let mut shapes = Vec::new();
        for row in 0..rows {
            let at = at + point(0.0, LEADING * (row + 1) as f64);
            if let Some(label) = labels.get(row) {
                let label = format!("{label} ");
                shapes.push(text(&label, at, BODY, Face::Regular, QUIET, Anchor::Start));
            }
            if let Some(value) = values.get(row) {
                let at = at + point(width, 0.0);
                shapes.push(text(value, at, BODY, Face::Semibold, Rgb::INK, Anchor::End));
            }
        }
        self.put(Role::Paragraph, shapes);
    }

    /// Adds a heading with a drawing of text below it, unbroken. `make` draws it for
    /// the width of a column.
    pub fn drawing(&mut self, heading: &str, make: impl Fn(f64) -> Drawing) {
        let mut drawing = make(self.here().width);
        if self.left() < 7.5 + drawing.height && !self.is_last() {
            self.next_column();
            drawing = make(self.here().width);
        }
        self.heading(heading);
        if let Some(at) = self.room(drawing.height) {
            // Only to move it there.
            let mut moved = Drawing::new(0.0, 0.0, "");
            moved.place(&drawing, at, "");
            self.passages.push(Passage { column: self.column, role: Role::Paragraph, groups: moved.groups });
        }
    }

    /// Adds numbered steps; those that find no room are left out, and the columns are
    /// full.
    pub fn steps(&mut self, steps: &[String]) {
        for (step, number) in steps.iter().zip(1..) {
            let own = spaced(lines(step, SMALL, Face::Regular, self.here().width - INDENT));
            // A step stays in one column, unless it is longer than that.
            let leading = self.spacing.steps_leading;
            let longest = ((self.here().height / leading) as usize).max(1);
            for (k, part) in own.chunks(longest).enumerate() {
                let Some(at) = self.room(leading * part.len() as f64) else { return };
                let number = if k == 0 { number.to_string() } else { String::new() };
                self.step(&number, part, at);
            }
        }
    }

    /// Sets the lines of a step below a place, with its number beside the first.
    fn step(&mut self, number: &str, lines: &[String], at: Point) {
        let down = |k: usize| point(0.0, self.spacing.steps_leading * (k + 1) as f64);
        let beside = at + point(INDENT - 1.6, 0.0) + down(0);
        let mut shapes = vec![text(number, beside, SMALL, Face::Semibold, QUIET, Anchor::End)];
        shapes.extend(lines.iter().enumerate().map(|(k, line)| {
            text(line, at + point(INDENT, 0.0) + down(k), SMALL, Face::Regular, Rgb::INK, Anchor::Start)
        }));
        self.put(Role::Item, shapes);
    }

    /// Adds an order of working: what to know first, the steps, how it goes on.
    pub fn order(&mut self, order: &OrderInWords) {
        self.remark(&order.start);
        self.steps(&order.steps);
        self.remark(&order.going_on);
    }

    /// All passages, in reading order.
    pub fn into_passages(self) -> Vec<Passage> {
        self.passages
    }
}

/// Puts back the spaces that line breaking removed, for programs that read the
/// text of the file.
fn spaced(mut lines: Vec<String>) -> Vec<String> {
    let count = lines.len();
    lines.iter_mut().take(count.saturating_sub(1)).for_each(|line| line.push(' '));
    lines
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::{Text, rect};

    /// Two columns, 40 mm wide, of a given height.
    fn columns(height: f64) -> Columns {
        Columns::new([0.0, 50.0].map(|x| rect(x, 10.0, 40.0, height)).to_vec(), Spacing::HANDOUT)
    }

    /// Every line with its role.
    fn set(columns: Columns) -> Vec<(Role, Text)> {
        let mut all = Vec::new();
        for Passage { role, groups, .. } in columns.into_passages() {
            for shape in groups.into_iter().flat_map(|group| group.shapes) {
                if let Shape::Text(text) = shape {
                    all.push((role.clone(), text));
                }
            }
        }
        all
    }

    #[test]
    fn text_flows_into_the_next_column_and_stays_within_both() {
        let mut columns = columns(30.0);
        let words = "Every dot is a pin, at its true place on the card. ".repeat(5);
        columns.paragraph(&words);
        assert!(!columns.full);
        let lines = set(columns);
        assert!(lines.iter().any(|(_, text)| text.at.x == 0.0));
        assert!(lines.iter().any(|(_, text)| text.at.x == 50.0));
        for (role, text) in &lines {
            assert_eq!(*role, Role::Paragraph);
            assert!(text.at.y <= 40.0 && font::width(&text.words, BODY, Face::Regular) <= 41.0);
        }
        let read: String = lines.iter().map(|(_, text)| text.words.as_str()).collect();
        assert_eq!(read, words.trim_end());
    }

    #[test]
    fn a_heading_stays_with_what_follows() {
        let mut columns = columns(30.0);
        columns.paragraph("One line.");
        columns.paragraph("Another.");
        columns.paragraph("And a third.");
        columns.heading("Order of working");
        columns.paragraph("Below it.");
        let lines = set(columns);
        let [.., (Role::Heading(2), heading), (_, below)] = &lines[..] else { panic!("{lines:?}") };
        assert_eq!((heading.at.x, below.at.x), (50.0, 50.0));
    }

    #[test]
    fn steps_go_on_from_column_to_column_until_all_are_full() {
        let steps: Vec<String> = (0..20).map(|k| format!("step {k}")).collect();
        let items = |height: f64| {
            let mut columns = columns(height);
            columns.steps(&steps);
            let full = columns.full;
            let passages = columns.into_passages();
            assert!(passages.iter().all(|passage| passage.role == Role::Item));
            (full, [0, 1].map(|column| passages.iter().filter(|p| p.column == column).count()))
        };
        assert_eq!(items(20.0), (true, [5, 5]));
        assert_eq!(items(40.0), (false, [10, 10]));
    }

    #[test]
    fn text_runs_on_to_further_pages() {
        let steps: Vec<String> = (0..20).map(|k| format!("step {k}")).collect();
        let mut columns = columns(20.0).running_on(vec![rect(0.0, 10.0, 90.0, 20.0)]);
        columns.steps(&steps);
        assert!(!columns.full);
        let columns: Vec<usize> = columns.into_passages().iter().map(|passage| passage.column).collect();
        assert_eq!(columns, (0..20).map(|step| step / 5).collect::<Vec<_>>());
    }

    // Words of 256 moves are longer than a page.
    #[test]
    fn a_step_longer_than_a_column_is_broken() {
        let mut columns = columns(20.0).running_on(vec![rect(0.0, 10.0, 40.0, 20.0)]);
        columns.steps(&["twist the left pair, ".repeat(60)]);
        assert!(!columns.full);
        let lines = set(columns);
        assert!(lines.iter().all(|(_, text)| text.at.y <= 30.0));
        assert_eq!(lines.iter().filter(|(_, text)| text.words == "1").count(), 1);
        let read: String = lines.iter().map(|(_, text)| text.words.as_str()).collect();
        assert_eq!(read.matches("left pair,").count(), 60);
    }

    #[test]
    fn labels_and_values_never_overlap() {
        for (label, value) in [
            ("Pins", "12"),
            ("How often each pair is pinned, on average", "1.5 times"),
            ("Thread", "a value that is far too long for what is left of the line beside it"),
        ] {
            let mut columns = columns(60.0);
            columns.fact(label, value);
            let lines = set(columns);
            for (_, a) in lines.iter().filter(|(_, text)| text.anchor == Anchor::Start) {
                for (_, b) in
                    lines.iter().filter(|(_, text)| text.anchor == Anchor::End && text.at.y == a.at.y)
                {
                    let left = a.at.x + font::width(&a.words, BODY, Face::Regular);
                    assert!(left <= b.at.x - font::width(&b.words, BODY, Face::Semibold), "{label}");
                }
            }
            let words = |anchor: Anchor| {
                let of = lines.iter().filter(|(_, text)| text.anchor == anchor);
                of.map(|(_, text)| text.words.trim_end()).collect::<Vec<_>>().join(" ")
            };
            assert_eq!((words(Anchor::Start), words(Anchor::End)), (label.to_owned(), value.to_owned()));
        }
    }
}
