//! The lattice over which a repeat is set out, with its places and cells.
//!
//! Places are real numbers, used only for drawings and lengths. Cells, which are
//! whole numbers, decide where pairs and threads lead.

pub mod cell;
pub mod point;
pub mod upright;

use crate::lattice::cell::Cell;
use crate::lattice::point::Point;

/// The two steps at which the repeat is set out over the area, in grid steps
/// (or, for a drawing, in millimetres).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lattice {
    /// From one repeat to its neighbour across.
    pub across: Point,
    /// From one repeat to its neighbour down.
    pub down: Point,
}

impl Lattice {
    /// Where a cell lies relative to the origin cell, in the unit of the two steps.
    pub fn place(&self, cell: Cell) -> Point {
        self.across * cell.across as f64 + self.down * cell.down as f64
    }

    /// Area of one repeat in square units, negative when `across` and `down`
    /// are in the wrong order (left-handed).
    pub fn area(&self) -> f64 {
        self.across.cross(self.down)
    }

    /// How many steps across and how many down lead from the origin to a place
    /// (Cramer's rule). Not finite when the area is zero.
    pub fn coordinates(&self, place: Point) -> [f64; 2] {
        let area = self.area();
        [place.cross(self.down) / area, self.across.cross(place) / area]
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lattice::point::point;

    #[test]
    fn coordinates_lead_back_to_the_place() {
        let lattice = Lattice { across: point(2.0, 1.0), down: point(-1.0, 3.0) };
        assert_eq!(lattice.area(), 7.0);
        assert_eq!(lattice.coordinates(lattice.place(Cell::new(3, -2))), [3.0, -2.0]);
    }
}
