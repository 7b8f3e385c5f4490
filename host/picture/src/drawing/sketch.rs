//! A sketch of a repeat as written, faults and all: the only picture that does
//! not need a ground. Stitches are marks with their names, pairs are lines from
//! exit to entry. Faults are drawn heavier and numbered.

mod labels;

use lace::{Cell, Finding, Leg, Place, PlacedStitch, Point, Repeat, Side, point};

use crate::colour::{Rgb, rgb};
use crate::drawing::font;
use crate::drawing::{Anchor, Drawing, Face, Group, Paint, Path, Rect, Shape, Step, Stroke, Text, rect};

use labels::Labels;

/// A darker vermilion of the palette of Okabe and Ito, so that letters in it are
/// legible on white.
const FAULT: Rgb = rgb(0xb8, 0x4c, 0x00);
/// Largest width and height of the stitches and pairs in a sketch, the margin
/// round them, and the least width of a sketch with lines of text, mm.
const WIDEST: f64 = 126.0;
const HIGHEST: f64 = 176.0;
const EDGE: f64 = 12.0;
const LEAST_WIDTH: f64 = 110.0;
/// Largest size of a grid step, mm.
const LONGEST_STEP: f64 = 25.0;
/// Letter size, mm, and the share of it above the baseline.
const SMALL: f64 = 3.2;
const RISE: f64 = 0.7;
/// Radius of the mark of a stitch, mm.
const MARK: f64 = 1.8;
/// Distance from the middle of a mark at which pairs leave and enter it, mm.
const SIDEWAYS: f64 = 1.15;
const UPRIGHT: f64 = 1.4;
/// Most stitches in a sketch.
const MOST: usize = 300;

/// The sketch of a repeat with its findings, one line for each below it. `None`
/// when the place of a stitch is unknown or there are too many stitches.
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
    words.shapes.push(text_line(point(6.0, 8.0), &title, Face::Semibold, Rgb::INK, Anchor::Start));
    let mut y = height;
    for (line, finding) in lines.iter().zip(findings) {
        for part in line {
            let ink = if finding.is_error() { FAULT } else { Rgb::INK };
            words.shapes.push(text_line(point(6.0, y), part, Face::Regular, ink, Anchor::Start));
            y += 1.5 * SMALL;
        }
    }
    drawing.groups.push(words);
    Some(drawing)
}

/// The same without a heading and without the lines below, for pages that have
/// their own text. A grid step is at most `longest_step` mm long, and shorter
/// when there are many.
pub fn bare_sketch(repeat: &Repeat, title: &str, findings: &[Finding], longest_step: f64) -> Option<Drawing> {
    let places = known_places(repeat)?;
    let lattice = &repeat.lattice;
    let corner = places[0];
    let corners =
        [corner, corner + lattice.across, corner + lattice.across + lattice.down, corner + lattice.down];
    // The repeat itself and everything its legs reach.
    let ends = repeat.legs.iter().filter_map(|leg| leg_ends(repeat, &places, leg)).flatten();
    let bounds = Rect::around(places.iter().copied().chain(ends).chain(corners))?;
    let step = (WIDEST / bounds.width.max(1e-3)).min(HIGHEST / bounds.height.max(1e-3)).min(longest_step);
    let at = |p: Point| point(EDGE + (p.x - bounds.x) * step, EDGE + (p.y - bounds.y) * step);
    let size = point(2.0 * EDGE + bounds.width * step, 2.0 * EDGE + bounds.height * step);

    let mut sketch = Sketch {
        findings,
        pairs: Group::new("pairs"),
        stitches: Group::new("stitches"),
        labels: Labels::new(rect(0.0, 0.0, size.x, size.y)),
        numbered: Vec::new(),
    };
    for leg in &repeat.legs {
        if let Some(ends) = leg_ends(repeat, &places, leg) {
            sketch.pair(leg, &repeat.stitches[leg.from.stitch].id, ends.map(at));
        }
    }
    sketch.labels.marks.extend(places.iter().map(|&place| square(at(place))));
    let mut named = Vec::new();
    for (stitch, place) in repeat.stitches.iter().zip(&places) {
        named.push(sketch.stitch(stitch, at(*place)));
    }
    for Numbered { number, start, end } in std::mem::take(&mut sketch.numbered) {
        sketch.labels.beside_line(&number, start, end);
    }
    for (stitch, Named { number, ink, place }) in repeat.stitches.iter().zip(named) {
        sketch.labels.beside_mark(&stitch.id, Face::Regular, ink, place);
        if let Some(number) = number {
            sketch.labels.beside_mark(&number, Face::Semibold, FAULT, place);
        }
    }
    // The lattice as a faint frame.
    let mut cell = Group::new("repeat");
    let mut stroke = Stroke::new(Paint::veil(Rgb::INK, 0.35), 0.2);
    stroke.dash = Some([1.2, 1.2]);
    cell.shapes.push(Shape::stroke(Path::polygon(corners.map(at)), stroke));
    let mut drawing = Drawing::new(size.x, size.y, format!("{title}, as it is written"));
    drawing.background = Rgb::WHITE.into();
    drawing.groups = vec![cell, sketch.pairs, sketch.stitches, sketch.labels.group];
    Some(drawing)
}

fn is_near(p: &Point) -> bool {
    p.x.abs() < 1e5 && p.y.abs() < 1e5
}

/// The places of all stitches; `None` when one is unknown or too far away, or
/// there are no stitches or too many.
fn known_places(repeat: &Repeat) -> Option<Vec<Point>> {
    let places: Vec<Point> = repeat.stitches.iter().map(|s| s.at).collect::<Option<_>>()?;
    let lattice = &repeat.lattice;
    let near = places.iter().chain([&lattice.across, &lattice.down]).all(is_near);
    (near && (1..=MOST).contains(&places.len())).then_some(places)
}

