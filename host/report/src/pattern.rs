//! What an arrangement of colours makes of a ground, as the reports write it.

use schemars::JsonSchema;
use serde::Serialize;

/// Kinds of pattern, by what is seen of the lace.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Pattern {
    /// One colour.
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

impl From<lace::Pattern> for Pattern {
    fn from(pattern: lace::Pattern) -> Pattern {
        match pattern {
            lace::Pattern::Plain => Pattern::Plain,
            lace::Pattern::Columns => Pattern::Columns,
            lace::Pattern::Rows => Pattern::Rows,
            lace::Pattern::DiagonalsLeft => Pattern::DiagonalsLeft,
            lace::Pattern::DiagonalsRight => Pattern::DiagonalsRight,
            lace::Pattern::Zigzags => Pattern::Zigzags,
            lace::Pattern::Checks => Pattern::Checks,
            lace::Pattern::Spots => Pattern::Spots,
            lace::Pattern::EvenMix => Pattern::EvenMix,
        }
    }
}

/// After how much lace the colours come again.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Period {
    /// Pairs until the colours come again to the right.
    pub pairs_across: usize,
    /// Grid steps until then.
    pub steps_across: f64,
    /// When the same colours lie straight below. Null: not within as many rows of repeats as are
    /// looked at (256).
    pub down: Option<PeriodDown>,
}

/// Rows of repeats until the same colours lie straight below, and grid steps
/// until then.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct PeriodDown(pub usize, pub f64);

impl From<lace::ColourPeriod> for Period {
    fn from(period: lace::ColourPeriod) -> Period {
        Period {
            pairs_across: period.pairs_across,
            steps_across: period.steps_across,
            down: period.down.map(|down| PeriodDown(down.rows, down.steps)),
        }
    }
}
