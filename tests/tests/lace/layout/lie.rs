//! What a lacemaker would measure on threads that are laid out: how evenly cloth is
//! woven, how straight plaits run, how close threads turn round pins, the shapes of
//! meshes. Only from what a layout tells anyone, never by the solver's rules. All
//! lengths are in thread diameters.

use std::ops::Range;

use lace::{Cell, CrossingSource, Ground, Move, Point, SegmentCopy, Stitch, Walk, point};
use picture::layout::{Layout, PinDisc};

use super::measures::steps;

/// Threads as they lie.
#[derive(Clone, Copy)]
pub struct Lie<'a> {
    pub ground: &'a Ground,
    pub layout: &'a Layout,
}

/// A stretch of thread between two crossings.
#[derive(Clone, Copy, Debug)]
pub struct Stretch {
    pub from: usize,
    pub to: usize,
    /// From the first crossing straight to the second.
    pub run: Point,
}

impl Stretch {
    pub fn length(&self) -> f64 {
        self.run.length()
    }

    /// Whether it runs more level than upright, as the worker of a cloth does.
    pub fn is_level(&self) -> bool {
        self.run.x.abs() > self.run.y.abs()
    }
}

/// A plait of four threads.
#[derive(Clone, Copy, Debug)]
pub struct Plait {
    /// From its first crossing between the pairs to its last.
    pub run: Point,
    /// Farthest that its middle line lies from the straight one between its ends.
    pub off: f64,
    /// How much the lengths of its half stitches vary.
    pub uneven: f64,
}

/// A thread beside a pin.
#[derive(Clone, Copy, Debug)]
pub struct BesidePin {
    /// The stitch whose pin it is.
    pub stitch: usize,
    /// Between the edge of the pin and that of the thread.
    pub gap: f64,
    /// How far the thread turns round the pin, in degrees; less than 0 away from it.
    pub turn: f64,
}

/// How much values vary: their standard deviation as a share of their mean.
pub fn variation(values: &[f64]) -> f64 {
    let count = values.len() as f64;
    let mean = values.iter().sum::<f64>() / count;
    let squares = values.iter().map(|v| (v - mean) * (v - mean)).sum::<f64>() / count;
    squares.sqrt() / mean
}

pub fn unit(p: Point) -> Point {
    p * (1.0 / p.length())
}

/// The angle from one direction to another, 0 to 180 degrees.
pub fn angle(a: Point, b: Point) -> f64 {
    libm::atan2(a.cross(b).abs(), a.dot(b)).to_degrees()
}

/// Distance of a point from the endless line through two others.
fn off_line(p: Point, a: Point, b: Point) -> f64 {
    unit(b - a).cross(p - a).abs()
}

/// Area of a polygon.
pub fn area(corners: &[Point]) -> f64 {
    let next = |k: usize| corners[(k + 1) % corners.len()];
    0.5 * corners.iter().enumerate().map(|(k, &p)| p.cross(next(k))).sum::<f64>().abs()
}

/// The middle of a polygon's area.
pub fn middle(corners: &[Point]) -> Point {
    let (mut sum, mut twice) = (point(0.0, 0.0), 0.0);
    for (k, &p) in corners.iter().enumerate() {
        let q = corners[(k + 1) % corners.len()];
        let share = (p - corners[0]).cross(q - corners[0]);
        sum += (p + q + corners[0]) * (share / 3.0);
        twice += share;
    }
    sum * (1.0 / twice)
}

/// The longest to the shortest axis of a polygon: of the ellipse whose area is spread
/// as that of the polygon.
pub fn axes(corners: &[Point]) -> f64 {
    let centre = middle(corners);
    let (mut xx, mut xy, mut yy) = (0.0, 0.0, 0.0);
    for (k, &p) in corners.iter().enumerate() {
        let (p, q) = (p - centre, corners[(k + 1) % corners.len()] - centre);
        let share = p.cross(q);
        xx += share * (p.x * p.x + p.x * q.x + q.x * q.x);
        yy += share * (p.y * p.y + p.y * q.y + q.y * q.y);
        xy += share * (2.0 * p.x * p.y + p.x * q.y + q.x * p.y + 2.0 * q.x * q.y) / 2.0;
    }
    let (half, apart) = ((xx + yy) / 2.0, libm::hypot((xx - yy) / 2.0, xy));
    let (long, short) = (half.abs() + apart, half.abs() - apart);
    (long / short).sqrt()
}

