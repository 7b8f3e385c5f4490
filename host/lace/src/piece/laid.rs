//! A ground laid on the grid of a piece: where every copy of its stitches lies, and
//! where its pairs come from and go to.

use crate::ground::Ground;
use crate::lattice::cell::Cell;
use crate::lattice::point::{Point, point};
use crate::repeat::{End, Side};

/// A copy of a stitch of a ground.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(crate) struct Copy {
    pub stitch: usize,
    pub cell: Cell,
}

/// The way a pair goes from or to a copy.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Way {
    /// The copy at the other end, and the side of it.
    pub copy: Copy,
    pub side: Side,
    pub twists: u32,
}

/// A ground with its place on the grid.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Laid<'a> {
    pub ground: &'a Ground,
    /// Added to the places of the ground.
    offset: Point,
}

impl<'a> Laid<'a> {
    /// The ground with one of its stitches at a place.
    pub fn with(ground: &'a Ground, stitch: usize, at: Point) -> Laid<'a> {
        Laid { ground, offset: at - ground.places()[stitch] }
    }

    pub fn place(&self, copy: Copy) -> Point {
        self.ground.places()[copy.stitch] + self.ground.lattice().place(copy.cell) + self.offset
    }

    /// Where a pair goes that leaves a copy on a side.
    pub fn after(&self, copy: Copy, side: Side) -> Way {
        let leg = &self.ground.legs()[self.ground.leg_from(End::new(copy.stitch, side))];
        let to = Copy { stitch: leg.to.stitch, cell: copy.cell + leg.cell };
        Way { copy: to, side: leg.to.side, twists: leg.twists }
    }

    /// Where a pair comes from that enters a copy on a side.
    pub fn before(&self, copy: Copy, side: Side) -> Way {
        let leg = &self.ground.legs()[self.ground.leg_to(End::new(copy.stitch, side))];
        let from = Copy { stitch: leg.from.stitch, cell: copy.cell - leg.cell };
        Way { copy: from, side: leg.from.side, twists: leg.twists }
    }

    /// All copies in a box, the highest first, each row from the left.
    pub fn copies(&self, low: Point, high: Point) -> Vec<Copy> {
        let lattice = self.ground.lattice();
        let mut found = Vec::new();
        for stitch in 0..self.ground.stitches().len() {
            let at = self.ground.places()[stitch] + self.offset;
            let corners = [low, high, point(low.x, high.y), point(high.x, low.y)];
            let cells = corners.map(|corner| lattice.coordinates(corner - at));
            let range = |k: usize| {
                let values = cells.map(|cell| cell[k]);
                let least = values.into_iter().fold(f64::INFINITY, f64::min);
                let most = values.into_iter().fold(f64::NEG_INFINITY, f64::max);
                least.floor() as i64..=most.ceil() as i64
            };
            let copies = range(0).flat_map(|across| range(1).map(move |down| Cell::new(across, down)));
            found.extend(copies.map(|cell| Copy { stitch, cell }).filter(|&copy| {
                let p = self.place(copy);
                p.x >= low.x && p.x <= high.x && p.y >= low.y && p.y <= high.y
            }));
        }
        found.sort_by(|&a, &b| {
            let (p, q) = (self.place(a), self.place(b));
            p.y.total_cmp(&q.y).then(p.x.total_cmp(&q.x)).then(a.cmp(&b))
        });
        found
    }
}
