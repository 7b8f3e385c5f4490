//! A sketch of a repeat as it is written, faults and all: the only picture that
//! needs no ground. Stitches are marks with their names, pairs are lines from
//! exit to entry; what was found fault with is drawn heavier and numbered.

use lace::{Cell, Finding, Leg, Place, Point, Repeat, Side, point};

use crate::colour::{Rgb, rgb};
use crate::drawing::font;
use crate::drawing::{Anchor, Drawing, Face, Group, Paint, Path, Rect, Shape, Step, Stroke, Text, rect};

/// Vermilion of the palette of Okabe and Ito, darker: letters in it are read on
/// white.
const FAULT: Rgb = rgb(0xb8, 0x4c, 0x00);
/// Widest and highest that the stitches and pairs of a sketch are, mm, the room
/// round them, and how wide a sketch with its lines of words is at least.
const WIDEST: f64 = 126.0;
const HIGHEST: f64 = 176.0;
const EDGE: f64 = 12.0;
const LEAST_WIDTH: f64 = 110.0;
/// Longest that a grid step is drawn, mm.
const LONGEST_STEP: f64 = 25.0;
/// Letters, mm, and how much of that a letter stands above its line.
const SMALL: f64 = 3.2;
const RISE: f64 = 0.7;
/// Radius of the mark of a stitch, mm.
const MARK: f64 = 1.8;
/// Where pairs leave and enter a mark, from its middle, mm.
const SIDEWAYS: f64 = 1.15;
const UPRIGHT: f64 = 1.4;
/// Most stitches that a sketch shows.
const MOST: usize = 300;

/// The sketch of a repeat with its findings, one line for each below it; `None`
/// where no place of a stitch is known or there are too many stitches.
pub fn sketch(repeat: &Repeat, title: &str, findings: &[Finding]) -> Option<Drawing> {
    const HEAD: f64 = 10.0;
    let bare = bare_sketch(repeat, title, findings, LONGEST_STEP)?;
    let width = bare.width.max(LEAST_WIDTH);
    let lines = findings.iter().enumerate().map(|(k, f)| {
        let words = format!("{} {}: {}", k + 1, f.place, f.sentence);
        font::wrapped(&words, SMALL, Face::Regular, width - 12.0)
    });
    let lines: Vec<Vec<String>> = lines.collect();
    let below = 1.5 * SMALL * lines.iter().map(Vec::len).sum::<usize>() as f64;
    let height = HEAD + bare.height;
    let mut drawing = Drawing::new(width, height + below, format!("{title}, as it is written"));
    drawing.background = bare.background;
    drawing.place(&bare, point((width - bare.width) / 2.0, HEAD), "");
    let mut words = Group::new("lines");
    let title = font::shortened(&drawing.title, SMALL, Face::Semibold, width - 12.0);
    words.shapes.push(said(point(6.0, 8.0), &title, Face::Semibold, Rgb::INK, Anchor::Start));
    let mut y = height;
    for (line, finding) in lines.iter().zip(findings) {
        for part in line {
            let ink = if finding.is_error() { FAULT } else { Rgb::INK };
            words.shapes.push(said(point(6.0, y), part, Face::Regular, ink, Anchor::Start));
            y += 1.5 * SMALL;
        }
    }
    drawing.groups.push(words);
    Some(drawing)
}

