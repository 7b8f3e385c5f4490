//! Building a page part by part, in reading order.

use lace::{Point, point};

use crate::colour::Rgb;
use crate::drawing::font;
use crate::drawing::pricking::{Paper, cautions};
use crate::drawing::tagged_page::{Part, Role, TaggedPage};
use crate::drawing::{Anchor, Drawing, Face, Group, Rect, Shape, Text, rect};
use crate::page::columns::{Columns, Passage};
use crate::page::typography::{MARGIN, QUIET, frames, head, heading, text};

/// Room for the title of a page, and for its foot.
const HEAD: f64 = 17.0;
const FOOT: f64 = 8.0;

/// A page being built.
pub(super) struct PageBuilder {
    pub page: Drawing,
    pub contents_title: String,
    parts: Vec<Part>,
}

/// The area of a page between title and foot.
pub(super) const fn body(paper: Paper) -> Rect {
    rect(MARGIN, MARGIN + HEAD, paper.width - 2.0 * MARGIN, paper.height - 2.0 * MARGIN - HEAD - FOOT)
}

/// Whether a line of text lies within a rectangle, including ascenders (0.75 of
/// its size) and descenders (0.22), the measures of the typeface.
fn within(text: &Text, all: Rect) -> bool {
    let wide = font::width(&text.words, text.size, text.face);
    let left = match text.anchor {
        Anchor::Start => text.at.x,
        Anchor::Middle => text.at.x - wide / 2.0,
        Anchor::End => text.at.x - wide,
    };
    left >= all.x
        && left + wide <= all.x + all.width
        && text.at.y - 0.75 * text.size >= all.y
        && text.at.y + 0.22 * text.size <= all.y + all.height
}

impl PageBuilder {
    /// An empty page with its title in the table of contents.
    pub fn new(paper: Paper, contents_title: &str) -> PageBuilder {
        let mut page = Drawing::new(paper.width, paper.height, contents_title);
        page.background = Rgb::WHITE.into();
        PageBuilder { page, contents_title: contents_title.to_owned(), parts: Vec::new() }
    }

    /// Adds groups unchanged.
    pub fn add(&mut self, role: Role, groups: impl IntoIterator<Item = Group>) {
        let before = self.page.groups.len();
        for group in groups {
            let id = format!("part-{}-{}", self.parts.len(), group.id);
            self.page.groups.push(Group { id, ..group });
        }
        let groups = self.page.groups.len() - before;
        if groups > 0 {
            self.parts.push(Part { role, groups });
        }
    }

    /// Adds shapes.
    pub fn put(&mut self, role: Role, shapes: Vec<Shape>) {
        self.add(role, [Group { shapes, ..Group::new("shapes") }]);
    }

    /// Places a drawing on the page; text that its edge would cut is left out.
    pub fn picture(&mut self, drawing: &Drawing, at: Point, shows: String) {
        let before = self.page.groups.len();
        self.page.place(drawing, at, &format!("part-{}-", self.parts.len()));
        for group in &mut self.page.groups[before..] {
            let clip = group.clip;
            group.shapes.retain(|shape| match (shape, clip) {
                (Shape::Text(text), Some(clip)) => within(text, clip),
                _ => true,
            });
        }
        let groups = self.page.groups.len() - before;
        self.parts.push(Part { role: Role::Figure(shows), groups });
    }

    /// Adds the title and subtitle at the head of the page.
    pub fn head(&mut self, title: &str, subtitle: &str) {
        let [title, subtitle] = head(title, subtitle, self.page.width);
        self.put(Role::Heading(1), vec![title]);
        self.put(Role::Paragraph, vec![subtitle]);
    }

    /// Adds a small heading on its baseline.
    pub fn heading(&mut self, words: &str, at: Point) {
        self.put(Role::Heading(2), vec![heading(words, at)]);
    }

    /// Adds thin lines round rectangles.
    pub fn frames(&mut self, rects: &[Rect]) {
        self.put(Role::Decoration, vec![frames(rects)]);
    }

    /// Adds all passages of columns.
    pub fn columns(&mut self, columns: Columns) {
        self.passages(columns.into_passages());
    }

    /// Adds passages of text.
    pub fn passages(&mut self, passages: Vec<Passage>) {
        for Passage { role, groups, .. } in passages {
            self.add(role, groups);
        }
    }

    /// Finishes the page with its foot.
    pub fn finished(mut self, title: &str, number: usize, count: usize) -> TaggedPage {
        let (right, base) = (self.page.width - MARGIN, self.page.height - MARGIN + 2.0);
        let page = format!("Page {number} of {count}");
        let room = right - MARGIN - font::width(&page, 2.8, Face::Regular) - 6.0;
        let title = font::shortened(title, 2.8, Face::Regular, room);
        let mut foot = Group::new("foot");
        foot.shapes.push(text(&title, point(MARGIN, base), 2.8, Face::Regular, QUIET, Anchor::Start));
        foot.shapes.push(text(&page, point(right, base), 2.8, Face::Regular, QUIET, Anchor::End));
        self.add(Role::Decoration, [cautions(point(right, base - 4.0)), foot]);
        TaggedPage { drawing: self.page, contents_title: self.contents_title, parts: self.parts }
    }
}
