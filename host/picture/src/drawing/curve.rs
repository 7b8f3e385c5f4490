//! Smooth curves through points, and sections of them.

use kurbo::PathEl;
use kurbo::simplify::{SimplifyOptions, simplify_bezpath};
use lace::{Point, point};

use crate::drawing::{Path, Step};

/// The unit vector in the same direction; straight down for a zero vector.
pub(crate) fn unit(p: Point) -> Point {
    let length = p.length();
    if length > 0.0 { p * (1.0 / length) } else { point(0.0, 1.0) }
}

/// The direction a quarter turn clockwise on the page from `p`.
pub(crate) fn turned(p: Point) -> Point {
    point(-p.y, p.x)
}

/// A cubic Bezier curve: ends and control points.
type Cubic = [Point; 4];

/// How many chords approximate the length of a cubic.
const CHORDS: usize = 8;

fn mix(a: Point, b: Point, t: f64) -> Point {
    a + (b - a) * t
}

fn on(c: &Cubic, t: f64) -> Point {
    let [a, b, d] = [mix(c[0], c[1], t), mix(c[1], c[2], t), mix(c[2], c[3], t)];
    mix(mix(a, b, t), mix(b, d, t), t)
}

fn split(c: &Cubic, t: f64) -> (Cubic, Cubic) {
    let [a, b, d] = [mix(c[0], c[1], t), mix(c[1], c[2], t), mix(c[2], c[3], t)];
    let (e, f) = (mix(a, b, t), mix(b, d, t));
    let middle = mix(e, f, t);
    ([c[0], a, e, middle], [middle, f, d, c[3]])
}

/// Lengths along a cubic at equal steps of its parameter, from 0.
fn lengths(c: &Cubic) -> [f64; CHORDS + 1] {
    let mut sums = [0.0; CHORDS + 1];
    let mut last = c[0];
    for k in 1..=CHORDS {
        let here = on(c, k as f64 / CHORDS as f64);
        sums[k] = sums[k - 1] + (here - last).length();
        last = here;
    }
    sums
}

/// The parameter at which a cubic reaches a given length.
fn parameter(c: &Cubic, length: f64) -> f64 {
    let sums = lengths(c);
    for k in 1..=CHORDS {
        if sums[k] >= length {
            let share = (length - sums[k - 1]) / (sums[k] - sums[k - 1]).max(1e-12);
            return ((k - 1) as f64 + share.clamp(0.0, 1.0)) / CHORDS as f64;
        }
    }
    1.0
}

/// A smooth curve.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Curve {
    cubics: Vec<Cubic>,
}

impl Curve {
    /// A curve through at least two points, by centripetal Catmull-Rom pieces.
    /// `before` and `after` are the neighbouring points beyond its ends, so that two
    /// curves given each other's points meet without a corner.
    ///
    /// Source: C. Yuksel, S. Schaefer, J. Keyser, "Parameterization and
    /// applications of Catmull-Rom curves", Computer-Aided Design 43 (2011):
    /// centripetal pieces make no loops.
    pub(crate) fn through(points: &[Point], before: Point, after: Point) -> Curve {
        let mut all = vec![before];
        for &p in points {
            if (p - all[all.len() - 1]).length() > 1e-9 || all.len() == 1 {
                all.push(p);
            }
        }
        all.push(after);
        let knot = |a: Point, b: Point| (b - a).length().sqrt().max(1e-6);
        // Velocity at point k in the centripetal parameter.
        let velocity = |k: usize| {
            let (u, v) = (knot(all[k - 1], all[k]), knot(all[k], all[k + 1]));
            let (back, forth) = ((all[k] - all[k - 1]) * (1.0 / u), (all[k + 1] - all[k]) * (1.0 / v));
            (back * v + forth * u) * (1.0 / (u + v))
        };
        let cubics = (1..all.len() - 2)
            .map(|k| {
                let step = knot(all[k], all[k + 1]) / 3.0;
                [all[k], all[k] + velocity(k) * step, all[k + 1] - velocity(k + 1) * step, all[k + 1]]
            })
            .collect();
        Curve { cubics }
    }

