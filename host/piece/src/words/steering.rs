//! Steering: a wish such as `left 3 down the left edge`, answered with the fewest stitches
//! to change.

use std::fmt;
use std::str::FromStr;

use lace::{Change, PieceWish, Side, Steered, Stitch};

use super::place;
use super::trace::{Followed, FollowedError, NotThere};
use crate::names::side_named;
use crate::worked::{Worked, hung_pairs};

/// What is wished of a pair, or of any pair of a colour.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Wish {
    /// The pair or the colour.
    pub whose: Followed,
    /// Where it is wanted.
    pub wish: PieceWish,
}

/// A text that is no wish.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WishError;

impl fmt::Display for WishError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(
            "write a pair or a colour and where it should go: \"left 3 down the left edge\" or \
             \"colour navy ends at the right\"",
        )
    }
}

impl std::error::Error for WishError {}

impl From<FollowedError> for WishError {
    fn from(_: FollowedError) -> WishError {
        WishError
    }
}

impl FromStr for Wish {
    type Err = WishError;

    fn from_str(text: &str) -> Result<Wish, WishError> {
        let lower = text.to_lowercase();
        let parted = |by: &str, end: &str| {
            let at = lower.find(by)?;
            let side = side_named(lower[at + by.len()..].strip_suffix(end)?.trim())?;
            Some((lower[..at].trim().to_owned(), side))
        };
        let (whose, wish) = match (parted(" down the ", " edge"), parted(" ends at the ", "")) {
            (Some((whose, side)), _) => (whose, PieceWish::DownTheEdge(side)),
            (_, Some((whose, side))) => (whose, PieceWish::EndsAt(side)),
            _ => return Err(WishError),
        };
        Ok(Wish { whose: whose.parse()?, wish })
    }
}

/// A wish fulfilled.
#[derive(Clone, Debug)]
pub struct Fulfilled {
    /// The pair that goes there, by its position.
    pub pair: usize,
    /// The stitches to change.
    pub steered: Steered,
    /// The piece with them changed; `None` if nothing has to be.
    pub worked: Option<Box<Worked>>,
}

/// What may be worked at a place when steering: half stitch, and cloth stitch and twist,
/// with a pin and without (common practice, no source).
pub const WORKS: [&str; 4] = ["CT pin CT", "CTCT pin CTCT", "CT", "CTCT"];

impl Worked {
    /// Fulfils a wish with the fewest stitches changed; of several pairs of a colour the
    /// one that needs the fewest. `None` if no choice of [`WORKS`] leads there.
    ///
    /// # Errors
    /// A pair or colour that is not in the piece.
    pub fn fulfil(&self, wish: &Wish) -> Result<Option<Fulfilled>, NotThere> {
        let pairs = self.pairs_of(&wish.whose)?;
        let works: Vec<Stitch> = WORKS.iter().filter_map(|work| work.parse().ok()).collect();
        let ways =
            pairs.into_iter().filter_map(|pair| Some((pair, self.piece.steer(pair, wish.wish, &works)?)));
        let Some((pair, steered)) = ways.min_by_key(|(_, steered)| steered.changes.len()) else {
            return Ok(None);
        };
        let worked = if steered.changes.is_empty() { None } else { self.changed(&steered) };
        Ok(Some(Fulfilled { pair, steered, worked: worked.map(Box::new) }))
    }

    fn pairs_of(&self, whose: &Followed) -> Result<Vec<usize>, NotThere> {
        let pairs = self.piece.pairs();
        let found: Vec<usize> = match whose {
            Followed::Pair(name) => (0..pairs.len()).filter(|&k| pairs[k].name == *name).collect(),
            Followed::Colour(colour) => {
                let is = |k: usize| self.colour(k).to_lowercase() == colour.to_lowercase();
                (0..pairs.len()).filter(|&k| self.colours[k].into_iter().all(is)).collect()
            }
        };
        if found.is_empty() {
            let (sentence, remedy) = match whose {
                Followed::Pair(name) => {
                    (format!("the piece has no pair {name}"), format!("it has {}", hung_pairs(&self.piece)))
                }
                Followed::Colour(colour) => (
                    format!("no pair has both its threads in {}", lace::quote(colour)),
                    format!("its colours are {}", self.palette.names().join(", ")),
                ),
            };
            return Err(NotThere { sentence, remedy });
        }
        Ok(found)
    }

    fn changed(&self, steered: &Steered) -> Option<Worked> {
        let mut design = self.design.clone();
        let at = |s: usize| self.piece.stitches()[s].at;
        for (stitch, work) in &steered.changes {
            design.add_change(Change { at: Some(at(*stitch)), stitch: work.clone(), ..Change::default() });
        }
        Worked::new(design).ok()
    }

    /// The answer to a wish in words, with the lines that go into the text of the piece.
    pub fn answer(&self, wish: &Wish, fulfilled: Option<&Fulfilled>) -> String {
        let side = |side: Side| side.word();
        let goes = match wish.wish {
            PieceWish::DownTheEdge(edge) => format!("runs down the {} edge", side(edge)),
            PieceWish::EndsAt(half) => format!("ends at the {}", side(half)),
        };
        let Some(Fulfilled { pair, steered, .. }) = fulfilled else {
            return format!(
                "No choice of half stitch or cloth stitch and twist, stitch by stitch, leads there: no pair that is meant {goes}.\n"
            );
        };
        let name = self.piece.pairs()[*pair].name;
        let stitches = self.piece.stitches();
        if steered.changes.is_empty() {
            return format!("The pair {name} {goes} already.\n");
        }
        let count = steered.changes.len();
        let mut text = format!(
            "The pair {name} {goes} if {} changed:\n",
            if count == 1 { "one stitch is".to_owned() } else { format!("{count} stitches are") }
        );
        for (s, work) in &steered.changes {
            let placed = &stitches[*s];
            text += &format!(
                "  stitch {} at {}: {} instead of {}\n",
                s + 1,
                place(placed.at),
                work.words(),
                placed.stitch.words()
            );
        }
        text += "No fewer will do. Put these lines at the end of the text:\n\n";
        for (s, work) in &steered.changes {
            let at = stitches[*s].at;
            text += &format!("[[stitch]]\nat = [{}, {}]\nwork = \"{work}\"\n\n", at.x, at.y);
        }
        text
    }
}
