//! The upright lattice of a repeat: one vector runs level across, the other
//! leads down. Definitions may use any two lattice vectors; rows and hanging
//! pairs need a level one.
//!
//! Only here do real numbers from the definition become whole ones: which vector
//! is level, and by what fraction of the width a row of repeats is shifted
//! against the row above. These decide whether a thread comes straight down and
//! whether two threads run parallel.

use std::cmp::Ordering;

use crate::lattice::Lattice;
use crate::lattice::cell::{Cell, UprightCell};
use crate::lattice::point::{Point, point};
use crate::limits::{MAX_LEVEL_SEARCH, MAX_REPEAT_PAIRS};

/// Largest distance of a shift times its denominator from a whole number.
const WHOLE: f64 = 1e-6;

/// A lattice basis whose first vector is level and points to the right.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct UprightLattice {
    across: Cell,
    down: Cell,
    width: f64,
    step_down: Point,
    shift: Fraction,
}

/// A fraction in lowest terms; `of`, the denominator, is positive.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Fraction {
    part: i64,
    of: i64,
}

/// A direction down the lattice: upright repeats to the right per rows down, in
/// lowest terms, so that two directions are equal exactly when they are
/// parallel.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Direction {
    /// Upright repeats to the right.
    pub columns: i64,
    /// Rows of repeats down, above zero.
    pub rows: i64,
}

impl Direction {
    /// The direction of a movement that leads at least one row down.
    ///
    /// # Panics
    /// When the movement does not lead down.
    pub fn of(moved: UprightCell) -> Direction {
        assert!(moved.row > 0, "every thread of a ground leads down");
        let common = bezout(moved.column, moved.row).0;
        Direction { columns: moved.column / common, rows: moved.row / common }
    }
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

impl Fraction {
    /// The fraction that a real number stands for: the one with the smallest
    /// denominator that equals it within rounding. If there is none, one with a
    /// denominator so large that no closed thread matches it exactly.
    fn of(value: f64) -> Fraction {
        /// Most rows that a closed thread leads down.
        const COARSE: i64 = 2 * MAX_REPEAT_PAIRS as i64;
        const FINE: i64 = 1 << 40;
        let near = |of: i64| {
            let part = value * of as f64;
            (part - part.round()).abs() <= WHOLE
        };
        let of = (1..=COARSE).find(|&of| near(of)).unwrap_or(FINE);
        Fraction { part: (value * of as f64).round() as i64, of }
    }
}

impl UprightLattice {
    /// The upright lattice of a lattice with positive area.
    ///
    /// `None` when no vector within [`MAX_LEVEL_SEARCH`] steps either way is level,
    /// so that the rows never come back level.
    pub fn new(lattice: &Lattice) -> Option<UprightLattice> {
        let (across, width) = level_vector(lattice)?;
        // Determinant 1 completes `across` to a basis of the same handedness.
        let (_, x, y) = bezout(across.across, across.down);
        let mut down = Cell::new(-y, x);
        down -= across * round_half_down(lattice.place(down).x / width);
        let step_down = lattice.place(down);
        Some(UprightLattice { across, down, width, step_down, shift: Fraction::of(step_down.x / width) })
    }

    /// The level vector, in cells of the definition.
    pub fn across(&self) -> Cell {
        self.across
    }

    /// The downward vector, in cells of the definition.
    pub fn down(&self) -> Cell {
        self.down
    }

    /// Width of one upright repeat: length of the level vector, in grid steps.
    pub fn width(&self) -> f64 {
        self.width
    }

    /// The downward vector in grid steps. Its `y` is the height of a row of repeats,
    /// always positive; its `x` is the shift from one row to the next.
    pub fn step_down(&self) -> Point {
        self.step_down
    }

    /// Height of a row of repeats, in grid steps.
    pub fn row_height(&self) -> f64 {
        self.step_down.y
    }

    /// Converts a cell of the definition to an upright cell.
    pub fn to_upright(&self, cell: Cell) -> UprightCell {
        // The basis has determinant 1.
        UprightCell::new(cell.cross(self.down), self.across.cross(cell))
    }

    /// Converts an upright cell to a cell of the definition.
    pub fn to_definition(&self, cell: UprightCell) -> Cell {
        self.across * cell.column + self.down * cell.row
    }

    /// Where an upright cell lies, in grid steps.
    pub fn place(&self, cell: UprightCell) -> Point {
        let (column, row) = (cell.column as f64, cell.row as f64);
        point(column * self.width + row * self.step_down.x, row * self.step_down.y)
    }

    /// The side to which a movement leads: `Less` for left, `Equal` for straight
    /// down (or up), `Greater` for right.
    pub fn side(&self, moved: UprightCell) -> Ordering {
        let Fraction { part, of } = self.shift;
        let right = i128::from(moved.column) * i128::from(of) + i128::from(moved.row) * i128::from(part);
        right.cmp(&0)
    }

    /// How many columns to the left the cells straight below lie after `rows` rows;
    /// `None` when none lies straight below.
    pub fn columns_back(&self, rows: i64) -> Option<i64> {
        let Fraction { part, of } = self.shift;
        let back = i128::from(rows) * i128::from(part);
        (back % i128::from(of) == 0).then(|| (back / i128::from(of)) as i64)
    }

    /// The mirror image of a cell, left and right exchanged; `None` when the lattice
    /// has no such mirror.
    pub fn mirrored(&self, cell: UprightCell) -> Option<UprightCell> {
        let twice = self.columns_back(2)?;
        Some(UprightCell::new(-cell.column - twice * cell.row, cell.row))
    }

