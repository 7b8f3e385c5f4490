//! Units: which copies of the stitches are worked together before the work goes
//! on to the next.
//!
//! A unit has one copy of every stitch, where possible those of one cell of the
//! definition. Units fill the ground in two steps of the lattice. Every pair
//! comes to a unit from units that lie before it in both of these, so that one
//! can be worked after the other and none waits for a later one. Of all such units
//! it is one in which as few weavers as possible stop on the way.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use crate::lattice::cell::UprightCell;
use crate::repeat::wiring::Wired;
use crate::threads::rows::earliest;

/// The unit of a ground.
#[derive(Clone, Debug)]
pub(crate) struct Unit {
    /// The cell of the copy of each stitch.
    pub cells: Vec<UprightCell>,
    /// The step to the next unit down to the right, or level to the right where
    /// units lie side by side.
    pub right: UprightCell,
    /// The step to the next unit down to the left.
    pub left: UprightCell,
    depths: [Depth; 2],
}

/// How far a cell lies in one direction: a linear function that no circuit of legs
/// lowers.
#[derive(Clone, Copy, Debug)]
struct Depth {
    columns: i64,
    rows: i64,
}

impl Depth {
    fn of(self, cell: UprightCell) -> i64 {
        self.columns * cell.column + self.rows * cell.row
    }
}

impl Unit {
    /// A unit that holds both ends of as many legs of `weavers` as it can, those that
    /// come first before the others.
    pub(crate) fn new(wired: Wired<'_>, weavers: &[usize]) -> Unit {
        let [to_left, to_right] = [1, -1].map(|columns| least_rows(wired, columns));
        let left = UprightCell::new(-to_left, 1);
        let one = Depth { columns: 1, rows: to_left };
        // If no pair gets farther than from one unit to the next, units stand on a
        // point, each between two of the row above. Otherwise they lie side by side.
        let (right, other) = if to_left + to_right <= 1 {
            (UprightCell::new(1 - to_left, 1), Depth { columns: -1, rows: 1 - to_left })
        } else {
            (UprightCell::new(1, 0), Depth { columns: 0, rows: 1 })
        };
        let depths = [one, other];
        let as_defined = vec![0; wired.repeat.stitches.len()];
        let mut ranks = depths.map(|depth| Ranks::new(wired, depth, &as_defined));
        for &leg in weavers {
            let joined = [0, 1].map(|k| ranks[k].joined(leg));
            if let [Some(joined_right), Some(joined_left)] = joined {
                ranks[0].join(leg, joined_right);
                ranks[1].join(leg, joined_left);
            }
        }
        let [rights, lefts] = ranks.map(|ranks| ranks.of);
        let cells = rights.into_iter().zip(lefts).map(|(r, l)| right * r + left * l).collect();
        Unit { cells, right, left, depths }
    }

    /// How many units to the right and to the left a cell lies from another.
    pub(crate) fn steps(&self, moved: UprightCell) -> [i64; 2] {
        self.depths.map(|depth| depth.of(moved))
    }
}

/// How far in one direction the copy of each stitch lies that belongs to a unit.
struct Ranks {
    of: Vec<i64>,
    /// By stitch, the stitches that lie no farther than so much beyond it.
    bounds: Vec<Vec<(usize, i64)>>,
    /// By leg, from where to where and how far it leads.
    legs: Vec<(usize, usize, i64)>,
}

impl Ranks {
    fn new(wired: Wired<'_>, depth: Depth, as_defined: &[i64]) -> Ranks {
        let legs: Vec<(usize, usize, i64)> = (0..wired.repeat.legs.len())
            .map(|l| (wired.leg(l).from.stitch, wired.leg(l).to.stitch, depth.of(wired.leg_cell(l))))
            .collect();
        let mut bounds = vec![Vec::new(); as_defined.len()];
        for &(from, to, far) in &legs {
            bounds[from].push((to, far));
        }
        let of = earliest(wired, as_defined, |cell| depth.of(cell)).expect("no circuit of legs leads back");
        Ranks { of, bounds, legs }
    }