/// The same without a heading and without the lines below: for pages that say
/// both in words of their own. A grid step is drawn `longest_step` mm long, or
/// shorter where there are many.
pub fn bare_sketch(repeat: &Repeat, title: &str, findings: &[Finding], longest_step: f64) -> Option<Drawing> {
    let places: Vec<Point> = repeat.stitches.iter().map(|s| s.at).collect::<Option<_>>()?;
    let finite = |p: &Point| p.x.abs() < 1e5 && p.y.abs() < 1e5;
    let lattice = &repeat.lattice;
    if places.is_empty()
        || places.len() > MOST
        || !places.iter().chain([&lattice.across, &lattice.down]).all(finite)
    {
        return None;
    }
    let run = |leg: &Leg| {
        let from = *places.get(leg.from.stitch)?;
        let to = *places.get(leg.to.stitch)? + lattice.place(leg.cell);
        finite(&to).then_some((from, to))
    };
    let corner = places[0];
    let corners =
        [corner, corner + lattice.across, corner + lattice.across + lattice.down, corner + lattice.down];
    // Everything that the legs of this one repeat touch, and the repeat itself.
    let ends = repeat.legs.iter().filter_map(run).flat_map(|(from, to)| [from, to]);
    let bounds = Rect::around(places.iter().copied().chain(ends).chain(corners))?;
    let step = (WIDEST / bounds.width.max(1e-3)).min(HIGHEST / bounds.height.max(1e-3)).min(longest_step);
    let at = |p: Point| point(EDGE + (p.x - bounds.x) * step, EDGE + (p.y - bounds.y) * step);
    let size = point(2.0 * EDGE + bounds.width * step, 2.0 * EDGE + bounds.height * step);

    let mut drawing = Drawing::new(size.x, size.y, format!("{title}, as it is written"));
    drawing.background = Some(Rgb::WHITE);
    let mut pairs = Group::new("pairs");
    let mut stitches = Group::new("stitches");
    let mut words = Labels::new(rect(0.0, 0.0, size.x, size.y));

    let number = |here: &dyn Fn(&Place) -> bool| {
        let all = findings.iter().enumerate().filter(|(_, f)| here(&f.place));
        let all: Vec<String> = all.map(|(k, _)| (k + 1).to_string()).collect();
        (!all.is_empty()).then(|| all.join(", "))
    };
    let mut numbered = Vec::new();
    for leg in &repeat.legs {
        let Some((from, to)) = run(leg) else { continue };
        let id = &repeat.stitches[leg.from.stitch].id;
        let fault = number(
            &|place| matches!(place, Place::Leg { from, side } if from == id && *side == leg.from.side),
        );
        let ink = if fault.is_some() { FAULT } else { Rgb::INK };
        let back = length(to - from) * step < MARK;
        let line = line_of_leg(leg, at(from), at(to), back);
        words.lines.extend(line.windows(2).map(|two| [two[0], two[1]]));
        let path = if back { round(&line) } else { Path::line(line.iter().copied()) };
        pairs.shapes.push(Shape::stroke(path, Stroke::new(ink, if fault.is_some() { 0.9 } else { 0.35 })));
        let (start, end) = (line[0], line[line.len() - 1]);
        let middle = (start + end) * 0.5;
        let along = (end - start) * (1.0 / length(end - start).max(1e-6));
        let twists = leg.twists.min(8);
        for k in 0..twists {
            let here = middle + along * ((f64::from(k) - f64::from(twists - 1) / 2.0) * 1.2);
            let across = point(-along.y, along.x) * 1.4;
            let bar = Path::line([here - across, here + across]);
            pairs.shapes.push(Shape::stroke(bar, Stroke::new(ink, 0.4)));
        }
        numbered.extend(fault.map(|fault| (fault, start, end)));
        // Where it leads into another repeat, the stitch there as a shadow.
        if leg.cell != Cell::ORIGIN {
            words.marks.push(square(at(to)));
            pairs.shapes.push(Shape::Path {
                path: Path::circle(at(to), MARK),
                fill: Some(Rgb::WHITE.into()),
                stroke: Some(Stroke::new(Paint::veil(Rgb::INK, 0.35), 0.3)),
            });
        }
    }
    words.marks.extend(places.iter().map(|&place| square(at(place))));
    let mut names = Vec::new();
    for (stitch, place) in repeat.stitches.iter().zip(&places) {
        let place = at(*place);
        let fault = number(&|p| matches!(p, Place::Stitches(ids) if ids.contains(&stitch.id)));
        let ink = if fault.is_some() { FAULT } else { Rgb::INK };
        stitches.shapes.push(Shape::Path {
            path: Path::circle(place, MARK),
            fill: Some(Rgb::WHITE.into()),
            stroke: Some(Stroke::new(ink, if fault.is_some() { 0.9 } else { 0.6 })),
        });
        if stitch.stitch.pin().is_some() {
            stitches.shapes.push(Shape::fill(Path::circle(place, 0.7), Paint::from(Rgb::INK)));
        }
        names.push((stitch.id.as_str(), fault, ink, place));
    }
    for (fault, start, end) in numbered {
        words.beside_line(&fault, start, end);
    }
    for (id, fault, ink, place) in names {
        words.beside_mark(id, Face::Regular, ink, place);
        if let Some(fault) = fault {
            words.beside_mark(&fault, Face::Semibold, FAULT, place);
        }
    }
    // The lattice as a quiet frame.
    let mut cell = Group::new("repeat");
    let mut stroke = Stroke::new(Paint::veil(Rgb::INK, 0.35), 0.2);
    stroke.dash = Some([1.2, 1.2]);
    cell.shapes.push(Shape::stroke(Path::polygon(corners.map(at)), stroke));
    drawing.groups = vec![cell, pairs, stitches, words.group];
    Some(drawing)
}