/// A woven tally or leaf.
#[derive(Clone, Debug)]
pub struct Tally {
    pub stitch: usize,
    /// A segment of its weaver.
    pub weaver: usize,
    /// The way the passives run.
    pub down: Point,
    /// Where the weaver turns on its left side and on its right side.
    pub turns: [Vec<Point>; 2],
    /// The passes of the weaver: where each crosses its first, second and third passive.
    pub passes: Vec<[Point; 3]>,
}

impl Tally {
    fn across(&self) -> Point {
        point(self.down.y, -self.down.x)
    }

    /// From the outer edge of the first pass to that of the last.
    pub fn height(&self) -> f64 {
        let all: Vec<Point> = self.passes.iter().flatten().copied().collect();
        let [low, high] = extent(&all, self.down);
        high - low + 1.0
    }

    /// From the outer edge of the turns on the left to that on the right.
    pub fn width(&self) -> f64 {
        let [left, right] = self
            .turns
            .each_ref()
            .map(|turns| turns.iter().map(|p| p.dot(self.across())).sum::<f64>() / turns.len() as f64);
        (right - left).abs() + 1.0
    }

    /// Farthest that a turn lies from the straight line that suits the turns of its side
    /// best.
    pub fn crooked(&self) -> f64 {
        self.turns.iter().map(|turns| off_best_line(turns, self.across(), self.down)).fold(0.0, f64::max)
    }

    /// Distances between the outer passives, pass after pass.
    pub fn widths(&self) -> Vec<f64> {
        self.passes.iter().map(|[a, _, b]| (*b - *a).dot(self.across()).abs()).collect()
    }

    /// Its outline through the middle of the thread: the outer crossings of its passes,
    /// between the first and the last.
    pub fn outline(&self) -> Vec<Point> {
        let side = |right: bool| {
            self.passes.iter().map(move |&[a, _, b]| {
                let b_is_right = (b - a).dot(self.across()) > 0.0;
                if b_is_right == right { b } else { a }
            })
        };
        let mut outline: Vec<Point> = side(false).collect();
        let mut back: Vec<Point> = side(true).collect();
        back.reverse();
        outline.extend(back);
        outline
    }
}

/// Farthest that a point lies, across, from the line along `down` (which may lean) that
/// suits all of them best.
fn off_best_line(points: &[Point], across: Point, down: Point) -> f64 {
    let count = points.len() as f64;
    let mean = |of: &dyn Fn(&Point) -> f64| points.iter().map(of).sum::<f64>() / count;
    let (x, y) = (mean(&|p| p.dot(across)), mean(&|p| p.dot(down)));
    let sloped = mean(&|p| (p.dot(across) - x) * (p.dot(down) - y));
    let spread = mean(&|p| (p.dot(down) - y) * (p.dot(down) - y));
    let slope = if spread > 0.0 { sloped / spread } else { 0.0 };
    points.iter().map(|p| (p.dot(across) - x - slope * (p.dot(down) - y)).abs()).fold(0.0, f64::max)
}

/// Where the worker of a cloth turns round its pin.
#[derive(Clone, Copy, Debug)]
pub struct Turn {
    /// Whether it turns on the left side of its cloth.
    pub left: bool,
    /// How far its outermost thread lies beyond the pin, level, from edge to edge: two
    /// threads side by side take 2.
    pub reach: f64,
}

