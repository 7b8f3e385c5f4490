//! How a repeat is written in JSON: stitches by name, so that anyone can read
//! it and compute the rest again.

use indexmap::IndexMap;
use serde::{Deserialize, Deserializer, Serialize, Serializer};

use crate::lattice::Lattice;
use crate::lattice::point::Point;
use crate::repeat::{End, Leg, PlacedStitch, Repeat, Side};
use crate::stitch::Stitch;
use crate::words::quote::quote;

#[derive(Serialize, Deserialize)]
struct WireStitch {
    id: String,
    at: Option<Point>,
    moves: Stitch,
}

#[derive(Serialize, Deserialize)]
struct WireLeg {
    from: (String, Side),
    to: (String, Side),
    cell: [i64; 2],
    twists: u32,
}

#[derive(Serialize, Deserialize)]
struct WireRepeat {
    cell: Lattice,
    stitches: Vec<WireStitch>,
    legs: Vec<WireLeg>,
}

impl Serialize for Repeat {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let name = |end: End| {
            let stitch = self.stitches.get(end.stitch);
            (stitch.map_or_else(|| end.stitch.to_string(), |s| s.id.clone()), end.side)
        };
        WireRepeat {
            cell: self.lattice,
            stitches: self
                .stitches
                .iter()
                .map(|s| WireStitch { id: s.id.clone(), at: s.at, moves: s.stitch.clone() })
                .collect(),
            legs: self
                .legs
                .iter()
                .map(|l| WireLeg {
                    from: name(l.from),
                    to: name(l.to),
                    cell: l.cell.into(),
                    twists: l.twists,
                })
                .collect(),
        }
        .serialize(serializer)
    }
}

impl<'de> Deserialize<'de> for Repeat {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Repeat, D::Error> {
        let wire = WireRepeat::deserialize(deserializer)?;
        let number: IndexMap<&str, usize> =
            wire.stitches.iter().enumerate().map(|(n, s)| (s.id.as_str(), n)).collect();
        let end = |(id, side): &(String, Side)| {
            number
                .get(id.as_str())
                .map(|&stitch| End::new(stitch, *side))
                .ok_or_else(|| serde::de::Error::custom(format!("no stitch is called `{}`", quote(id))))
        };
        let legs = wire
            .legs
            .iter()
            .map(|l| Ok(Leg { from: end(&l.from)?, to: end(&l.to)?, cell: l.cell.into(), twists: l.twists }))
            .collect::<Result<_, D::Error>>()?;
        let stitches = wire
            .stitches
            .iter()
            .map(|s| PlacedStitch { id: s.id.clone(), at: s.at, stitch: s.moves.clone() })
            .collect();
        Ok(Repeat { lattice: wire.cell, stitches, legs })
    }
}
