//! Whether lines drawn for a braid cross only at its crossings.
//!
//! If the border of every hole is a simple clockwise polygon, the drawing is
//! planar. Every hole then lies flat, and the angles round each crossing add up
//! to at least one full turn; by V - E + F = 0 they average exactly one full
//! turn, so they are one full turn at every crossing.

use lace::{Cell, Point, point};

use super::chains::turn;
use super::holes::{Hole, PinInHole};

/// The border of a hole as one closed line.
pub(super) fn outline(hole: &Hole, lines: &[Vec<Point>], shift: &dyn Fn(Cell) -> Point) -> Vec<Point> {
    let mut outline = Vec::new();
    for b in &hole.border {
        let line = &lines[b.segment];
        let by = shift(b.cell);
        if b.along {
            outline.extend(line[..line.len() - 1].iter().map(|&p| p + by));
        } else {
            outline.extend(line[1..].iter().rev().map(|&p| p + by));
        }
    }
    outline
}

/// Whether every hole is a simple polygon with its pins inside.
pub(super) fn is_planar(
    holes: &[Hole],
    lines: &[Vec<Point>],
    pins: &[Point],
    shift: &dyn Fn(Cell) -> Point,
) -> bool {
    holes.iter().all(|hole| {
        let outline = outline(hole, lines, shift);
        area(&outline) > 0.0
            && is_simple(&outline)
            && hole.pins.iter().all(|&PinInHole { pin, cell }| winds_round(&outline, pins[pin] + shift(cell)))
    })
}

/// Twice the area, positive when clockwise on the pillow.
fn area(outline: &[Point]) -> f64 {
    let origin = outline[0];
    outline.windows(2).map(|p| turn(origin, p[0], p[1])).sum()
}

fn winds_round(outline: &[Point], p: Point) -> bool {
    let mut inside = false;
    for k in 0..outline.len() {
        let (a, b) = (outline[k], outline[(k + 1) % outline.len()]);
        if (a.y > p.y) != (b.y > p.y) && (turn(a, b, p) > 0.0) == (b.y > a.y) {
            inside = !inside;
        }
    }
    inside
}

/// Whether no two edges of a closed line meet except neighbours at their corner.
fn is_simple(outline: &[Point]) -> bool {
    let n = outline.len();
    let edge = |k: usize| (outline[k], outline[(k + 1) % n]);
    // The box round each edge, the highest edge first.
    let mut spans: Vec<(usize, Point, Point)> = (0..n)
        .map(|k| {
            let (a, b) = edge(k);
            (k, point(a.x.min(b.x), a.y.min(b.y)), point(a.x.max(b.x), a.y.max(b.y)))
        })
        .collect();
    spans.sort_unstable_by(|(i, a, _), (j, b, _)| a.y.total_cmp(&b.y).then(i.cmp(j)));
    for (k, &(i, low, high)) in spans.iter().enumerate() {
        for &(j, other_low, other_high) in &spans[k + 1..] {
            if other_low.y > high.y {
                break;
            }
            if other_low.x > high.x || low.x > other_high.x {
                continue;
            }
            let (a, b) = edge(i);
            let (c, d) = edge(j);
            if (i + 1) % n == j {
                if folds_back(a, b, d) {
                    return false;
                }
            } else if (j + 1) % n == i {
                if folds_back(c, d, b) {
                    return false;
                }
            } else if meet(a, b, c, d) {
                return false;
            }
        }
    }
    true
}

/// Whether the edge `b` to `c` doubles back over `a` to `b`.
fn folds_back(a: Point, b: Point, c: Point) -> bool {
    let (in_, out) = (b - a, c - b);
    turn(a, b, c) == 0.0 && in_.dot(out) < 0.0
}

fn meet(a: Point, b: Point, c: Point, d: Point) -> bool {
    let (abc, abd) = (turn(a, b, c), turn(a, b, d));
    let (cda, cdb) = (turn(c, d, a), turn(c, d, b));
    abc * abd <= 0.0
        && cda * cdb <= 0.0
        && !(abc == 0.0 && abd == 0.0 && cda == 0.0 && cdb == 0.0 && apart(a, b, c, d))
}

/// Whether two edges on one line do not overlap.
fn apart(a: Point, b: Point, c: Point, d: Point) -> bool {
    let (p, q) = (point(a.x.min(b.x), a.y.min(b.y)), point(a.x.max(b.x), a.y.max(b.y)));
    let (r, s) = (point(c.x.min(d.x), c.y.min(d.y)), point(c.x.max(d.x), c.y.max(d.y)));
    r.x > q.x || p.x > s.x || r.y > q.y || p.y > s.y
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(corners: &[[f64; 2]]) -> Vec<Point> {
        corners.iter().map(|&[x, y]| point(x, y)).collect()
    }

    #[test]
    fn a_bow_tie_is_not_simple_and_a_dented_square_is() {
        assert!(!is_simple(&of(&[[0.0, 0.0], [1.0, 1.0], [1.0, 0.0], [0.0, 1.0]])));
        let dented = of(&[[0.0, 0.0], [1.0, 0.3], [2.0, 0.0], [2.0, 2.0], [0.0, 2.0]]);
        assert!(is_simple(&dented));
        assert!(area(&dented) > 0.0);
        assert!(winds_round(&dented, point(1.0, 1.0)));
        assert!(!winds_round(&dented, point(1.0, 0.1)));
    }

    #[test]
    fn an_outline_that_touches_or_doubles_back_is_not_simple() {
        assert!(!is_simple(&of(&[[0.0, 0.0], [2.0, 0.0], [2.0, 2.0], [1.0, 0.0], [0.0, 2.0]])));
        assert!(!is_simple(&of(&[[0.0, 0.0], [2.0, 0.0], [1.0, 0.0], [1.0, 1.0]])));
    }
}
