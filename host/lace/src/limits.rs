//! Size limits for repeats, arrangements and searches. Every message that names
//! a limit takes it from here.

/// Most stitches in a repeat.
pub const MAX_STITCHES: usize = 2000;
/// Most legs in a repeat: two leave every stitch.
pub const MAX_LEGS: usize = 2 * MAX_STITCHES;
/// Most moves in a stitch.
pub const MAX_MOVES: usize = 256;
/// Most extra twists on a leg.
pub const MAX_TWISTS: u32 = 64;
/// Farthest cell to which a leg may lead, across and down.
pub const MAX_CELL: i64 = 1000;
/// Farthest coordinate of a place or of a lattice step, in grid steps.
pub const MAX_PLACE: f64 = 10_000.0;
/// Most pairs that hang across one upright repeat.
pub const MAX_REPEAT_PAIRS: usize = 4000;
/// Most steps, across and down, that are tried for a level vector of a lattice.
pub const MAX_LEVEL_SEARCH: i64 = 64;
/// Longest plain word that names a stitch, a ground or a choice, in characters.
pub const MAX_WORD: usize = 40;

/// Least area for a stitch, in square grid steps: with less, any picture would
/// hold too many stitches.
pub const MIN_STITCH_AREA: f64 = 0.01;
/// Least height of a row of repeats, in grid steps.
pub const MIN_ROW_HEIGHT: f64 = 0.01;
/// A repeat is lopsided when its longest leg is more than this many times as
/// long as its shortest (common practice, no source).
pub const LOPSIDED: f64 = 6.0;

/// Most pairs in an arrangement of colours, and in a trace.
pub const MAX_ARRANGEMENT_PAIRS: usize = 512;
/// Most colours in an arrangement: one for each letter.
pub const MAX_COLOURS: usize = 26;
/// Most symmetries used to compare arrangements. A ground with more may list
/// arrangements separately that look the same.
pub const MAX_SYMMETRIES: usize = 4096;
/// Most rows of repeats over which threads are followed.
pub const MAX_ROWS: usize = 256;
/// Most moves in a stitch that is tried when steering a pair.
pub const MAX_TRIED_MOVES: usize = 10;

/// Least and greatest spacing of footside pins, in millimetres.
pub const PIN_SPACING_MM: [f64; 2] = [0.5, 100.0];
/// Least and greatest angle of the grid from the footside, in degrees.
pub const GRID_ANGLE_DEG: [f64; 2] = [20.0, 75.0];
/// Least and greatest thickness of a thread, in millimetres.
pub const THREAD_MM: [f64; 2] = [0.02, 10.0];
