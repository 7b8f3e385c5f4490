//! Limits for repeats, arrangements and searches: on size, and on the work that a
//! size allows. All are counted, so the answer is the same on every machine. Every
//! message that names a limit takes it from here. What drawing may cost beyond
//! them is in the limits of the crate that draws.

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
/// Most crossings of two threads in a repeat. A twist of both pairs makes two, a
/// pair move four, an extra twist on a leg one.
pub const MAX_CROSSINGS: usize = 20_000;
/// Most crossings of two threads over one square grid step. What is drawn is a
/// window some grid steps wide, so this bounds the crossings in a picture.
pub const MAX_CROSSINGS_PER_STEP: f64 = 256.0;
/// Most legs over one square grid step, when each lies over the whole rectangle
/// that it spans: a leg that runs far in a small repeat is drawn again for each
/// repeat it passes.
pub const MAX_LEGS_PER_STEP: f64 = 500.0;
/// Most findings of one code that are listed; the last says how many more there
/// are.
pub const MAX_FINDINGS: usize = 50;
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
/// Most symmetries times places on which they act: the memory they take.
pub const MAX_SYMMETRY_PLACES: usize = 1 << 22;
/// Most crossings by which it is counted how often colours meet: in the rows of one
/// repeat, and in all repeats until colours repeat. With more, fewer rows are
/// counted.
pub const MAX_CROSSINGS_COUNTED: [usize; 2] = [1 << 20, 1 << 26];
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
