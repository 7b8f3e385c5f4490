//! Kinds of pattern in words.

use std::fmt;

use crate::colour::pattern::Pattern;

impl Pattern {
    /// The name a lacemaker would use.
    pub const fn words(self) -> &'static str {
        match self {
            Pattern::Plain => "plain",
            Pattern::Columns => "columns",
            Pattern::DiagonalsLeft => "diagonals to the left",
            Pattern::DiagonalsRight => "diagonals to the right",
            Pattern::Zigzags => "zigzags",
            Pattern::Checks => "checks",
            Pattern::Spots => "spots",
            Pattern::EvenMix => "even mix",
        }
    }
}

impl fmt::Display for Pattern {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.words())
    }
}
