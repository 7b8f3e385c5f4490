//! Kinds of pattern in words.

use std::fmt;

use crate::colour::pattern::Pattern;

macro_rules! words {
    ($($kind:ident $word:literal $words:literal;)*) => {
        impl Pattern {
            /// Every kind, in the order in which they are listed.
            pub const ALL: &'static [Pattern] = &[$(Pattern::$kind),*];

            /// The plain word for it, as it is typed.
            pub const fn word(self) -> &'static str {
                match self { $(Pattern::$kind => $word),* }
            }

            /// The name a lacemaker would use.
            pub const fn words(self) -> &'static str {
                match self { $(Pattern::$kind => $words),* }
            }
        }
    };
}

words! {
    Plain "plain" "plain";
    Columns "columns" "columns";
    Rows "rows" "rows";
    DiagonalsLeft "diagonals-left" "diagonals to the left";
    DiagonalsRight "diagonals-right" "diagonals to the right";
    Zigzags "zigzags" "zigzags";
    Checks "checks" "checks";
    Spots "spots" "spots";
    EvenMix "even-mix" "even mix";
}

impl fmt::Display for Pattern {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.words())
    }
}