fn said(at: Point, text: &str, face: Face, ink: Rgb, anchor: Anchor) -> Shape {
    Shape::Text(Text { at, size: SMALL, words: text.to_owned(), anchor, face, paint: ink.into() })
}

/// The line of a leg: from the side of the mark where the pair leaves to the
/// side where it enters, so that it is seen which. A leg that leads `back` to
/// where it began goes round the mark.
fn line_of_leg(leg: &Leg, from: Point, to: Point, back: bool) -> Vec<Point> {
    let sideways = |side: Side| if side == Side::Left { -1.0 } else { 1.0 };
    let (out, into) = (sideways(leg.from.side), sideways(leg.to.side));
    let start = from + point(SIDEWAYS * out, UPRIGHT);
    let end = to + point(SIDEWAYS * into, -UPRIGHT);
    if back {
        let far = 4.0 * MARK;
        vec![start, start + point(far * out, 0.8 * far), end + point(far * into, -0.8 * far), end]
    } else {
        vec![start, end]
    }
}

fn length(run: Point) -> f64 {
    (run.x * run.x + run.y * run.y).sqrt()
}

/// A curve by its two ends and its two control points.
fn round(line: &[Point]) -> Path {
    let steps = match *line {
        [start, one, two, end] => vec![Step::Move(start), Step::Curve(one, two, end)],
        _ => Vec::new(),
    };
    Path { steps }
}

/// The square round the mark of a stitch.
fn square(at: Point) -> Rect {
    rect(at.x - MARK, at.y - MARK, 2.0 * MARK, 2.0 * MARK)
}

/// Words, each set where it lies on least.
struct Labels {
    group: Group,
    paper: Rect,
    lines: Vec<[Point; 2]>,
    marks: Vec<Rect>,
    set: Vec<Rect>,
}

impl Labels {
    fn new(paper: Rect) -> Labels {
        Labels { group: Group::new("words"), paper, lines: Vec::new(), marks: Vec::new(), set: Vec::new() }
    }

    /// A word beside the mark of a stitch.
    fn beside_mark(&mut self, text: &str, face: Face, ink: Rgb, mark: Point) {
        let (side, low) = (MARK + 0.9, SMALL * RISE / 2.0);
        let mut wanted = Vec::new();
        for far in [0.0, 1.5] {
            wanted.extend([
                (point(side + far, low), Anchor::Start),
                (point(-side - far, low), Anchor::End),
                (point(1.2, -side - far), Anchor::Start),
                (point(-1.2, -side - far), Anchor::End),
                (point(1.2, side + far + 2.0 * low), Anchor::Start),
                (point(-1.2, side + far + 2.0 * low), Anchor::End),
                (point(0.0, -side - far), Anchor::Middle),
                (point(0.0, side + far + 2.0 * low), Anchor::Middle),
            ]);
        }
        let wanted: Vec<(Point, Anchor)> = wanted.into_iter().map(|(by, a)| (mark + by, a)).collect();
        self.set_best(text, face, ink, &wanted);
    }

