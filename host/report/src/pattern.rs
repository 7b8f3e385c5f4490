//! What an arrangement of colours makes of a ground, as the reports write it.

use schemars::JsonSchema;
use serde::Serialize;

/// Kinds of pattern.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Pattern {
    /// One colour.
    Plain,
    /// Stripes down the lace: threads that stay in their columns bear the pattern.
    Columns,
    /// Threads that travel to the left bear the pattern.
    DiagonalsLeft,
    /// Threads that travel to the right bear the pattern.
    DiagonalsRight,
    /// Threads that go far to and fro on the way (workers) bear the pattern.
    Zigzags,
    /// Threads that travel to either side cross, and make blocks of each colour.
    Checks,
    /// As checks, but no two stitches beside each other are all in one of the colours.
    Spots,
    /// The colours mix everywhere.
    EvenMix,
}

impl From<lace::Pattern> for Pattern {
    fn from(pattern: lace::Pattern) -> Pattern {
        match pattern {
            lace::Pattern::Plain => Pattern::Plain,
            lace::Pattern::Columns => Pattern::Columns,
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
