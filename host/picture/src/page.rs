//! Pages: pictures and text arranged on paper or on a contact sheet.
//!
//! Pages of paper are drawings, ready to export. Contact sheets are pixels from
//! the start, because their pictures are painted straight into them.

mod close_up;
mod columns;
pub mod contact_sheet;
pub mod handout;
mod order_pages;
pub mod sheet;
mod typography;

/// A line of a table: a label and a value.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fact {
    /// The label.
    pub label: String,
    /// The value, with its unit.
    pub value: String,
}

impl Fact {
    /// A fact from its label and its value.
    pub fn new(label: impl Into<String>, value: impl Into<String>) -> Fact {
        Fact { label: label.into(), value: value.into() }
    }
}
