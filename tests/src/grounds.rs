//! Grounds that many tests start from, written out leg by leg.

use lace::{End, Lattice, Leg, Point, Repeat, Side, Stitch, point};

/// A stitch with a place.
pub fn stitch(id: &str, at: Point, work: &str) -> Stitch {
    Stitch { id: id.into(), at: Some(at), work: work.parse().expect("a work") }
}

/// A leg without extra twists.
pub fn leg(from: (usize, Side), to: (usize, Side), cell: [i32; 2]) -> Leg {
    Leg { from: End::new(from.0, from.1), to: End::new(to.0, to.1), cell, twists: 0 }
}

/// One stitch on every dot of a 45 degree grid, each pair going on along its
/// diagonal (common practice, no source).
pub fn torchon(work: &str) -> Repeat {
    Repeat {
        lattice: Lattice { across: point(1.0, 1.0), down: point(-1.0, 1.0) },
        stitches: vec![stitch("dot", point(0.0, 0.0), work)],
        legs: vec![
            leg((0, Side::Left), (0, Side::Right), [0, 1]),
            leg((0, Side::Right), (0, Side::Left), [1, 0]),
        ],
    }
}

/// The four-pin rose ground: pins top, left, right and bottom, two crossings
/// without pins (common practice, no source).
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
            // The crossing at (-1, 2) is the right one of the unit down left.
            leg((3, Left), (1, Left), [0, 1]),
            leg((5, Left), (1, Right), [0, 1]),
            leg((5, Right), (0, Left), [1, 0]),
            leg((4, Right), (0, Right), [1, 0]),
        ],
    }
}