impl Lie<'_> {
    /// The tallies and leaves.
    pub fn tallies(&self) -> Vec<Tally> {
        let braid = self.ground.braid();
        let tally = |s: usize| {
            let sides = self.stitch(s).weaver();
            let own = self.crossings(s);
            let woven: Vec<usize> = own.clone().filter(|v| sides[v - own.start].is_some()).collect();
            let passes: Vec<[usize; 3]> = woven.chunks_exact(3).map(|c| [c[0], c[1], c[2]]).collect();
            let middle = |pass: &[usize; 3]| {
                pass.iter().fold(point(0.0, 0.0), |sum, &v| sum + self.node(v)) * (1.0 / 3.0)
            };
            let down = unit(middle(&passes[passes.len() - 1]) - middle(&passes[0]));
            let across = point(down.y, -down.x);
            let weaver = 2 * woven[0] + sides[woven[0] - own.start].expect("it is woven").index();
            let mut turns = [Vec::new(), Vec::new()];
            for pair in passes.windows(2) {
                // The weaver crosses the last passive of a pass again as the first of the next.
                let (from, to) = (pair[0][2], pair[1][0]);
                let side = sides[from - own.start].expect("it is woven").index();
                let segment = 2 * from + side;
                assert_eq!(braid.map.arrival(segment) / 2, to, "the weaver turns");
                let line = self.line(segment);
                let out = if (self.node(pair[0][2]) - self.node(pair[0][0])).dot(across) > 0.0 {
                    1.0
                } else {
                    -1.0
                };
                let far =
                    line.into_iter().max_by(|p, q| (p.dot(across) * out).total_cmp(&(q.dot(across) * out)));
                turns[usize::from(out > 0.0)].push(far.expect("a line has points"));
            }
            let passes = passes.iter().map(|pass| pass.map(|v| self.node(v))).collect();
            Tally { stitch: s, weaver, down, turns, passes }
        };
        self.stitches(Stitch::is_woven).into_iter().map(tally).collect()
    }

    /// The turns of the workers of cloth.
    pub fn turns(&self) -> Vec<Turn> {
        let mut found = Vec::new();
        for pin in &self.layout.pins {
            let moves = self.stitch(pin.stitch).moves();
            let left = moves.contains(&Move::TwistLeft);
            if !left && !moves.contains(&Move::TwistRight) {
                continue;
            }
            let out = point(if left { -1.0 } else { 1.0 }, 0.0);
            let at = pin.at * (1.0 / self.layout.thread_mm);
            let own = self.crossings(pin.stitch);
            let inside = (2 * own.start..2 * own.end).filter(|&s| own.contains(&self.stretch(s).to));
            let far = inside.flat_map(|s| self.line(s)).map(|p| (p - at).dot(out)).fold(0.0, f64::max);
            let reach = far + 0.5 - pin.radius / self.layout.thread_mm;
            found.push(Turn { left, reach });
        }
        found
    }

    /// The distance from every pin to the edge of the nearest thread.
    pub fn gaps_at_pins(&self) -> Vec<f64> {
        let thread = self.layout.thread_mm;
        let lines: Vec<Vec<Point>> =
            self.layout.lines.iter().map(|line| finely_by(line, 0.1 * thread)).collect();
        let gap = |pin: &PinDisc| {
            let reach = point(4.0 * thread, 4.0 * thread);
            let mut least = f64::INFINITY;
            for &p in lines.iter().flatten() {
                for step in steps(self.layout, pin.at - reach, pin.at + reach, p, p) {
                    least = least.min((p + step - pin.at).length());
                }
            }
            (least - pin.radius) / thread - 0.5
        };
        self.layout.pins.iter().map(gap).collect()
    }

    /// The step to another cell.
    pub fn step(&self, cell: Cell) -> Point {
        self.layout.lattice.place(cell) * (1.0 / self.layout.thread_mm)
    }

    /// A crossing, in its own cell.
    pub fn node(&self, v: usize) -> Point {
        self.layout.nodes[v] * (1.0 / self.layout.thread_mm)
    }

    pub fn line(&self, segment: usize) -> Vec<Point> {
        self.layout.lines[segment].iter().map(|&p| p * (1.0 / self.layout.thread_mm)).collect()
    }

    /// The stitch that makes a crossing, if a stitch does.
    pub fn stitch_of(&self, v: usize) -> Option<usize> {
        match self.ground.braid().nodes[v].source {
            CrossingSource::Stitch(s) => Some(s),
            CrossingSource::Leg(_) => None,
        }
    }

    pub fn stitch(&self, s: usize) -> &Stitch {
        &self.ground.stitches()[s].stitch
    }

    /// The crossings of a stitch.
    pub fn crossings(&self, s: usize) -> Range<usize> {
        let first = self.ground.braid().stitch_nodes[s];
        first..first + self.stitch(s).crossings().count()
    }

    /// All stitches of which something is true.
    pub fn stitches(&self, is: impl Fn(&Stitch) -> bool) -> Vec<usize> {
        (0..self.ground.stitches().len()).filter(|&s| is(self.stitch(s))).collect()
    }

    pub fn stretch(&self, segment: usize) -> Stretch {
        let braid = self.ground.braid();
        let (from, to) = (segment / 2, braid.map.arrival(segment) / 2);
        Stretch { from, to, run: self.node(to) + self.step(braid.segments[segment].cell) - self.node(from) }
    }

    pub fn stretches(&self) -> impl Iterator<Item = Stretch> + '_ {
        (0..self.ground.braid().segments.len()).map(|s| self.stretch(s))
    }

    /// Every stretch whose two crossings belong to stitches of which something is true.
    pub fn stretches_among(&self, is: impl Fn(usize) -> bool) -> Vec<Stretch> {
        let within = |v: usize| self.stitch_of(v).is_some_and(&is);
        self.stretches().filter(|s| within(s.from) && within(s.to)).collect()
    }

    /// Whether a stitch is cloth stitch without a pin.
    pub fn is_cloth(&self, s: usize) -> bool {
        self.stitch(s) == &"CTC".parse().expect("cloth stitch")
    }

    /// All plaits: three half stitches or more, one after the other.
    pub fn plaits(&self) -> Vec<Plait> {
        let mut found = Vec::new();
        for s in self.stitches(|stitch| !stitch.is_woven()) {
            let own = self.crossings(s);
            let pin = own.start + self.stitch(s).crossings_before_pin().unwrap_or(0);
            for part in [own.start..pin, pin..own.end] {
                let link = |v: &usize| self.ground.braid().nodes[*v].at == 1;
                let links: Vec<usize> = part.clone().filter(link).collect();
                if links.len() < 3 {
                    continue;
                }
                // The middles of its twists lie on its middle line too.
                let mut line: Vec<Point> = Vec::new();
                let mut twists: Vec<Point> = Vec::new();
                for v in links[0]..=links[links.len() - 1] {
                    if link(&v) {
                        line.push(self.node(v));
                    } else {
                        twists.push(self.node(v));
                    }
                }
                let (a, b) = (line[0], line[line.len() - 1]);
                let steps: Vec<f64> = line.windows(2).map(|w| (w[1] - w[0]).length()).collect();
                let middles = twists.chunks_exact(2).map(|pair| (pair[0] + pair[1]) * 0.5);
                let off = line.iter().copied().chain(middles).map(|p| off_line(p, a, b)).fold(0.0, f64::max);
                found.push(Plait { run: b - a, off, uneven: variation(&steps) });
            }
        }
        found
    }

    /// The line of a copy of a segment with what comes before and after it on its thread,
    /// and where on it the segment begins and ends, as positions in the line.
    fn course(&self, copy: SegmentCopy) -> Vec<Point> {
        let braid = self.ground.braid();
        let shifted = |segment: usize, by: Point| -> Vec<Point> {
            self.line(segment).into_iter().map(|p| p + by).collect()
        };
        let at = self.step(copy.cell);
        let mut whole = shifted(copy.segment, at);
        let (mut first, mut last) = (copy, copy);
        for _ in 0..3 {
            let before = braid.map.departure(first.segment ^ 1);
            first = SegmentCopy { segment: before, cell: first.cell - braid.segments[before].cell };
            let mut line = shifted(before, self.step(first.cell));
            line.pop();
            line.extend(whole);
            whole = line;
            let after = braid.map.arrival(last.segment) ^ 1;
            last = SegmentCopy { segment: after, cell: last.cell + braid.segments[last.segment].cell };
            whole.extend(shifted(after, self.step(last.cell)).into_iter().skip(1));
        }
        whole
    }

    /// The two threads beside every pin.
    pub fn beside_pins(&self) -> Vec<BesidePin> {
        let mut found = Vec::new();
        for (pin, place) in self.layout.pins.iter().zip(&self.ground.braid().pins) {
            let (at, radius) = (pin.at * (1.0 / self.layout.thread_mm), pin.radius / self.layout.thread_mm);
            for copy in [place.left, place.right] {
                let line = finely(&self.course(copy));
                let own = finely(&self.line(copy.segment));
                let shift = self.step(copy.cell);
                let away = |p: Point| (p - at).length();
                let nearest = own.iter().map(|&p| p + shift).min_by(|p, q| away(*p).total_cmp(&away(*q)));
                let nearest = nearest.expect("a line has points");
                let k = (0..line.len())
                    .min_by(|&i, &j| (line[i] - nearest).length().total_cmp(&(line[j] - nearest).length()))
                    .expect("a line has points");
                // Points stand 0.1 apart: the way it comes and goes, 2.5 before and after.
                let far = 25;
                let (i, j) = (k.saturating_sub(far), (k + far).min(line.len() - 1));
                let (come, go) = (line[k] - line[i], line[j] - line[k]);
                let inward = unit(go) - unit(come);
                let sign = if inward.dot(at - line[k]) >= 0.0 { 1.0 } else { -1.0 };
                found.push(BesidePin {
                    stitch: pin.stitch,
                    gap: own.iter().map(|&p| away(p + shift)).fold(f64::INFINITY, f64::min) - radius - 0.5,
                    turn: sign * angle(come, go),
                });
            }
        }
        found
    }

    /// How far apart the two threads of every twist lie at most, where no pin stands
    /// between them.
    pub fn twists(&self) -> Vec<f64> {
        let braid = self.ground.braid();
        let pinned = |walk: &Walk| !walk.along && braid.pins.iter().any(|pin| pin.left.segment == walk.edge);
        let two = braid.map.faces().into_iter().filter(|face| face.len() == 2 && !face.iter().any(pinned));
        two.map(|face| {
            let [one, other] = [face[0].edge, face[1].edge].map(|s| finely(&self.line(s)));
            let shift = one[0] - other[0];
            let apart =
                |p: Point| other.iter().map(|&q| (p - q - shift).length()).fold(f64::INFINITY, f64::min);
            one.iter().map(|&p| apart(p)).fold(0.0, f64::max)
        })
        .collect()
    }

    /// The outline of every hole between threads, by their middle lines, with its corners
    /// as crossings.
    pub fn holes(&self) -> Vec<(Vec<usize>, Vec<Point>)> {
        let braid = self.ground.braid();
        let hole = |face: Vec<Walk>| {
            let mut at = Cell::ORIGIN;
            let (mut corners, mut outline) = (Vec::new(), Vec::new());
            for Walk { edge, along } in face {
                let step = braid.segments[edge].cell;
                let after = if along { at + step } else { at - step };
                let shift = self.step(if along { at } else { after });
                let mut line: Vec<Point> = self.line(edge).into_iter().map(|p| p + shift).collect();
                if !along {
                    line.reverse();
                }
                corners.push(if along { edge / 2 } else { braid.map.arrival(edge) / 2 });
                line.pop();
                outline.extend(line);
                at = after;
            }
            (corners, outline)
        };
        braid.map.faces().into_iter().map(hole).collect()
    }
}

/// A line with points 0.1 apart.
pub fn finely(line: &[Point]) -> Vec<Point> {
    finely_by(line, 0.1)
}

fn finely_by(line: &[Point], apart: f64) -> Vec<Point> {
    let mut fine = vec![line[0]];
    let mut left = apart;
    for pair in line.windows(2) {
        let length = (pair[1] - pair[0]).length();
        let mut at = left;
        while at <= length && length > 0.0 {
            fine.push(pair[0] + (pair[1] - pair[0]) * (at / length));
            at += apart;
        }
        left = at - length;
    }
    fine.push(line[line.len() - 1]);
    fine
}

/// Least and largest extent of points along a direction.
pub fn extent(points: &[Point], along: Point) -> [f64; 2] {
    let fold = |[low, high]: [f64; 2], p: &Point| [low.min(p.dot(along)), high.max(p.dot(along))];
    points.iter().fold([f64::INFINITY, f64::NEG_INFINITY], fold)
}
