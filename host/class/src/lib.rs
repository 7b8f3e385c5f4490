//! A class: the recipe a teacher writes, what it needs, and its handout.
//!
//! [`recipe::read`] turns the text of a recipe into a [`Recipe`](recipe::Recipe)
//! and its faults: each with its place in the text, what is wrong and what to
//! do. A [`Class`] adds everything computed from it: which grounds can be
//! worked, where colours go, what is needed, and the handout to print.
//! Nothing here reads files or prints.
//!
//! ```
//! use catalogue::Catalogue;
//! use class::recipe::read;
//!
//! let catalogue = Catalogue::default();
//! let text = "format = \"pairwise-recipe/1\"\ntitle = \"Bookmarks\"\n[[ground]]\nname = \"rose\"\n";
//! let read = read(text, None, &catalogue);
//! assert_eq!(read.recipe.unwrap().title, "Bookmarks");
//! // An empty catalogue has no rose ground.
//! let fault = &read.faults[0];
//! assert_eq!((fault.line, &text[fault.at.clone()]), (4, "\"rose\""));
//! assert_eq!(fault.sentence, "the ground `rose` is not known");
//! ```

mod area;
mod class;
mod handout;
mod needs;
mod paper;
pub mod recipe;
#[cfg(test)]
mod samples;

pub use area::{Area, AreaError, PaperSize};
pub use class::{Class, ClassGround, Member, MissingGround};
pub use handout::Printed;
pub use needs::Needs;
pub use paper::ClassPaper;
