//! Pages: pictures and words set out on paper or on a contact sheet.
//!
//! Pages of paper are drawings, which exporters take as they are. Contact
//! sheets are pixels from the start, for their pictures are painted straight
//! into them.

mod close_up;
mod columns;
pub mod contact_sheet;
pub mod handout;
pub mod sheet;
mod typography;

/// A line of a table: what is meant, and how much of it there is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fact {
    /// What is meant.
    pub label: String,
    /// How much, with its unit.
    pub value: String,
}

impl Fact {
    /// A fact from its label and its value.
    pub fn new(label: impl Into<String>, value: impl Into<String>) -> Fact {
        Fact { label: label.into(), value: value.into() }
    }
}