/// The stitches that a leg joins, if both exist.
fn leg_ends(repeat: &Repeat, places: &[Point], leg: &Leg) -> Option<[Point; 2]> {
    let from = *places.get(leg.from.stitch)?;
    let to = *places.get(leg.to.stitch)? + repeat.lattice.place(leg.cell);
    is_near(&to).then_some([from, to])
}

/// A sketch being drawn.
struct Sketch<'a> {
    findings: &'a [Finding],
    pairs: Group,
    stitches: Group,
    labels: Labels,
    numbered: Vec<Numbered>,
}

/// A line with the numbers of the findings about it.
struct Numbered {
    number: String,
    start: Point,
    end: Point,
}

/// A mark still to be labelled with its name and the numbers of its findings.
struct Named {
    number: Option<String>,
    ink: Rgb,
    place: Point,
}

impl Sketch<'_> {
    /// The numbers of the findings about a place.
    fn number(&self, here: impl Fn(&Place) -> bool) -> Option<String> {
        let all = self.findings.iter().enumerate().filter(|(_, f)| here(&f.place));
        let all: Vec<String> = all.map(|(k, _)| (k + 1).to_string()).collect();
        (!all.is_empty()).then(|| all.join(", "))
    }

    /// The line of a pair from the stitch named `id`, with a bar for every twist.
    fn pair(&mut self, leg: &Leg, id: &str, [from, to]: [Point; 2]) {
        let here = |from: &String, side: &Side| from == id && *side == leg.from.side;
        let number = self.number(|place| match place {
            Place::Leg { from, side } => here(from, side),
            Place::Pairs(pairs) => pairs.iter().any(|(from, side)| here(from, side)),
            Place::Repeat | Place::Stitches(_) => false,
        });
        let ink = if number.is_some() { FAULT } else { Rgb::INK };
        let back = (to - from).length() < MARK;
        let line = line_of_leg(leg, from, to, back);
        self.labels.lines.extend(line.windows(2).map(|two| [two[0], two[1]]));
        let path = if back { round(&line) } else { Path::line(line.iter().copied()) };
        let width = if number.is_some() { 0.9 } else { 0.35 };
        self.pairs.shapes.push(Shape::stroke(path, Stroke::new(ink, width)));
        let (start, end) = (line[0], line[line.len() - 1]);
        let middle = (start + end) * 0.5;
        let along = (end - start) * (1.0 / (end - start).length().max(1e-6));
        let twists = leg.twists.min(8);
        for k in 0..twists {
            let here = middle + along * ((f64::from(k) - f64::from(twists - 1) / 2.0) * 1.2);
            let across = point(-along.y, along.x) * 1.4;
            let bar = Path::line([here - across, here + across]);
            self.pairs.shapes.push(Shape::stroke(bar, Stroke::new(ink, 0.4)));
        }
        self.numbered.extend(number.map(|number| Numbered { number, start, end }));
        // If it leads into another repeat, show the stitch there as a shadow.
        if leg.cell != Cell::ORIGIN {
            self.labels.marks.push(square(to));
            self.pairs.shapes.push(Shape::Path {
                path: Path::circle(to, MARK),
                fill: Some(Rgb::WHITE.into()),
                stroke: Some(Stroke::new(Paint::veil(Rgb::INK, 0.35), 0.3)),
            });
        }
    }

    /// The mark of a stitch.
    fn stitch(&mut self, stitch: &PlacedStitch, place: Point) -> Named {
        let number = self.number(|p| matches!(p, Place::Stitches(ids) if ids.contains(&stitch.id)));
        let ink = if number.is_some() { FAULT } else { Rgb::INK };
        self.stitches.shapes.push(Shape::Path {
            path: Path::circle(place, MARK),
            fill: Some(Rgb::WHITE.into()),
            stroke: Some(Stroke::new(ink, if number.is_some() { 0.9 } else { 0.6 })),
        });
        if stitch.stitch.pin().is_some() {
            self.stitches.shapes.push(Shape::fill(Path::circle(place, 0.7), Paint::from(Rgb::INK)));
        }
        Named { number, ink, place }
    }
}

fn text_line(at: Point, text: &str, face: Face, ink: Rgb, anchor: Anchor) -> Shape {
    Shape::Text(Text { at, size: SMALL, words: text.to_owned(), anchor, face, paint: ink.into() })
}

/// The line of a leg, from the side of the mark where the pair leaves to the side
/// where it enters, so that both can be seen. A leg that leads `back` to its own
/// stitch goes round the mark.
fn line_of_leg(leg: &Leg, from: Point, to: Point, back: bool) -> Vec<Point> {
    let sideways = |side: Side| if side == Side::Left { -1.0 } else { 1.0 };
    let (out, into) = (sideways(leg.from.side), sideways(leg.to.side));
    let start = from + point(SIDEWAYS * out, UPRIGHT);
    let end = to + point(SIDEWAYS * into, -UPRIGHT);
    if back {
        let reach = 4.0 * MARK;
        vec![start, start + point(reach * out, 0.8 * reach), end + point(reach * into, -0.8 * reach), end]
    } else {
        vec![start, end]
    }
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

#[cfg(test)]
mod tests {
    use lace::{Lattice, check, samples};

    use super::labels::crosses;
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
    fn everything_fits_on_the_paper_and_no_name_covers_a_line() {
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
    fn findings_are_numbered_and_listed_below() {
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
    fn the_colour_of_faults_is_legible_on_white() {
        assert!(crate::colour::vision::contrast(FAULT, Rgb::WHITE) >= 4.5);
    }

    #[test]
    fn a_repeat_without_places_is_not_sketched() {
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
