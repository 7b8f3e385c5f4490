//! Patches: the stitches of one area and the ways of their pairs, before they are joined
//! to other areas.

use indexmap::IndexMap;

use super::laid::{Copy, Laid};
use crate::lattice::point::Point;
use crate::repeat::{End, Side};
use crate::stitch::Stitch;

/// The stitches of an area.
pub(crate) struct Patch {
    pub stitches: Vec<(Point, Stitch)>,
    /// Pairs that go from stitch to stitch of the patch, with their twists.
    pub legs: Vec<(End, End, u32)>,
    /// Pairs that leave it, and pairs that come to it.
    pub leaving: Vec<Beyond>,
    pub coming: Vec<Beyond>,
}

/// A pair that goes beyond its patch.
#[derive(Clone, Copy)]
pub(crate) struct Beyond {
    pub end: End,
    /// Where it would go, or come from, if the work of the patch went on.
    pub far: Point,
    pub twists: u32,
}

impl Patch {
    /// Copies of the stitches of a ground, in this order.
    pub fn of_copies(laid: &Laid, copies: &[Copy]) -> Patch {
        let numbers: IndexMap<Copy, usize> = copies.iter().copied().zip(0..).collect();
        let stitches = &laid.ground.stitches();
        let mut patch = Patch {
            stitches: copies.iter().map(|&c| (laid.place(c), stitches[c.stitch].stitch.clone())).collect(),
            legs: Vec::new(),
            leaving: Vec::new(),
            coming: Vec::new(),
        };
        for (&copy, &number) in &numbers {
            for side in Side::BOTH {
                let end = End::new(number, side);
                let way = laid.after(copy, side);
                let beyond = |far: Copy, twists| Beyond { end, far: laid.place(far), twists };
                match numbers.get(&way.copy) {
                    Some(&to) => patch.legs.push((end, End::new(to, way.side), way.twists)),
                    None => patch.leaving.push(beyond(way.copy, way.twists)),
                }
                let way = laid.before(copy, side);
                if !numbers.contains_key(&way.copy) {
                    patch.coming.push(beyond(way.copy, way.twists));
                }
            }
        }
        patch
    }

    pub fn places(&self) -> impl Iterator<Item = Point> + '_ {
        self.stitches.iter().map(|(at, _)| *at)
    }
}