    /// The ranks with both ends of a leg in the same unit: the highest that are no
    /// higher than those so far. `None` if some circuit does not allow it.
    fn joined(&self, leg: usize) -> Option<Vec<i64>> {
        let (from, to, far) = self.legs[leg];
        let mut of = self.of.clone();
        let mut settled = vec![false; of.len()];
        // The stitch that must be lowered the most comes first, so that each is
        // lowered once.
        let excess = self.of[from] + far - self.of[to];
        let mut lower: BinaryHeap<(i64, Reverse<usize>)> = BinaryHeap::new();
        if excess > 0 {
            lower.push((excess, Reverse(from)));
        }
        while let Some((by, Reverse(stitch))) = lower.pop() {
            if std::mem::replace(&mut settled[stitch], true) {
                continue;
            }
            // Lowering one end lowers the other.
            if stitch == to {
                return None;
            }
            of[stitch] = self.of[stitch] - by;
            for &(next, far) in &self.bounds[stitch] {
                let by = self.of[next] - (of[stitch] + far);
                if by > 0 && !settled[next] {
                    lower.push((by, Reverse(next)));
                }
            }
        }
        Some(of)
    }

    fn join(&mut self, leg: usize, joined: Vec<i64>) {
        let (from, to, far) = self.legs[leg];
        self.bounds[to].push((from, -far));
        self.of = joined;
    }
}

/// The least multiple of the rows that outweighs the columns: as many rows as a
/// pair needs at most for a column to the left (`columns` is 1) or to the right
/// (-1).
fn least_rows(wired: Wired<'_>, columns: i64) -> i64 {
    let latest = vec![0; wired.repeat.stitches.len()];
    let far = |rows: i64| {
        let depth = Depth { columns, rows };
        earliest(wired, &latest, |cell| depth.of(cell)).is_some()
    };
    // Every circuit leads at least one row down, and no farther across than all
    // legs together.
    let across: i64 = (0..wired.repeat.legs.len()).map(|leg| wired.leg_cell(leg).column.abs()).sum();
    let (mut too_few, mut enough) = (-across - 1, across);
    while enough - too_few > 1 {
        let middle = too_few + (enough - too_few) / 2;
        if far(middle) {
            enough = middle;
        } else {
            too_few = middle;
        }
    }
    enough
}

#[cfg(test)]
mod tests {
    use crate::ground::Ground;
    use crate::lattice::cell::{Cell, UprightCell};
    use crate::repeat::Repeat;
    use crate::repeat::samples::{rose, torchon};

    fn unit(repeat: Repeat) -> (Ground, super::Unit) {
        let ground = Ground::new(repeat).unwrap();
        let unit = super::Unit::new(ground.wired(), &[]);
        (ground, unit)
    }

    #[test]
    fn units_that_stand_on_a_point_are_the_cells_of_the_definition() {
        for repeat in [torchon("CT pin CT", 0), rose("CTCT", "CT pin CT")] {
            let (ground, unit) = unit(repeat);
            assert!(unit.cells.iter().all(|&cell| cell == UprightCell::ORIGIN));
            let definition = [unit.right, unit.left].map(|step| ground.upright().to_definition(step));
            assert_eq!(definition, [Cell::new(1, 0), Cell::new(0, 1)]);
        }
    }

    #[test]
    fn no_unit_waits_for_a_later_one() {
        for (across, down) in [(1, 1), (3, 1), (1, 3), (4, 3)] {
            let (ground, unit) = unit(rose("CTCT", "CT pin CT").set_out(across, down));
            for leg in ground.legs() {
                let cell = ground.upright().to_upright(leg.cell);
                let steps = unit.steps(unit.cells[leg.from.stitch] + cell - unit.cells[leg.to.stitch]);
                assert!(steps.iter().all(|&n| n >= 0), "{across} by {down}: {steps:?}");
            }
            assert_eq!([unit.steps(unit.right), unit.steps(unit.left)], [[1, 0], [0, 1]]);
        }
    }
}
