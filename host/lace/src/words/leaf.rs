//! Stitches in words where they stand in their ground: a woven one is a tally or a
//! leaf.
//!
//! The moves of the two are the same, so that the places decide. Common practice, no
//! source: a tally is square, a leaf is pointed. The pairs of a tally stay apart at
//! both ends; those of a leaf come from nearly one place, or go to nearly one, as from
//! a windmill or to it.

use crate::lattice::point::Point;
use crate::repeat::{End, Repeat, Side};
use crate::stitch::Stitch;
use crate::threads::lacework::Lacework;
use crate::words::stitch::Woven;

/// Two places that differ by less than this across and down are nearly one, in grid
/// steps: any two dots of a grid are farther apart.
const ONE_PLACE: f64 = 1.0;

/// Whether what lies at one end of a stitch is nearly one place.
fn is_one_place(end: &[Point]) -> bool {
    matches!(end, [a, b] if (a.x - b.x).abs() < ONE_PLACE && (a.y - b.y).abs() < ONE_PLACE)
}

/// The name of a woven stitch, from the places that its pairs come from and those
/// that they go to.
fn woven(before: &[Point], after: &[Point]) -> Woven {
    if is_one_place(before) || is_one_place(after) { Woven::Leaf } else { Woven::Tally }
}

impl Lacework {
    /// The stitch of this number in words, as [`Stitch::words`] puts it, except that
    /// one woven to a point is a `leaf`.
    pub fn stitch_in_words(&self, stitch: usize) -> String {
        self.stitches()[stitch].stitch.words_as(|| self.woven(stitch))
    }

    /// A kind of stitch in words, wherever it is worked in the ground: `tally or leaf`
    /// if it is square at some places and pointed at others.
    pub fn kind_in_words(&self, kind: &Stitch) -> String {
        kind.words_as(|| {
            let places = (0..self.stitches().len()).filter(|&k| self.stitches()[k].stitch == *kind);
            let names = places.map(|k| self.woven(k));
            names.reduce(|one, next| if one == next { one } else { Woven::Either }).unwrap_or(Woven::Tally)
        })
    }

    fn woven(&self, stitch: usize) -> Woven {
        let before = Side::BOTH.map(|side| {
            let leg = &self.legs()[self.leg_to(End::new(stitch, side))];
            self.places()[leg.from.stitch] - self.lattice().place(leg.cell)
        });
        let after = Side::BOTH.map(|side| {
            let leg = &self.legs()[self.leg_from(End::new(stitch, side))];
            self.places()[leg.to.stitch] + self.lattice().place(leg.cell)
        });
        woven(&before, &after)
    }
}

impl Repeat {
    /// The same as [`Lacework::stitch_in_words`] for a repeat that may be wrong, with
    /// its stitches at `places`.
    pub fn stitch_in_words(&self, stitch: usize, places: &[Point]) -> String {
        self.stitches[stitch].stitch.words_as(|| {
            let arriving = self.legs.iter().filter(|leg| leg.to.stitch == stitch);
            let before = arriving.filter_map(|leg| {
                places.get(leg.from.stitch).map(|&from| from - self.lattice.place(leg.cell))
            });
            let leaving = self.legs.iter().filter(|leg| leg.from.stitch == stitch);
            let after = leaving
                .filter_map(|leg| places.get(leg.to.stitch).map(|&to| to + self.lattice.place(leg.cell)));
            woven(&before.collect::<Vec<_>>(), &after.collect::<Vec<_>>())
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ground::Ground;
    use crate::lattice::point::point;
    use crate::repeat::samples::{rose, torchon};

    /// A tally, once there and back.
    const TALLY: &str = "twist-left C twist-right twist-right C twist-left";

    fn words(ground: &Ground) -> Vec<String> {
        let words: Vec<String> = (0..ground.stitches().len()).map(|k| ground.stitch_in_words(k)).collect();
        let of_repeat = (0..words.len()).map(|k| ground.repeat().stitch_in_words(k, ground.places()));
        assert_eq!(of_repeat.collect::<Vec<_>>(), words);
        words
    }

    // Common practice, no source: on the dots of a grid pairs meet from two sides.
    #[test]
    fn on_the_dots_of_a_grid_it_is_a_tally() {
        for repeat in [torchon(TALLY, 1), torchon(&format!("{TALLY} pin"), 0), rose(TALLY, "CT pin CT")] {
            let ground = Ground::new(repeat).unwrap();
            assert!(words(&ground)[0].starts_with("tally, once there and back"), "{:?}", words(&ground));
        }
    }

    /// A rose whose first stitch is woven, with the stitches before and after it at
    /// places so far apart.
    fn with_neighbours(before: f64, after: f64) -> Ground {
        let mut repeat = rose(TALLY, "CT pin CT");
        let arriving: Vec<_> = repeat.legs.iter().filter(|leg| leg.to.stitch == 0).copied().collect();
        let leaving: Vec<_> = repeat.legs.iter().filter(|leg| leg.from.stitch == 0).copied().collect();
        let at = repeat.stitches[0].at.unwrap();
        let lattice = repeat.lattice;
        // Every pair runs down.
        let [above, below] = [[-0.2, -0.6], [1.2, 0.6]];
        for ((leg, x), y) in arriving.iter().zip([-before / 2.0, before / 2.0]).zip(above) {
            repeat.stitches[leg.from.stitch].at = Some(at + point(x, y) + lattice.place(leg.cell));
        }
        for ((leg, x), y) in leaving.iter().zip([-after / 2.0, after / 2.0]).zip(below) {
            repeat.stitches[leg.to.stitch].at = Some(at + point(x, y) - lattice.place(leg.cell));
        }
        Ground::new(repeat).unwrap()
    }

    #[test]
    fn where_the_pairs_come_from_one_place_or_go_to_one_it_is_a_leaf() {
        for (before, after, name) in [
            (2.0, 2.0, "tally"),
            (1.0, 1.0, "tally"),
            (0.5, 2.0, "leaf"),
            (2.0, 0.5, "leaf"),
            (0.5, 0.5, "leaf"),
        ] {
            let ground = with_neighbours(before, after);
            assert_eq!(words(&ground)[0], format!("{name}, once there and back"), "{before} {after}");
        }
    }

    #[test]
    fn a_kind_is_named_after_all_its_places() {
        let kind: Stitch = TALLY.parse().unwrap();
        let ground = with_neighbours(0.5, 0.5);
        let own = words(&ground);
        assert_eq!(own[..2], ["leaf, once there and back", "tally, once there and back"]);
        let both = ground.kind_in_words(&kind);
        assert_eq!(both, "tally or leaf, once there and back");
        assert_eq!(Stitch::from_words(&both), Ok(kind.clone()));
        let all = Ground::new(rose(TALLY, "CT pin CT")).unwrap();
        assert_eq!(all.kind_in_words(&kind), "tally, once there and back");
        // Other stitches have one name wherever they are.
        let half: Stitch = "CT pin CT".parse().unwrap();
        assert_eq!(ground.kind_in_words(&half), half.words());
    }
}
