//! Setting a repeat out over an area.

use lace::{Cell, Lattice, point};

use crate::drawing::{Rect, rect};

/// Every cell whose copy of `bounds` meets `window`, for a repeat set out over a
/// lattice in mm; top cells first.
pub(crate) fn cells(lattice: &Lattice, bounds: Rect, window: Rect) -> Vec<Cell> {
    // The steps that make `bounds` meet `window` form a rectangle. Its corners,
    // in lattice coordinates, bound those of every such cell.
    let (left, right) = (window.x - bounds.x - bounds.width, window.x + window.width - bounds.x);
    let (top, bottom) = (window.y - bounds.y - bounds.height, window.y + window.height - bounds.y);
    let corners = [(left, top), (right, top), (left, bottom), (right, bottom)]
        .map(|(x, y)| lattice.coordinates(point(x, y)));
    let range = |k: usize| {
        let values = corners.map(|c| c[k]);
        let low = values.iter().copied().fold(f64::INFINITY, f64::min).floor() as i64;
        let high = values.iter().copied().fold(f64::NEG_INFINITY, f64::max).ceil() as i64;
        low..=high
    };
    let mut cells = Vec::new();
    for j in range(1) {
        for i in range(0) {
            let cell = Cell::new(i, j);
            let step = lattice.place(cell);
            let there = rect(bounds.x + step.x, bounds.y + step.y, bounds.width, bounds.height);
            if there.meets(&window) {
                cells.push(cell);
            }
        }
    }
    cells
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_skew_lattice_covers_the_window_and_no_more() {
        let lattice = Lattice { across: point(2.0, 2.0), down: point(-2.0, 2.0) };
        let found = cells(&lattice, rect(0.0, 0.0, 1.0, 1.0), rect(-3.0, 5.0, 20.0, 9.0));
        let meets = |i: i64, j: i64| {
            let (x, y) = (2.0 * (i - j) as f64, 2.0 * (i + j) as f64);
            (-4.0..=17.0).contains(&x) && (4.0..=14.0).contains(&y)
        };
        let mut expected = Vec::new();
        for j in -50..50 {
            expected.extend((-50..50).filter(|&i| meets(i, j)).map(|i| Cell::new(i, j)));
        }
        assert_eq!(found, expected);
    }
}
