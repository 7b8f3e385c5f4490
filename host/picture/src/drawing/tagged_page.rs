//! The tagged page: a drawing that says what its parts are, for those who have
//! a page read to them.

use crate::drawing::Drawing;

/// What a part of a page is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Role {
    /// A heading: 1 for that of a page, 2 for one below it.
    Heading(u8),
    /// Words.
    Paragraph,
    /// One of a list; those that follow each other are one list.
    Item,
    /// A picture, and what it shows in words.
    Figure(String),
    /// Nothing that need be read: frames, what stands on every page.
    Decoration,
}

/// Groups of a drawing that belong together.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Part {
    /// What it is.
    pub role: Role,
    /// How many groups it has: those that follow the groups of the parts before.
    pub groups: usize,
}

/// A page with its parts, in the order in which they are read.
#[derive(Clone, Debug, PartialEq)]
pub struct TaggedPage {
    /// The page.
    pub drawing: Drawing,
    /// Its title in the table of contents.
    pub contents_title: String,
    /// Its parts, as many groups as there are in the drawing.
    pub parts: Vec<Part>,
}
