//! Which grounds and which pictures of a comparison are kept.

use catalogue::Chosen;
use catalogue::span::Span;
use lace::Pattern;

use crate::cell::Cell;
use crate::error::Error;
use crate::scale::Scale;

/// What is kept; everything, unless said otherwise.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Kept {
    /// Grounds with this many moves per square cm.
    pub moves: Option<Span>,
    /// Grounds with this many pins per square cm.
    pub pins: Option<Span>,
    /// Pictures with one of these kinds of pattern; of all kinds if empty.
    pub patterns: Vec<Pattern>,
    /// Pictures whose pattern is this clear, in per cent.
    pub clear_percent: Option<Span>,
}

/// A measure by which grounds are kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum KeptBy {
    /// Moves per square cm.
    Moves,
    /// Pins per square cm.
    Pins,
}

impl KeptBy {
    /// What is counted.
    pub const fn word(self) -> &'static str {
        match self {
            KeptBy::Moves => "moves",
            KeptBy::Pins => "pins",
        }
    }
}

impl Kept {
    /// Whether single pictures may be left out.
    pub fn is_of_pictures(&self) -> bool {
        !self.patterns.is_empty() || self.clear_percent.is_some()
    }

    /// Whether a picture is kept.
    pub fn keeps(&self, cell: &Cell) -> bool {
        (self.patterns.is_empty() || self.patterns.contains(&cell.pattern))
            && self.clear_percent.is_none_or(|span| span.holds(percent(cell.clearness)))
    }

    /// The grounds that are kept, on their prickings.
    ///
    /// # Errors
    /// A ground that cannot be pricked, and [`Error::NoGroundKept`].
    pub(super) fn grounds(&self, mut grounds: Vec<Chosen>, scale: &Scale) -> Result<Vec<Chosen>, Error> {
        for (by, span) in [(KeptBy::Moves, self.moves), (KeptBy::Pins, self.pins)] {
            let Some(span) = span else { continue };
            let mut values = Vec::with_capacity(grounds.len());
            for chosen in &grounds {
                let measures = chosen.ground.measures(&scale.grid(chosen.about())?);
                values.push(match by {
                    KeptBy::Moves => measures.moves_per_cm2,
                    KeptBy::Pins => measures.pins_per_cm2,
                });
            }
            if !values.iter().any(|value| span.holds(*value)) {
                let least = values.iter().copied().fold(f64::INFINITY, f64::min);
                let most = values.iter().copied().fold(0.0, f64::max);
                return Err(Error::NoGroundKept { by, span, least, most });
            }
            let mut values = values.into_iter();
            grounds.retain(|_| values.next().is_some_and(|value| span.holds(value)));
        }
        Ok(grounds)
    }

    /// Refuses to keep no picture at all.
    pub(super) fn check(&self, cells: &[Vec<Cell>]) -> Result<(), Error> {
        let all = || cells.iter().flatten();
        if all().any(|cell| self.keeps(cell)) {
            return Ok(());
        }
        let of = |pattern: &Pattern| all().filter(|cell| cell.pattern == *pattern).count();
        let found = Pattern::ALL.iter().map(|p| (*p, of(p))).filter(|(_, n)| *n > 0).collect();
        let wanted = all().filter(|c| self.patterns.is_empty() || self.patterns.contains(&c.pattern));
        let clearest = wanted.map(|cell| percent(cell.clearness)).reduce(f64::max);
        Err(Error::NoPictureKept { kept: Box::new(self.clone()), found, clearest })
    }
}

/// A share in whole per cent, as captions say it.
pub(crate) fn percent(share: f64) -> f64 {
    (100.0 * share).round()
}
