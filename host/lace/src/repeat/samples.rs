//! Grounds written out leg by leg, for tests and benchmarks (common practice,
//! no source).

use crate::lattice::Lattice;
use crate::lattice::cell::Cell;
use crate::lattice::point::{Point, point};
use crate::repeat::{End, Leg, PlacedStitch, Repeat, Side};

/// A stitch with a place.
///
/// # Panics
/// When `moves` is not a stitch.
pub fn stitch(id: &str, at: Point, moves: &str) -> PlacedStitch {
    PlacedStitch { id: id.into(), at: Some(at), stitch: moves.parse().expect("the moves of a stitch") }
}

/// A leg without extra twists.
pub fn leg(from: (usize, Side), to: (usize, Side), cell: [i64; 2]) -> Leg {
    Leg { from: End::new(from.0, from.1), to: End::new(to.0, to.1), cell: cell.into(), twists: 0 }
}

/// One stitch on every dot of a grid. Each pair runs along its diagonal, with
/// extra twists.
///
/// # Panics
/// When `moves` is not a stitch.
pub fn torchon(moves: &str, twists: u32) -> Repeat {
    use Side::{Left, Right};
    Repeat {
        lattice: Lattice { across: point(1.0, 1.0), down: point(-1.0, 1.0) },
        stitches: vec![stitch("dot", point(0.0, 0.0), moves)],
        legs: vec![leg((0, Left), (0, Right), [0, 1]), leg((0, Right), (0, Left), [1, 0])],
    }
    .twisted(twists)
}

/// The four-pin rose ground: pins top, left, right and bottom, two crossings
/// without pins.
///
/// # Panics
/// When `crossing` or `pin` is not a stitch.
pub fn rose(crossing: &str, pin: &str) -> Repeat {
    use Side::{Left, Right};
    Repeat {
        lattice: Lattice { across: point(2.0, 2.0), down: point(-2.0, 2.0) },
        stitches: vec![
            stitch("cross-left", point(-1.0, 0.0), crossing),
            stitch("cross-right", point(1.0, 0.0), crossing),
            stitch("top", point(0.0, 0.0), pin),
            stitch("left", point(-1.0, 1.0), pin),
            stitch("right", point(1.0, 1.0), pin),
            stitch("bottom", point(0.0, 2.0), pin),
        ],
        legs: vec![
            leg((0, Left), (3, Left), [0, 0]),
            leg((0, Right), (2, Left), [0, 0]),
            leg((1, Left), (2, Right), [0, 0]),
            leg((1, Right), (4, Right), [0, 0]),
            leg((2, Left), (3, Right), [0, 0]),
            leg((2, Right), (4, Left), [0, 0]),
            leg((3, Right), (5, Left), [0, 0]),
            leg((4, Left), (5, Right), [0, 0]),
            // The crossing at (-1, 2) is the right one of the unit below left.
            leg((3, Left), (1, Left), [0, 1]),
            leg((5, Left), (1, Right), [0, 1]),
            leg((5, Right), (0, Left), [1, 0]),
            leg((4, Right), (0, Right), [1, 0]),
        ],
    }
}

/// Rows of honeycomb stitches side by side, and rows with gaps between.
///
/// # Panics
/// When `moves` is not a stitch.
pub fn honeycomb(moves: &str) -> Repeat {
    use Side::{Left, Right};
    Repeat {
        lattice: Lattice { across: point(2.0, 2.0), down: point(-2.0, 2.0) },
        stitches: vec![
            stitch("gap", point(0.0, 0.0), moves),
            stitch("left", point(-1.0, 1.0), moves),
            stitch("right", point(1.0, 1.0), moves),
        ],
        legs: vec![
            leg((0, Left), (1, Right), [0, 0]),
            leg((0, Right), (2, Left), [0, 0]),
            leg((1, Left), (0, Right), [0, 1]),
            leg((1, Right), (2, Right), [0, 1]),
            leg((2, Right), (0, Left), [1, 0]),
            leg((2, Left), (1, Left), [1, 0]),
        ],
    }
}

impl Repeat {
    /// The repeat with `twists` extra twists on every leg.
    #[must_use]
    pub fn twisted(mut self, twists: u32) -> Repeat {
        for leg in &mut self.legs {
            leg.twists = twists;
        }
        self
    }

    /// The same ground with `across` by `down` copies of the repeat joined into one.
    /// Stitch `s` of copy `(i, j)` is number `(i + j * across) * count + s`.
    #[must_use]
    pub fn set_out(&self, across: u16, down: u16) -> Repeat {
        let [wide, high] = [i64::from(across), i64::from(down)];
        let mut all = Repeat {
            lattice: Lattice {
                across: self.lattice.across * f64::from(across),
                down: self.lattice.down * f64::from(down),
            },
            stitches: Vec::new(),
            legs: Vec::new(),
        };
        let number = |copy: Cell, stitch: usize| {
            let copy = copy.across.rem_euclid(wide) + copy.down.rem_euclid(high) * wide;
            copy as usize * self.stitches.len() + stitch
        };
        for copy in (0..high).flat_map(|j| (0..wide).map(move |i| Cell::new(i, j))) {
            all.stitches.extend(self.stitches.iter().map(|s| PlacedStitch {
                id: format!("{}-{}-{}", s.id, copy.across, copy.down),
                at: s.at.map(|p| p + self.lattice.place(copy)),
                stitch: s.stitch.clone(),
            }));
            all.legs.extend(self.legs.iter().map(|l| {
                let to = copy + l.cell;
                Leg {
                    from: End::new(number(copy, l.from.stitch), l.from.side),
                    to: End::new(number(to, l.to.stitch), l.to.side),
                    cell: Cell::new(to.across.div_euclid(wide), to.down.div_euclid(high)),
                    twists: l.twists,
                }
            }));
        }
        all
    }
}
