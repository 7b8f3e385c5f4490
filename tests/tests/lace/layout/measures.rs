//! Measures of a layout that do not use the solver's rules.

use geo::line_intersection::{LineIntersection, line_intersection};
use geo::{Coord, Line};
use lace::{Cell, Ground, Point, point};
use picture::layout::Layout;

pub fn length(p: Point) -> f64 {
    libm::hypot(p.x, p.y)
}

/// The lattice steps that move a box to overlap another.
pub fn steps(layout: &Layout, low: Point, high: Point, other_low: Point, other_high: Point) -> Vec<Point> {
    let lattice = &layout.lattice;
    // The step must be in this box.
    let (from, to) = (low - other_high, high - other_low);
    let corners = [from, to, point(from.x, to.y), point(to.x, from.y)];
    let coordinates = corners.map(|p| lattice.coordinates(p));
    let range = |k: usize| {
        let values = coordinates.map(|c| c[k]);
        let low = values.into_iter().fold(f64::INFINITY, f64::min).floor() as i64;
        low..=values.into_iter().fold(f64::NEG_INFINITY, f64::max).ceil() as i64
    };
    range(0)
        .flat_map(|i| range(1).map(move |j| lattice.place(Cell::new(i, j))))
        .filter(|s| s.x >= from.x && s.x <= to.x && s.y >= from.y && s.y <= to.y)
        .collect()
}

fn bounds(line: &[Point]) -> (Point, Point) {
    line.iter().fold((line[0], line[0]), |(low, high), p| {
        (point(low.x.min(p.x), low.y.min(p.y)), point(high.x.max(p.x), high.y.max(p.y)))
    })
}

pub fn to_piece(p: Point, a: Point, b: Point) -> f64 {
    let run = b - a;
    let t = ((p - a).x * run.x + (p - a).y * run.y) / (run.x * run.x + run.y * run.y);
    length(p - a - run * t.clamp(0.0, 1.0))
}

/// Checks that lines meet only where the braid has a crossing.
pub fn assert_planar(name: &str, ground: &Ground, layout: &Layout) {
    let braid = ground.braid();
    let coord = |p: Point| Coord { x: p.x, y: p.y };
    let piece = |w: &[Point], s: Point| Line::new(coord(w[0] + s), coord(w[1] + s));
    let tiny = 1e-6 * layout.thread_mm;
    for (s, line) in layout.lines.iter().enumerate() {
        let (low, high) = bounds(line);
        for (t, other) in layout.lines.iter().enumerate().skip(s) {
            let (other_low, other_high) = bounds(other);
            for step in steps(layout, low, high, other_low, other_high) {
                for (i, w) in line.windows(2).enumerate() {
                    for (j, v) in other.windows(2).enumerate() {
                        if s == t && step == point(0.0, 0.0) && j <= i + 1 && i <= j + 1 {
                            continue;
                        }
                        let Some(met) = line_intersection(piece(w, point(0.0, 0.0)), piece(v, step)) else {
                            continue;
                        };
                        // Allowed where an end of one is an end of the other.
                        let LineIntersection::SinglePoint { intersection, .. } = met else {
                            panic!("{name}: segments {s} and {t} lie on each other at {met:?}");
                        };
                        let at = point(intersection.x, intersection.y);
                        let near = |p: Point| length(p - at) < tiny;
                        let ends = [line[0], line[line.len() - 1]].into_iter().any(near)
                            && [other[0], other[other.len() - 1]].into_iter().any(|p| near(p + step));
                        let nodes = [s / 2, braid.map.arrival(s) / 2];
                        let share = [t / 2, braid.map.arrival(t) / 2].iter().any(|v| nodes.contains(v));
                        assert!(ends && share, "{name}: segments {s} and {t} meet at {at:?}");
                    }
                }
            }
        }
    }
}

/// Least distance, in thread diameters, from points of lines to other lines,
/// farther than 1.5 diameters along the thread from a crossing of the two.
pub fn clearance(ground: &Ground, layout: &Layout) -> f64 {
    let braid = ground.braid();
    let d = layout.thread_mm;
    let ends = |s: usize| [s / 2, braid.map.arrival(s) / 2];
    let mut least = f64::INFINITY;
    for (s, line) in layout.lines.iter().enumerate() {
        let total: f64 = line.windows(2).map(|w| length(w[1] - w[0])).sum();
        let mut arc = 0.0;
        for (k, &p) in line.iter().enumerate() {
            if k > 0 {
                arc += length(p - line[k - 1]);
            }
            let ways = [arc, total - arc];
            for (t, other) in layout.lines.iter().enumerate() {
                let (low, high) = bounds(other);
                let reach = point(d, d);
                for step in steps(layout, p - reach, p + reach, low, high) {
                    if s == t && step == point(0.0, 0.0) {
                        continue;
                    }
                    let [first, last] = [other[0] + step, other[other.len() - 1] + step];
                    let meets = [line[0], line[line.len() - 1]].into_iter().enumerate().any(|(e, node)| {
                        let same = |q: Point, v: usize| length(q - node) < 1e-6 * d && ends(s)[e] == v;
                        ways[e] < 1.5 * d && (same(first, ends(t)[0]) || same(last, ends(t)[1]))
                    });
                    if !meets {
                        let far = other.windows(2).map(|w| to_piece(p, w[0] + step, w[1] + step));
                        least = least.min(far.fold(f64::INFINITY, f64::min) / d);
                    }
                }
            }
        }
    }
    least
}

/// Largest distance from the mirror image of a crossing to the nearest crossing,
/// in grid steps, for the best upright mirror line.
pub fn mirror_error(layout: &Layout) -> f64 {
    let a_bit = point(0.1, 0.1);
    let off = |p: Point, axis: f64| {
        let image = point(2.0 * axis - p.x, p.y);
        let nearest = layout.nodes.iter().flat_map(|&q| {
            steps(layout, image, image, q - a_bit, q + a_bit)
                .into_iter()
                .map(move |step| length(image - q - step))
        });
        nearest.fold(f64::INFINITY, f64::min)
    };
    // A mirror line of the ground takes the first crossing to another crossing at
    // most one repeat away.
    let first = layout.nodes[0];
    let wide = point(layout.lattice.across.x.abs() + layout.lattice.down.x.abs(), 0.1);
    let mut axes: Vec<f64> = layout
        .nodes
        .iter()
        .flat_map(|&q| {
            let there = steps(layout, first - wide, first + wide, q, q);
            there.into_iter().map(move |step| (first.x + q.x + step.x) / 2.0)
        })
        .collect();
    axes.push(0.0);
    let worst =
        |axis: f64| layout.nodes.iter().map(|&p| off(p, axis)).fold(0.0, f64::max) / layout.grid.step_y_mm();
    axes.into_iter().map(worst).fold(f64::INFINITY, f64::min)
}

/// Depth to which lines enter pins, in thread diameters.
pub fn pierced(layout: &Layout) -> f64 {
    let mut deepest = 0.0f64;
    for pin in &layout.pins {
        let keep = pin.radius + layout.thread_mm / 2.0;
        for line in &layout.lines {
            let (low, high) = bounds(line);
            let reach = point(keep, keep);
            for step in steps(layout, pin.at - reach, pin.at + reach, low, high) {
                for w in line.windows(2) {
                    deepest = deepest.max(keep - to_piece(pin.at, w[0] + step, w[1] + step));
                }
            }
        }
    }
    deepest / layout.thread_mm
}