    /// The same curve in fewer pieces, at most `off` away, with the same ends and
    /// end directions.
    pub(crate) fn simplified(&self, off: f64) -> Curve {
        let from = |p: Point| kurbo::Point::new(p.x, p.y);
        let to = |p: kurbo::Point| point(p.x, p.y);
        let Some(first) = self.cubics.first() else {
            return self.clone();
        };
        let path = std::iter::once(PathEl::MoveTo(from(first[0])))
            .chain(self.cubics.iter().map(|c| PathEl::CurveTo(from(c[1]), from(c[2]), from(c[3]))));
        // Near-corners are rounded too: threads have none.
        let options = SimplifyOptions::default().angle_thresh(0.1);
        let cubics = simplify_bezpath(path, off, &options)
            .segments()
            .map(|segment| {
                let c = segment.to_cubic();
                [c.p0, c.p1, c.p2, c.p3].map(to)
            })
            .collect();
        Curve { cubics }
    }

    /// This curve followed by another, moved by `by`, that begins where it ends.
    pub(crate) fn then(&self, next: &Curve) -> Curve {
        Curve { cubics: [self.cubics.as_slice(), &next.cubics].concat() }
    }

    pub(crate) fn moved(&self, by: Point) -> Curve {
        Curve { cubics: self.cubics.iter().map(|c| c.map(|p| p + by)).collect() }
    }

    pub(crate) fn length(&self) -> f64 {
        self.cubics.iter().map(|c| lengths(c)[CHORDS]).sum()
    }

    /// The section between two lengths along it.
    pub(crate) fn part(&self, from: f64, to: f64) -> Curve {
        let mut cubics = Vec::new();
        let mut before = 0.0;
        for c in &self.cubics {
            let length = lengths(c)[CHORDS];
            let (a, b) = (from - before, to - before);
            before += length;
            if b <= 0.0 || a >= length {
                continue;
            }
            let end = if b < length { parameter(c, b) } else { 1.0 };
            let start = if a > 0.0 { parameter(c, a) } else { 0.0 };
            if end - start < 1e-9 {
                continue;
            }
            let (head, _) = split(c, end);
            cubics.push(if start > 0.0 { split(&head, start / end).1 } else { head });
        }
        Curve { cubics }
    }

    /// Points and directions along it, about `step` apart, both ends included.
    pub(crate) fn samples(&self, step: f64) -> Vec<(Point, Point)> {
        let mut samples = Vec::new();
        for c in &self.cubics {
            let count = (lengths(c)[CHORDS] / step).ceil().clamp(1.0, 1000.0) as usize;
            let first = usize::from(!samples.is_empty());
            for k in first..=count {
                let t = k as f64 / count as f64;
                let ahead = on(c, (t + 0.01).min(1.0)) - on(c, (t - 0.01).max(0.0));
                samples.push((on(c, t), unit(ahead)));
            }
        }
        samples
    }

    /// A curve beside this one: where this one has the direction `t`, the other is
    /// offset by `shift(t)`.
    pub(crate) fn beside(&self, shift: impl Fn(Point) -> Point) -> Curve {
        let cubics = self
            .cubics
            .iter()
            .map(|c| {
                let (start, end) = (c[0] + shift(heading(c, false)), c[3] + shift(heading(c, true)));
                // The offset curve is shorter inside a bend and longer
                // outside; its control points scale in proportion.
                let grown = (end - start).length() / (c[3] - c[0]).length().max(1e-12);
                [start, start + (c[1] - c[0]) * grown, end + (c[2] - c[3]) * grown, end]
            })
            .collect();
        Curve { cubics }
    }

    /// A curve beside this one, with every piece of it cut into `pieces`: offset by
    /// `shift(t, u)` where this one has the direction `t` and the share `u` of its length
    /// lies behind.
    pub(crate) fn beside_along(&self, pieces: usize, shift: impl Fn(Point, f64) -> Point) -> Curve {
        let whole = self.length();
        let cut = |k: usize| whole * k as f64 / pieces as f64;
        let part = |k: usize| {
            let (from, to) = (cut(k) / whole, cut(k + 1) / whole);
            let own = self.part(cut(k), cut(k + 1));
            let last = own.cubics.len().max(1) as f64;
            let ends = own.cubics.iter().enumerate().map(|(i, c)| {
                let at = |i: f64| from + (to - from) * (i / last);
                let start = c[0] + shift(heading(c, false), at(i as f64));
                let end = c[3] + shift(heading(c, true), at(i as f64 + 1.0));
                let grown = (end - start) - (c[3] - c[0]);
                [
                    start,
                    start + (c[1] - c[0]) + grown * (1.0 / 3.0),
                    end + (c[2] - c[3]) - grown * (1.0 / 3.0),
                    end,
                ]
            });
            ends.collect::<Vec<Cubic>>()
        };
        Curve { cubics: (0..pieces).flat_map(part).collect() }
    }

