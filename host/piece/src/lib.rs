//! A piece as a small text, `pairwise-piece/1`, written by hand by a lacemaker.
//!
//! [`read()`] turns the text into a [`Design`], or tells every fault with its line, its
//! place and what to do. [`Worked::new`] works it out: the stitches in the order of
//! working, every pair in its colours, and the findings with the lines they concern.
//! [`Worked::in_words`] says what comes of it as a teacher would, [`Worked::follow`]
//! follows a pair or a colour. Nothing here reads files or prints.
//!
//! ```
//! use catalogue::Catalogue;
//!
//! let text = "format = \"pairwise-piece/1\"\ntitle = \"Bookmark\"\n\
//!             [outline]\nwidth = 5\nsides = 61000\n[ground]\nname = \"torchon\"\n";
//! // An empty catalogue has no torchon ground.
//! let catalogue = Catalogue::default();
//! let faults = piece::read(text, &|name| Ok(catalogue.meant(name)?)).unwrap_err();
//! let said: Vec<(usize, &str)> = faults.iter().map(|f| (f.line, f.sentence.as_str())).collect();
//! assert_eq!(
//!     said,
//!     [(5, "61000 pins down each side are more than a piece can have"), (7, "the ground `torchon` is not known")]
//! );
//! ```

mod colours;
mod design;
mod names;
mod pictures;
mod read;
mod words;
mod worked;

pub use colours::{Hung, Whose};
pub use design::{Design, DesignArea, DesignFilling, DesignGround};
pub use names::pair_name;
pub use pictures::LaidOut;
pub use read::{LookUp, Missing, is_piece, read};
pub use words::PINS_AN_HOUR;
pub use words::steering::{Fulfilled, WORKS, Wish, WishError};
pub use words::trace::{Followed, FollowedError, NotThere};
pub use worked::{Located, Unworkable, Worked};

/// The format that the texts name.
pub const FORMAT: &str = "pairwise-piece/1";
/// Largest text, in bytes.
pub const MOST_BYTES: u64 = 1 << 18;

/// A fault of a text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// Where it is, in bytes of the text.
    pub at: std::ops::Range<usize>,
    /// Its line, counted from 1.
    pub line: usize,
    /// What is wrong.
    pub sentence: String,
    /// What to do.
    pub remedy: String,
}
