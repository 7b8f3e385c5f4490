//! The tagged page: a drawing whose parts have roles, for screen readers.

use crate::drawing::Drawing;

/// The role of a part of a page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Role {
    /// A heading: level 1 for the page title, 2 for those below it.
    Heading(u8),
    /// A paragraph.
    Paragraph,
    /// A list item; consecutive items form one list.
    Item,
    /// A picture with its alternative text.
    Figure(String),
    /// Nothing to be read: frames, and text repeated on every page.
    Decoration,
}

/// A part of a page: groups of a drawing that belong together.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Part {
    /// Its role.
    pub role: Role,
    /// How many groups it has; they follow those of the parts before it.
    pub groups: usize,
}

/// A page with its parts in reading order.
#[derive(Clone, Debug, PartialEq)]
pub struct TaggedPage {
    /// The drawing of the page.
    pub drawing: Drawing,
    /// Its title in the table of contents.
    pub contents_title: String,
    /// Its parts, which together cover all groups of the drawing.
    pub parts: Vec<Part>,
}
