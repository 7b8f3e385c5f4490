//! Small grounds for unit tests.

use crate::repeat::{End, Lattice, Leg, Repeat, Side, Stitch, point};

/// One stitch on a dot grid, each pair going on along its diagonal.
pub(crate) fn torchon(work: &str, twists: u32) -> Repeat {
    Repeat {
        lattice: Lattice { across: point(1.0, 1.0), down: point(-1.0, 1.0) },
        stitches: vec![Stitch { id: "dot".into(), at: Some(point(0.0, 0.0)), work: work.parse().unwrap() }],
        legs: vec![
            Leg { from: End::new(0, Side::Left), to: End::new(0, Side::Right), cell: [0, 1], twists },
            Leg { from: End::new(0, Side::Right), to: End::new(0, Side::Left), cell: [1, 0], twists },
        ],
    }
}

/// The four-pin rose ground: stitch orders for crossings and pins.
pub(crate) fn rose(crossing: &str, pin: &str) -> Repeat {
    let stitch = |id: &str, x: f64, y: f64, work: &str| Stitch {
        id: id.into(),
        at: Some(point(x, y)),
        work: work.parse().unwrap(),
    };
    let (left, right) = (Side::Left, Side::Right);
    let leg = |from: usize, a: Side, to: usize, b: Side, cell: [i32; 2]| Leg {
        from: End::new(from, a),
        to: End::new(to, b),
        cell,
        twists: 0,
    };
    Repeat {
        lattice: Lattice { across: point(2.0, 2.0), down: point(-2.0, 2.0) },
        stitches: vec![
            stitch("cross-left", -1.0, 0.0, crossing),
            stitch("cross-right", 1.0, 0.0, crossing),
            stitch("top", 0.0, 0.0, pin),
            stitch("left", -1.0, 1.0, pin),
            stitch("right", 1.0, 1.0, pin),
            stitch("bottom", 0.0, 2.0, pin),
        ],
        legs: vec![
            leg(0, left, 3, left, [0, 0]),
            leg(0, right, 2, left, [0, 0]),
            leg(1, left, 2, right, [0, 0]),
            leg(1, right, 4, right, [0, 0]),
            leg(2, left, 3, right, [0, 0]),
            leg(2, right, 4, left, [0, 0]),
            leg(3, right, 5, left, [0, 0]),
            leg(4, left, 5, right, [0, 0]),
            // The crossing at (-1, 2) is the right one of the unit down left.
            leg(3, left, 1, left, [0, 1]),
            leg(5, left, 1, right, [0, 1]),
            leg(5, right, 0, left, [1, 0]),
            leg(4, right, 0, right, [1, 0]),
        ],
    }
}