    /// The side to which a direction leads; see [`UprightLattice::side`].
    pub fn side_of(&self, direction: Direction) -> Ordering {
        self.side(UprightCell::new(direction.columns, direction.rows))
    }

    /// Whether two directions are mirror images of each other.
    pub fn are_opposite(&self, one: Direction, other: Direction) -> bool {
        let columns = one.columns * other.rows + other.columns * one.rows;
        self.side(UprightCell::new(columns, 2 * one.rows * other.rows)) == Ordering::Equal
    }

    /// Grid steps to the right (negative: left) for every grid step down.
    pub fn slope(&self, direction: Direction) -> f64 {
        if self.side_of(direction) == Ordering::Equal {
            return 0.0;
        }
        let moved = self.place(UprightCell::new(direction.columns, direction.rows));
        moved.x / moved.y
    }
}

/// The shortest level vector that points to the right, with its length.
fn level_vector(lattice: &Lattice) -> Option<(Cell, f64)> {
    let Lattice { across, down } = lattice;
    let scale = across.x.abs().max(across.y.abs()).max(down.x.abs()).max(down.y.abs());
    let mut best: Option<(Cell, f64)> = None;
    for i in -MAX_LEVEL_SEARCH..=MAX_LEVEL_SEARCH {
        for j in -MAX_LEVEL_SEARCH..=MAX_LEVEL_SEARCH {
            let cell = Cell::new(i, j);
            let p = lattice.place(cell);
            if p.y.abs() > 1e-9 * scale || p.x <= 0.0 || bezout(i, j).0 != 1 {
                continue;
            }
            if best.is_none_or(|(_, x)| p.x < x) {
                best = Some((cell, p.x));
            }
        }
    }
    best
}

/// The nearest whole number. A half is rounded down, so that a shift of half a
/// repeat leads to the right.
fn round_half_down(value: f64) -> i64 {
    (value - 0.5 - 1e-9).ceil() as i64
}

#[cfg(test)]
mod tests {
    use super::*;

    fn upright(across: Point, down: Point) -> UprightLattice {
        UprightLattice::new(&Lattice { across, down }).unwrap()
    }

    #[test]
    fn a_diagonal_lattice_has_an_upright_one() {
        let lattice = Lattice { across: point(2.0, 2.0), down: point(-2.0, 2.0) };
        let upright = UprightLattice::new(&lattice).unwrap();
        assert_eq!(upright.across(), Cell::new(1, -1));
        assert_eq!(upright.width(), 4.0);
        assert_eq!(upright.step_down(), point(2.0, 2.0));
        for cell in [[1, 0], [0, 1], [3, -2]].map(Cell::from) {
            assert_eq!(upright.to_definition(upright.to_upright(cell)), cell);
            assert_eq!(upright.place(upright.to_upright(cell)), lattice.place(cell));
        }
    }

    #[test]
    fn a_skew_lattice_finds_its_level_vector_and_an_irrational_one_does_not() {
        let skew = Lattice { across: point(2.0, 1.0), down: point(-1.0, 2.0) };
        assert_eq!(UprightLattice::new(&skew).unwrap().width(), 5.0);
        let never = Lattice { across: point(1.0, 2f64.sqrt()), down: point(-1.0, 1.0) };
        assert!(UprightLattice::new(&never).is_none());
    }

    // A third is not exact in binary, but must still count as a third.
    #[test]
    fn straight_down_is_decided_by_whole_numbers() {
        let thirds = upright(point(0.3, 0.0), point(0.1, 0.7));
        assert_eq!(thirds.side(UprightCell::new(-1, 3)), Ordering::Equal);
        assert_eq!(thirds.side(UprightCell::new(-1, 2)), Ordering::Less);
        assert_eq!(thirds.side(UprightCell::new(-1, 4)), Ordering::Greater);
        assert_eq!([1, 2, 3, 6].map(|rows| thirds.columns_back(rows)), [None, None, Some(1), Some(2)]);
        assert_eq!(thirds.mirrored(UprightCell::new(1, 1)), None);
        assert_eq!(thirds.slope(Direction::of(UprightCell::new(-2, 6))), 0.0);
    }

    #[test]
    fn no_row_of_an_irrational_lattice_lies_straight_below() {
        let never = upright(point(1.0, 0.0), point(2f64.sqrt() - 1.0, 1.0));
        assert!((1..=8000).all(|rows| never.columns_back(rows).is_none()));
        // 2378/5741 comes very close to the shift.
        assert_eq!(never.side(UprightCell::new(-2378, 5741)), Ordering::Greater);
        assert_eq!(never.side(UprightCell::new(-2379, 5741)), Ordering::Less);
    }

    #[test]
    fn a_mirror_keeps_the_rows() {
        let half = upright(point(2.0, 2.0), point(-2.0, 2.0));
        for cell in [[0, 1], [1, 1], [-3, 2]].map(UprightCell::from) {
            let mirrored = half.mirrored(cell).unwrap();
            assert_eq!(half.place(mirrored), point(-half.place(cell).x, half.place(cell).y));
        }
    }

    #[test]
    fn directions_are_equal_when_slopes_are() {
        let half = upright(point(4.0, 0.0), point(2.0, 2.0));
        let direction = |column, row| Direction::of(UprightCell::new(column, row));
        assert_eq!(direction(2, 4), direction(1, 2));
        assert_eq!(direction(0, 3), Direction { columns: 0, rows: 1 });
        assert_eq!(half.slope(direction(0, 1)), 1.0);
        assert!(half.are_opposite(direction(0, 1), direction(-2, 2)));
        assert!(!half.are_opposite(direction(0, 1), direction(-1, 2)));
    }
}
