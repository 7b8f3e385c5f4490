//! Kinds of pattern that colours make on a ground, told apart by what is seen:
//! where each colour lies, in which direction it goes on without a break, and
//! whether it lies in blocks. They are found from where threads are drawn, by the
//! crate that compares grounds.

/// Kinds of pattern.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Pattern {
    /// All threads have one colour.
    Plain,
    /// Stripes of each colour straight down the lace.
    Columns,
    /// Stripes of each colour level across the lace.
    Rows,
    /// Stripes that slant down to the left.
    DiagonalsLeft,
    /// Stripes that slant down to the right.
    DiagonalsRight,
    /// Stripes down or across the lace that swing from side to side.
    Zigzags,
    /// Blocks of each colour side by side, or stripes that cross.
    Checks,
    /// Patches of one colour, each by itself, on a ground of another.
    Spots,
    /// No colour stands out anywhere: they are mixed alike all over.
    EvenMix,
}
