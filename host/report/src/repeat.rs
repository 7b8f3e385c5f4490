//! A repeat as the reports write it: stitches by name, so that anyone can read
//! it and compute the rest again.

use indexmap::IndexMap;
use lace::quote;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use thiserror::Error;

/// A repeat: stitches and legs that, set side by side in two directions, fill
/// any area.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Repeat {
    /// The two steps by which the repeat is set out.
    pub cell: Lattice,
    /// The stitches of one repeat.
    pub stitches: Vec<Stitch>,
    /// The pairs on their way from the stitches of one repeat, two for every stitch.
    pub legs: Vec<Leg>,
}

/// The two steps by which a repeat is set out over the area, in grid steps: to
/// the right, then down. A grid step is half the distance of two footside pins.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Lattice {
    /// From a repeat to its neighbour across.
    pub across: [f64; 2],
    /// From a repeat to its neighbour down.
    pub down: [f64; 2],
}

/// A stitch of the repeat.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Stitch {
    /// Its name, used once in the repeat.
    pub id: String,
    /// Its place in grid steps, to the right, then down. Null: it is balanced among its
    /// neighbours, as are all the others.
    pub at: Option<[f64; 2]>,
    /// What is worked, such as `CT pin CT`: moves in order, and `pin` where the pin is set.
    pub moves: String,
}

/// A pair on its way from a stitch to the next.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Leg {
    /// Where the pair leaves.
    pub from: End,
    /// Where it arrives.
    pub to: End,
    /// The cell of the arrival, counted from that of the departure: steps across, steps down.
    pub cell: [i64; 2],
    /// Extra twists of the pair on the way, each right over left.
    pub twists: u32,
}

/// Where a pair leaves or enters a stitch: the name of the stitch, and which of
/// its two pairs it is.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct End(pub String, pub Side);

/// Left or right, as the lacemaker sees it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
#[allow(missing_docs)]
pub enum Side {
    Left,
    Right,
}

impl From<lace::Side> for Side {
    fn from(side: lace::Side) -> Side {
        match side {
            lace::Side::Left => Side::Left,
            lace::Side::Right => Side::Right,
        }
    }
}

impl From<Side> for lace::Side {
    fn from(side: Side) -> lace::Side {
        match side {
            Side::Left => lace::Side::Left,
            Side::Right => lace::Side::Right,
        }
    }
}

impl From<&lace::Repeat> for Repeat {
    fn from(repeat: &lace::Repeat) -> Repeat {
        // A repeat that has not been checked may lead to stitches that are not there.
        let end = |end: lace::End| {
            let stitch = repeat.stitches.get(end.stitch);
            End(stitch.map_or_else(|| end.stitch.to_string(), |s| s.id.clone()), end.side.into())
        };
        let stitch = |s: &lace::PlacedStitch| Stitch {
            id: s.id.clone(),
            at: s.at.map(<[f64; 2]>::from),
            moves: s.stitch.to_string(),
        };
        let leg =
            |l: &lace::Leg| Leg { from: end(l.from), to: end(l.to), cell: l.cell.into(), twists: l.twists };
        Repeat {
            cell: Lattice { across: repeat.lattice.across.into(), down: repeat.lattice.down.into() },
            stitches: repeat.stitches.iter().map(stitch).collect(),
            legs: repeat.legs.iter().map(leg).collect(),
        }
    }
}

/// Why a repeat that was read is none.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum RepeatError {
    /// A leg leaves or enters a stitch that is not there.
    #[error("no stitch is called `{}`", quote(.0))]
    NoStitch(String),
    /// What is worked in a stitch is no stitch.
    #[error("the stitch `{}`: {why}", quote(id))]
    Moves {
        /// Its name.
        id: String,
        /// What is wrong.
        why: lace::StitchError,
    },
}

impl TryFrom<&Repeat> for lace::Repeat {
    type Error = RepeatError;

    /// The repeat that was written, not checked yet.
    ///
    /// # Errors
    /// [`RepeatError`] where names or moves cannot be read.
    fn try_from(repeat: &Repeat) -> Result<lace::Repeat, RepeatError> {
        let number: IndexMap<&str, usize> =
            repeat.stitches.iter().enumerate().map(|(n, s)| (s.id.as_str(), n)).collect();
        let end = |End(id, side): &End| match number.get(id.as_str()) {
            Some(&stitch) => Ok(lace::End::new(stitch, (*side).into())),
            None => Err(RepeatError::NoStitch(id.clone())),
        };
        let stitch = |s: &Stitch| {
            let moves = s.moves.parse();
            let stitch = moves.map_err(|why| RepeatError::Moves { id: s.id.clone(), why })?;
            Ok(lace::PlacedStitch { id: s.id.clone(), at: s.at.map(lace::Point::from), stitch })
        };
        let leg = |l: &Leg| {
            Ok(lace::Leg { from: end(&l.from)?, to: end(&l.to)?, cell: l.cell.into(), twists: l.twists })
        };
        Ok(lace::Repeat {
            lattice: lace::Lattice { across: repeat.cell.across.into(), down: repeat.cell.down.into() },
            stitches: repeat.stitches.iter().map(stitch).collect::<Result<_, _>>()?,
            legs: repeat.legs.iter().map(leg).collect::<Result<_, _>>()?,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_repeat_is_read_as_it_was_written() {
        for repeat in [lace::samples::torchon("CT pin CT", 1), lace::samples::rose("CTCT", "pin CT")] {
            let text = serde_json::to_string(&Repeat::from(&repeat)).unwrap();
            let read: Repeat = serde_json::from_str(&text).unwrap();
            assert_eq!(lace::Repeat::try_from(&read), Ok(repeat));
        }
    }

    #[test]
    fn what_cannot_be_read_is_named() {
        let good = Repeat::from(&lace::samples::torchon("CT pin CT", 1));
        let mut lost = good.clone();
        lost.legs[0].to.0 = "elsewhere".to_owned();
        let why = lace::Repeat::try_from(&lost).unwrap_err();
        assert_eq!(why.to_string(), "no stitch is called `elsewhere`");
        let mut odd = good;
        odd.stitches[0].moves = "CX".to_owned();
        let why = lace::Repeat::try_from(&odd).unwrap_err().to_string();
        assert!(why.contains(&odd.stitches[0].id) && why.contains("`CX` is not a move"), "{why}");
    }
}
