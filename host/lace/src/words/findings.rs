//! Findings in words: where they lie, and what was found.

use std::fmt;

use crate::check::findings::{Finding, Place};
use crate::words::number::listed;

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Place::Repeat => f.write_str("the repeat"),
            Place::Stitches(ids) => {
                f.write_str(if ids.len() == 1 { "stitch " } else { "stitches " })?;
                // A long list helps nobody: name a few.
                const SHOWN: usize = 8;
                f.write_str(&ids.iter().take(SHOWN).cloned().collect::<Vec<_>>().join(", "))?;
                if ids.len() > SHOWN {
                    write!(f, " and {} more", ids.len() - SHOWN)?;
                }
                Ok(())
            }
            Place::Leg { from, side } => write!(f, "the {} pair of stitch {from}", side.word()),
            Place::Pairs(pairs) => {
                let all: Vec<String> = pairs
                    .iter()
                    .map(|(from, side)| format!("the {} pair of stitch {from}", side.word()))
                    .collect();
                f.write_str(&listed(&all))
            }
        }
    }
}

impl fmt::Display for Finding {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}", self.code, self.sentence)
    }
}
