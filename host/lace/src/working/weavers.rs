//! Weavers: pairs that go stitch after stitch through others that hang straight
//! down, turn at a pin, and go back, as in cloth stitch and half stitch.
//!
//! Only the wiring decides. In plain ground every pair crosses over in every
//! stitch: it arrives at one side of it and leaves from the other. A passive leaves
//! from the side at which it arrives next.

use crate::ground::Ground;
use crate::repeat::{End, Leg};

/// The legs along which weavers go.
#[derive(Clone, Debug)]
pub(crate) struct Weavers {
    /// By position among the legs of the repeat.
    legs: Vec<bool>,
    /// By stitch, whether a weaver comes to it or leaves it.
    stitches: Vec<bool>,
    /// The legs of weavers: first the legs within a row, up to the pin that ends it, then
    /// the others.
    joined: Vec<usize>,
}

impl Weavers {
    /// The weavers of a ground; often there are none.
    pub fn new(ground: &Ground) -> Weavers {
        let legs = ground.legs();
        let pinned = |stitch: usize| ground.stitches()[stitch].stitch.pin().is_some();
        let passives = |leg: &Leg| {
            let beside_from = &legs[ground.leg_from(End::new(leg.from.stitch, leg.from.side.other()))];
            let beside_to = &legs[ground.leg_to(End::new(leg.to.stitch, leg.to.side.other()))];
            [beside_from, beside_to].into_iter().filter(|leg| !crosses_over(leg)).count()
        };
        let passives: Vec<usize> =
            legs.iter().map(|leg| if crosses_over(leg) { passives(leg) } else { 0 }).collect();
        // Certain where passives hang at both ends, and at one end of the leg before or
        // after. A row goes on from there past an edge, where a pair is taken in or left
        // out.
        let certain = |&leg: &usize| {
            let Leg { from, to, .. } = legs[leg];
            let before = ground.leg_to(End::new(from.stitch, from.side.other()));
            let after = ground.leg_from(End::new(to.stitch, to.side.other()));
            passives[leg] == 2 && passives[before] + passives[after] > 0
        };
        let mut weavers = vec![false; legs.len()];
        let mut found: Vec<usize> = (0..legs.len()).filter(certain).collect();
        while let Some(leg) = found.pop() {
            if std::mem::replace(&mut weavers[leg], true) {
                continue;
            }
            let (End { stitch: before, side: out }, End { stitch: after, side: into }) =
                (legs[leg].from, legs[leg].to);
            let mut next = vec![
                ground.leg_to(End::new(before, out.other())),
                ground.leg_from(End::new(after, into.other())),
            ];
            if pinned(before) {
                next.push(ground.leg_to(End::new(before, out)));
            }
            if pinned(after) {
                next.push(ground.leg_from(End::new(after, into)));
            }
            found.extend(next.into_iter().filter(|&leg| passives[leg] > 0 && !weavers[leg]));
        }
        // A row ends at the pin where its weaver turns. Where two weavers meet, theirs
        // begin and end there.
        let ends_row = |&leg: &usize| {
            let Leg { from, to, .. } = legs[leg];
            let meets = weavers[ground.leg_to(End::new(to.stitch, to.side.other()))];
            pinned(from.stitch) || (pinned(to.stitch) && meets)
        };
        let mut joined: Vec<usize> = (0..legs.len()).filter(|&leg| weavers[leg]).collect();
        joined.sort_by_key(ends_row);
        let mut stitches = vec![false; ground.stitches().len()];
        for &leg in &joined {
            stitches[legs[leg].from.stitch] = true;
            stitches[legs[leg].to.stitch] = true;
        }
        Weavers { legs: weavers, stitches, joined }
    }

    /// Whether a stitch is worked by a weaver.
    pub fn work(&self, stitch: usize) -> bool {
        self.stitches[stitch]
    }

    /// Whether a weaver goes along a leg.
    pub fn along(&self, leg: usize) -> bool {
        self.legs[leg]
    }

    /// The legs along which weavers go: first those within a row, then from row to row.
    pub fn legs(&self) -> &[usize] {
        &self.joined
    }
}

/// Whether a pair that goes along a leg leaves from one side and arrives at the other.
fn crosses_over(leg: &Leg) -> bool {
    leg.from.side != leg.to.side
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::repeat::samples::{honeycomb, rose, torchon};

    #[test]
    fn no_pair_of_a_plain_ground_is_a_weaver() {
        for repeat in [torchon("CT pin CT", 1), rose("CTCT", "CT pin CT"), honeycomb("CTT pin CTT")] {
            for repeat in [repeat.set_out(2, 3), repeat] {
                let weavers = Weavers::new(&Ground::new(repeat).unwrap());
                assert_eq!(weavers.legs(), []);
            }
        }
    }
}
