//! The braid drawn with every crossing at the middle of its four neighbours,
//! which draws every hole convex on the torus (the torus form of W. T. Tutte,
//! "How to draw a graph", 1963; see S. J. Gortler, C. Gotsman, D. Thurston,
//! "Discrete one-forms on meshes", 2006). The threads start here when crossings
//! near their stitches would not be planar.

use lace::{Braid, Cell, Point, point};

/// Places of all crossings, each in its cell; the first at the origin.
pub(super) fn balance(braid: &Braid, shift: impl Fn(Cell) -> Point) -> Vec<Point> {
    let count = braid.nodes.len();
    let zero = vec![point(0.0, 0.0); count];
    let ends: Vec<(usize, usize)> =
        (0..braid.segments.len()).map(|s| (s / 2, braid.map.arrival(s) / 2)).collect();
    let apply = |x: &[Point], out: &mut [Point]| {
        out.fill(point(0.0, 0.0));
        for &(a, b) in &ends {
            let run = x[b] - x[a];
            out[a] -= run;
            out[b] += run;
        }
    };
    // Conjugate gradients (M. R. Hestenes and E. Stiefel, 1952), both
    // coordinates at once: the matrix is the same.
    let mut left = zero.clone();
    for (s, &(a, b)) in ends.iter().enumerate() {
        let step = shift(braid.segments[s].cell);
        left[a] += step;
        left[b] -= step;
    }
    let mut places = zero.clone();
    let mut direction = left.clone();
    let mut pull = zero;
    let sum = |a: &[Point], b: &[Point]| a.iter().zip(b).map(|(&a, &b)| a.dot(b)).sum::<f64>();
    let mut size = sum(&left, &left);
    let enough = 1e-24 * size;
    for _ in 0..4 * count {
        if size <= enough {
            break;
        }
        apply(&direction, &mut pull);
        let step = size / sum(&direction, &pull);
        for k in 0..count {
            places[k] += direction[k] * step;
            left[k] -= pull[k] * step;
        }
        let next = sum(&left, &left);
        for k in 0..count {
            direction[k] = left[k] + direction[k] * (next / size);
        }
        size = next;
    }
    let origin = places[0];
    places.iter().map(|&p| p - origin).collect()
}
