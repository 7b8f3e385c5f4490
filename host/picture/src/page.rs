//! Pages: pictures and words set out on paper or on a contact sheet.

pub mod contact_sheet;
pub mod handout;
pub mod sheet;
