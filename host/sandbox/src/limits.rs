//! The limits for a contribution.
//!
//! They are far above what any ground needs and far below what would slow the
//! machine down. All but the last two are counted, so that every machine gives
//! the same answer. They are safety against harm, not part of the interface.

/// Size of a contribution's file, in bytes.
pub const FILE_BYTES: usize = 2 << 20;
/// Memory a contribution may use, in bytes.
pub const MEMORY_BYTES: usize = 32 << 20;
/// Stack a contribution may use, in bytes.
pub const STACK_BYTES: usize = 512 << 10;
/// Instructions one call may take. Those that call the host or move much memory
/// at once count for more. The largest built-in
/// ground takes an eighth.
pub const INSTRUCTIONS: u64 = 20_000_000;
/// Instructions that the description and the repeats of all varieties may take
/// together: what a command asks of every contribution unasked.
pub const ALL_INSTRUCTIONS: u64 = 200_000_000;
/// Instructions that `check` spends on trying sets of choices; what is left then
/// is counted and not tried.
pub const CHECK_INSTRUCTIONS: u64 = 4_000_000_000;
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
/// Bytes of code in one function.
pub const FUNCTION_BYTES: usize = 64 << 10;
/// Parameters and local variables of one function.
pub const FUNCTION_LOCALS: usize = 2000;
/// Blocks in one function.
pub const FUNCTION_BLOCKS: usize = 4000;
/// Targets of all tables of branches in one function.
pub const FUNCTION_TARGETS: usize = 4000;
/// Values carried between the blocks of one function: what the types of its
/// blocks, branches and calls name, and every local variable once for every
/// block.
pub const FUNCTION_VALUES: usize = 50_000;
/// Values carried between the blocks of one function, times its blocks. The
/// compiler takes about 12 bytes for each and, where loops are nested, half a
/// microsecond. The largest function of a built-in ground has 51 thousand, of the
/// same compiled without any optimisation 880 thousand.
pub const FUNCTION_WORK: usize = 4_000_000;
/// Values carried between the blocks of all functions.
pub const VALUES: usize = 500_000;
/// The same times blocks, of all functions.
pub const WORK: usize = 20_000_000;

/// Memory of the process that tries strangers' contributions, in bytes: address
/// space, most of which is reserved and never used.
pub const TRIAL_BYTES: u64 = 1 << 30;
/// Seconds that the processor may work to try one contribution. A net for what
/// the other limits do not count.
pub const TRIAL_SECONDS: u64 = 30;

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
