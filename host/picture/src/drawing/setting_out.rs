//! Setting a repeat out over an area.

use lace::{Cell, Lattice, point};

use crate::drawing::{Rect, rect};

/// Every cell whose copy of `bounds` meets `window`, for a repeat set out over a
/// lattice in mm; top cells first.
///
/// They are looked for in steps that are as short as possible, so that there are few
/// cells to try even when the steps of the lattice are long and nearly parallel.
pub(crate) fn cells(lattice: &Lattice, bounds: Rect, window: Rect) -> Vec<Cell> {
    let Short { lattice: short, steps: [u, v] } = shortened(lattice);
    // The steps that make `bounds` meet `window` form a rectangle. Its corners,
    // in lattice coordinates, bound those of every such cell.
    let (left, right) = (window.x - bounds.x - bounds.width, window.x + window.width - bounds.x);
    let (top, bottom) = (window.y - bounds.y - bounds.height, window.y + window.height - bounds.y);
    let corners = [(left, top), (right, top), (left, bottom), (right, bottom)]
        .map(|(x, y)| short.coordinates(point(x, y)));
    let range = |k: usize| {
        let values = corners.map(|c| c[k]);
        let low = values.iter().copied().fold(f64::INFINITY, f64::min).floor() as i64;
        let high = values.iter().copied().fold(f64::NEG_INFINITY, f64::max).ceil() as i64;
        low..=high
    };
    let mut cells = Vec::new();
    for j in range(1) {
        for i in range(0) {
            let cell = u * i + v * j;
            let step = lattice.place(cell);
            let there = rect(bounds.x + step.x, bounds.y + step.y, bounds.width, bounds.height);
            if there.meets(&window) {
                cells.push(cell);
            }
        }
    }
    cells.sort_unstable_by_key(|cell| (cell.down, cell.across));
    cells
}

/// The same lattice by its shortest steps, each also in cells of the original.
struct Short {
    lattice: Lattice,
    steps: [Cell; 2],
}

/// Takes whole multiples of the shorter step from the longer one until neither gets
/// shorter (J. L. Lagrange's reduction, 1773).
fn shortened(lattice: &Lattice) -> Short {
    let mut steps = [Cell::new(1, 0), Cell::new(0, 1)];
    // Each round but the last shortens a step by a constant share.
    for _ in 0..64 {
        let [u, v] = steps.map(|step| lattice.place(step));
        if u.dot(u) > v.dot(v) {
            steps.swap(0, 1);
            continue;
        }
        let times = (u.dot(v) / u.dot(u)).round() as i64;
        if times == 0 {
            break;
        }
        steps[1] -= steps[0] * times;
    }
    let [across, down] = steps.map(|step| lattice.place(step));
    Short { lattice: Lattice { across, down }, steps }
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

    // Found one by one among all cells in reach.
    #[test]
    fn long_and_nearly_parallel_steps_give_the_same_cells_as_trying_all() {
        for (across, down) in [
            (point(3.0, 0.0), point(40.0, 1.0)),
            (point(13.0, 2.0), point(-6.0, -0.5)),
            (point(1.0, 0.25), point(5.0, 2.25)),
        ] {
            let lattice = Lattice { across, down };
            let (bounds, window) = (rect(0.2, -0.3, 2.0, 0.5), rect(-3.0, 1.0, 9.0, 7.0));
            let mut expected = Vec::new();
            for j in -400..400 {
                expected.extend((-400..400).map(|i| Cell::new(i, j)).filter(|&cell| {
                    let step = lattice.place(cell);
                    rect(bounds.x + step.x, bounds.y + step.y, bounds.width, bounds.height).meets(&window)
                }));
            }
            assert!(expected.len() > 10);
            assert_eq!(cells(&lattice, bounds, window), expected, "{across:?} {down:?}");
        }
    }
}
