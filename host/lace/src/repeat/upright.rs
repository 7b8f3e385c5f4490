//! A upright: the lattice of a repeat seen upright, one vector level across, the
//! other leading down. Definitions may use any two lattice vectors; rows and
//! hanging pairs need a level one.

use crate::repeat::{Lattice, Point};

/// Largest multiple of a lattice vector tried when looking for a level one.
const SEARCH: i64 = 64;

/// A lattice basis whose first vector is level and points to the right.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct UprightLattice {
    /// The level vector, in cells of the definition.
    pub across: [i64; 2],
    /// The downward vector, in cells of the definition.
    pub down: [i64; 2],
    /// Length of the level vector in grid steps: width of one upright repeat.
    pub width: f64,
    /// The downward vector in grid steps; its `y`, the height of a row of
    /// repeats, is positive, its `x` the shift from a row to the next.
    pub step_down: Point,
}

/// `gcd(a, b)` and `x`, `y` with `a x + b y = gcd`.
fn bezout(a: i64, b: i64) -> (i64, i64, i64) {
    if b == 0 {
        (a.abs(), a.signum(), 0)
    } else {
        let (g, x, y) = bezout(b, a.rem_euclid(b));
        (g, y, x - a.div_euclid(b) * y)
    }
}

impl UprightLattice {
    /// The upright upright of a lattice with positive area.
    ///
    /// Returns `None` when no vector within 64 cells is level, so that the
    /// ground never comes back to the same height across.
    pub fn new(lattice: &Lattice) -> Option<UprightLattice> {
        let scale = lattice
            .across
            .x
            .abs()
            .max(lattice.across.y.abs())
            .max(lattice.down.x.abs())
            .max(lattice.down.y.abs());
        let mut best: Option<([i64; 2], f64)> = None;
        for i in -SEARCH..=SEARCH {
            for j in -SEARCH..=SEARCH {
                let p = lattice.place([i, j]);
                if bezout(i, j).0 != 1 || p.y.abs() > 1e-9 * scale || p.x <= 0.0 {
                    continue;
                }
                if best.is_none_or(|(_, x)| p.x < x) {
                    best = Some(([i, j], p.x));
                }
            }
        }
        let (across, width) = best?;
        // a * d - b * c = 1 completes (a, b) to a basis of the same handedness.
        let (_, x, y) = bezout(across[0], across[1]);
        let mut down = [-y, x];
        let place = lattice.place(down);
        let turns = round_half_down(place.x / width);
        down = [down[0] - turns * across[0], down[1] - turns * across[1]];
        let step_down = lattice.place(down);
        Some(UprightLattice { across, down, width, step_down })
    }

    /// Cells of the definition to upright coordinates (repeats right, rows down).
    pub fn from_cell(&self, [i, j]: [i64; 2]) -> [i64; 2] {
        // The basis has determinant 1.
        let [a, b] = self.across;
        let [c, d] = self.down;
        [i * d - j * c, a * j - b * i]
    }

    /// UprightLattice coordinates to cells of the definition.
    pub fn to_cell(&self, [p, q]: [i64; 2]) -> [i64; 2] {
        [p * self.across[0] + q * self.down[0], p * self.across[1] + q * self.down[1]]
    }

    /// Where upright coordinates lie, in grid steps.
    pub fn place(&self, [p, q]: [i64; 2]) -> Point {
        Point { x: p as f64 * self.width + q as f64 * self.step_down.x, y: q as f64 * self.step_down.y }
    }
}

/// Nearest whole number; a half goes down, so that a shift of half a repeat
/// leads to the right.
fn round_half_down(value: f64) -> i64 {
    (value - 0.5 - 1e-9).ceil() as i64
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::repeat::point;

    #[test]
    fn diagonal_lattice_stands_upright() {
        let lattice = Lattice { across: point(2.0, 2.0), down: point(-2.0, 2.0) };
        let upright = UprightLattice::new(&lattice).unwrap();
        assert_eq!(upright.across, [1, -1]);
        assert_eq!(upright.width, 4.0);
        assert_eq!(upright.step_down, point(2.0, 2.0));
        for cell in [[1, 0], [0, 1], [3, -2]] {
            assert_eq!(upright.to_cell(upright.from_cell(cell)), cell);
            assert_eq!(upright.place(upright.from_cell(cell)), lattice.place(cell));
        }
    }

    #[test]
    fn a_skew_lattice_finds_its_level_vector_and_an_irrational_one_does_not() {
        let skew = Lattice { across: point(2.0, 1.0), down: point(-1.0, 2.0) };
        assert_eq!(UprightLattice::new(&skew).unwrap().width, 5.0);
        let never = Lattice { across: point(1.0, 2f64.sqrt()), down: point(-1.0, 1.0) };
        assert!(UprightLattice::new(&never).is_none());
    }
}