    /// The area between two curves that run side by side.
    pub(crate) fn between(left: &Curve, right: &Curve) -> Path {
        let mut path = left.path();
        if let Some(last) = right.cubics.last() {
            path.steps.push(Step::Line(last[3]));
            path.steps.extend(right.cubics.iter().rev().map(|c| Step::Curve(c[2], c[1], c[0])));
        }
        path.steps.push(Step::Close);
        path
    }

    pub(crate) fn path(&self) -> Path {
        let mut steps = Vec::with_capacity(self.cubics.len() + 1);
        steps.extend(self.cubics.first().map(|c| Step::Move(c[0])));
        steps.extend(self.cubics.iter().map(|c| Step::Curve(c[1], c[2], c[3])));
        Path { steps }
    }
}

/// Direction of a cubic at its start or end.
fn heading(c: &Cubic, at_end: bool) -> Point {
    let ahead = if at_end { c[3] - c[2] } else { c[1] - c[0] };
    unit(if ahead.length() > 1e-12 { ahead } else { c[3] - c[0] })
}

/// Distance of a point from a line of samples.
pub(crate) fn distance(p: Point, samples: &[(Point, Point)]) -> f64 {
    let mut best = f64::INFINITY;
    for pair in samples.windows(2) {
        let (a, b) = (pair[0].0, pair[1].0);
        let along = b - a;
        let t = ((p - a).dot(along) / along.dot(along).max(1e-18)).clamp(0.0, 1.0);
        best = best.min((p - mix(a, b, t)).length());
    }
    best
}

#[cfg(test)]
mod tests {
    use super::*;

    fn wave() -> Curve {
        let points = [point(0.0, 0.0), point(1.0, 1.0), point(0.0, 2.0), point(1.0, 3.5)];
        Curve::through(&points, point(1.0, -1.0), point(0.0, 4.5))
    }

    #[test]
    fn sections_add_up_and_lie_on_the_curve() {
        let curve = wave();
        let total = curve.length();
        let (head, tail) = (curve.part(0.0, 0.4 * total), curve.part(0.4 * total, total));
        assert!((head.length() - 0.4 * total).abs() < 0.02 * total);
        assert!((head.length() + tail.length() - total).abs() < 0.01 * total);
        let whole = curve.samples(0.01);
        for part in [&head, &tail] {
            for (p, _) in part.samples(0.05) {
                assert!(distance(p, &whole) < 1e-3);
            }
        }
        assert_eq!(head.cubics.last().unwrap()[3], tail.cubics[0][0]);
    }

    #[test]
    fn a_simplified_curve_stays_close() {
        let points: Vec<Point> =
            (0..=60).map(|k| f64::from(k) / 10.0).map(|t| point(t, libm::sin(t))).collect();
        let curve = Curve::through(&points, point(-0.1, -0.1), point(6.1, 0.0));
        let simple = curve.simplified(0.01);
        assert!(simple.cubics.len() <= 6, "{} pieces", simple.cubics.len());
        let whole = curve.samples(0.01);
        assert!(simple.samples(0.05).iter().all(|&(p, _)| distance(p, &whole) < 0.011));
        let ends = |c: &Curve| [c.cubics[0][0], c.cubics.last().unwrap()[3]];
        assert!(ends(&simple).into_iter().zip(ends(&curve)).all(|(a, b)| (a - b).length() < 1e-12));
        for at_end in [false, true] {
            let of =
                |c: &Curve| heading(if at_end { c.cubics.last().unwrap() } else { &c.cubics[0] }, at_end);
            assert!((of(&simple) - of(&curve)).length() < 1e-3);
        }
    }

    #[test]
    fn curves_given_each_others_points_meet_without_a_corner() {
        let points = [point(0.0, 0.0), point(1.0, 1.0), point(0.0, 2.0)];
        let more = [point(0.0, 2.0), point(1.0, 3.5), point(1.0, 4.0)];
        let first = Curve::through(&points, point(-1.0, -1.0), more[1]);
        let second = Curve::through(&more, points[1], point(1.0, 5.0));
        let turn = heading(first.cubics.last().unwrap(), true) - heading(&second.cubics[0], false);
        assert!(turn.length() < 1e-12);
    }
}