    /// A number beside a line.
    fn beside_line(&mut self, text: &str, start: Point, end: Point) {
        let along = (end - start) * (1.0 / length(end - start).max(1e-6));
        let across = point(-along.y, along.x);
        let mut wanted = Vec::new();
        for part in [0.5, 0.4, 0.6, 0.3, 0.7] {
            for side in [1.0, -1.0] {
                let by = across * (2.6 * side) + point(0.0, SMALL * RISE / 2.0);
                wanted.push((start + (end - start) * part + by, Anchor::Middle));
            }
        }
        self.set_best(text, Face::Semibold, FAULT, &wanted);
    }

    fn set_best(&mut self, text: &str, face: Face, ink: Rgb, wanted: &[(Point, Anchor)]) {
        let width = font::width(text, SMALL, face);
        let room = |&(at, anchor): &(Point, Anchor)| {
            let left = match anchor {
                Anchor::Start => at.x,
                Anchor::Middle => at.x - width / 2.0,
                Anchor::End => at.x - width,
            };
            rect(left, at.y - SMALL * RISE, width, SMALL * (RISE + 0.2))
        };
        let on = |room: &Rect| {
            let lines = self.lines.iter().filter(|[a, b]| crosses(room, *a, *b)).count();
            let words = self.set.iter().chain(&self.marks).filter(|other| room.meets(other)).count();
            let inside = room.x >= self.paper.x
                && room.y >= self.paper.y
                && room.x + room.width <= self.paper.x + self.paper.width
                && room.y + room.height <= self.paper.y + self.paper.height;
            lines + 3 * words + if inside { 0 } else { 100 }
        };
        let best = wanted.iter().map(|place| (room(place), place)).min_by_key(|(room, _)| on(room));
        if let Some((room, &(at, anchor))) = best {
            self.set.push(room);
            self.group.shapes.push(said(at, text, face, ink, anchor));
        }
    }
}

/// Whether a straight line passes through a rectangle (Liang and Barsky: what
/// is left of the line when each side has cut off what is beyond).
fn crosses(r: &Rect, a: Point, b: Point) -> bool {
    let (dx, dy) = (b.x - a.x, b.y - a.y);
    let sides = [(-dx, a.x - r.x), (dx, r.x + r.width - a.x), (-dy, a.y - r.y), (dy, r.y + r.height - a.y)];
    let (mut first, mut last) = (0.0_f64, 1.0_f64);
    for (outwards, room) in sides {
        if outwards == 0.0 {
            if room < 0.0 {
                return false;
            }
        } else if outwards < 0.0 {
            first = first.max(room / outwards);
        } else {
            last = last.min(room / outwards);
        }
    }
    first <= last
}

#[cfg(test)]
mod tests {
    use lace::{Lattice, check, samples};

    use super::*;

    fn texts(drawing: &Drawing) -> Vec<&Text> {
        fn words(shape: &Shape) -> Option<&Text> {
            if let Shape::Text(text) = shape { Some(text) } else { None }
        }
        drawing.shapes().filter_map(words).collect()
    }

