//! The limits for a contribution.
//!
//! They are far above what any ground needs (a large one takes a hundredth) and
//! far below what would slow the machine down.

/// Size of a contribution's file, in bytes.
pub const FILE_BYTES: usize = 2 << 20;
/// Memory a contribution may use, in bytes.
pub const MEMORY_BYTES: usize = 32 << 20;
/// Stack a contribution may use, in bytes.
pub const STACK_BYTES: usize = 512 << 10;
/// Instructions one call may take. This is the limit that counts: it is the same
/// on every machine.
pub const INSTRUCTIONS: u64 = 500_000_000;
/// Seconds the processor may work for one call. A safety net for time that
/// instructions do not count; on any machine the instructions run out long before.
pub const SECONDS: u64 = 60;
/// Data one call may hand over to the host, in bytes.
pub const DATA_BYTES: usize = 8 << 20;
/// Elements in all tables of a contribution.
pub const TABLE_ELEMENTS: usize = 10_000;
/// Modules and components inside a file, and tables and instances when it runs.
/// Memories: one.
pub const PARTS: usize = 16;
/// How deeply components may be nested.
pub const NESTING: usize = 8;
/// Functions in a file.
pub const FUNCTIONS: usize = 50_000;
/// How deeply blocks may be nested in a function.
pub const BLOCKS: usize = 1000;
/// Local variables of all functions in a file.
pub const LOCALS: usize = 1_000_000;

pub use catalogue::limits::{
    CHOICES, COUNT_VALUES, NAMES, NOTES_CHARS, OPTIONS, SENTENCE_CHARS, TITLE_CHARS, VARIETIES, WORD_CHARS,
};

/// Stitches in a repeat.
pub const STITCHES: usize = lace::limits::MAX_STITCHES;
/// Legs in a repeat.
pub const LEGS: usize = lace::limits::MAX_LEGS;
/// Moves in one stitch.
pub const MOVES: usize = lace::limits::MAX_MOVES;
/// Moves in all stitches of a repeat plus twists on all its legs. The slowest
/// step, finding where the threads lie, grows with their number.
pub const ALL_MOVES: usize = 10_000;