    #[test]
    fn a_line_crosses_a_rectangle_or_passes_it() {
        let r = rect(1.0, 1.0, 2.0, 1.0);
        for (a, b, expected) in [
            ((0.0, 0.0), (4.0, 3.0), true),
            ((0.0, 1.5), (4.0, 1.5), true),
            ((2.0, 0.0), (2.0, 0.9), false),
            ((0.0, 0.0), (0.5, 4.0), false),
            ((1.5, 1.2), (2.0, 1.8), true),
            ((0.0, 3.0), (4.0, 2.5), false),
        ] {
            assert_eq!(crosses(&r, point(a.0, a.1), point(b.0, b.1)), expected, "{a:?} {b:?}");
        }
    }

    #[test]
    fn everything_lies_on_the_paper_and_names_lie_on_no_line() {
        for repeat in [samples::torchon("CT pin CT", 2), samples::rose("CTCT", "CT pin CT")] {
            let drawing = bare_sketch(&repeat, "A ground", &[], 16.0).unwrap();
            let paper = rect(0.0, 0.0, drawing.width, drawing.height);
            let mut lines = Vec::new();
            for group in &drawing.groups {
                assert_eq!(group.clip, None, "{} is cut off", group.id);
                for shape in &group.shapes {
                    let Shape::Path { path, .. } = shape else { continue };
                    let b = path.bounds().unwrap();
                    let inside = b.x >= 0.0 && b.y >= 0.0;
                    assert!(inside && b.x + b.width <= paper.width && b.y + b.height <= paper.height);
                    if let (true, [Step::Move(a), Step::Line(b)]) = (group.id == "pairs", &path.steps[..]) {
                        lines.push((*a, *b));
                    }
                }
            }
            let names = texts(&drawing);
            assert_eq!(names.len(), repeat.stitches.len());
            for text in names {
                let width = font::width(&text.words, text.size, text.face);
                let left = match text.anchor {
                    Anchor::Start => text.at.x,
                    Anchor::Middle => text.at.x - width / 2.0,
                    Anchor::End => text.at.x - width,
                };
                let room = rect(left, text.at.y - SMALL * RISE, width, SMALL * RISE);
                assert!(lines.iter().all(|&(a, b)| !crosses(&room, a, b)), "{} lies on a line", text.words);
            }
        }
    }

    #[test]
    fn what_was_found_is_numbered_and_told_below() {
        let mut repeat = samples::rose("CTCT", "CT pin CT");
        repeat.stitches[2].at = Some(point(0.0, -0.125));
        let findings = check(&repeat);
        assert_eq!(findings.len(), 2, "{findings:?}");
        let drawing = sketch(&repeat, "Rose", &findings).unwrap();
        let words: Vec<&str> = texts(&drawing).iter().map(|text| text.words.as_str()).collect();
        assert!(words.contains(&"Rose, as it is written"), "{words:?}");
        for (k, finding) in findings.iter().enumerate() {
            let number = (k + 1).to_string();
            assert!(words.contains(&number.as_str()), "{words:?}");
            let line = format!("{number} {}", finding.place);
            assert!(words.iter().any(|w| w.starts_with(&line)), "{words:?}");
        }
        let last = texts(&drawing).iter().map(|text| text.at.y).fold(0.0, f64::max);
        assert!(last < drawing.height);
    }

    // W3C, Web Content Accessibility Guidelines 2.2, success criterion 1.4.3.
    #[test]
    fn what_is_wrong_is_read_on_white() {
        assert!(crate::colour::vision::contrast(FAULT, Rgb::WHITE) >= 4.5);
    }

    #[test]
    fn what_has_no_place_is_not_sketched() {
        let mut repeat = samples::torchon("CT pin CT", 0);
        for at in [None, Some(point(f64::NAN, 0.0)), Some(point(1e9, 0.0))] {
            repeat.stitches[0].at = at;
            assert_eq!(sketch(&repeat, "Nowhere", &[]), None);
        }
        repeat.stitches[0].at = Some(point(0.0, 0.0));
        repeat.lattice = Lattice { across: point(f64::INFINITY, 0.0), down: point(0.0, 1.0) };
        assert_eq!(sketch(&repeat, "Nowhere", &[]), None);
    }
}
