//! Places for the letters and numbers of a working diagram: beside their stitches, and
//! off each other, the lines and the marks.

use lace::{Point, point};

use super::directions::rotated;
use crate::drawing::curve::unit;
use crate::drawing::font::outlines;
use crate::drawing::{Rect, Size, Text, rect};

/// Directions round a stitch in which a label may lie.
const DIRECTIONS: u32 = 24;
/// Distances from the mark at which it may lie, in parts of the size of the letters.
const DISTANCES: [f64; 5] = [0.12, 0.3, 0.55, 0.85, 1.2];
/// The least distance of a label from anything else, in the same parts.
const CLEAR: f64 = 0.1;

/// What a label would lie on, worst last.
const LINE: u32 = 1;
const MARK: u32 = 50;
const LABEL: u32 = 1000;

/// What has been drawn, and where labels were put.
#[derive(Default)]
pub(super) struct Labels {
    /// Straight lines and half their widths, mm.
    lines: Vec<([Point; 2], f64)>,
    /// Boxes round marks and pins.
    marks: Vec<Rect>,
    /// Boxes round labels.
    labels: Vec<Rect>,
}

impl Labels {
    /// Keeps labels off a line of a width in mm.
    pub fn line(&mut self, line: [Point; 2], width: f64) {
        self.lines.push((line, width / 2.0));
    }

    /// Keeps labels off a round mark.
    pub fn mark(&mut self, at: Point, radius: f64) {
        self.marks.push(rect(at.x, at.y, 0.0, 0.0).grown(radius));
    }

    /// Puts a label where it lies, if it lies on nothing there and in the view, if
    /// there is one. Or else beside the mark at `at` of a given radius, as near the
    /// same side as there is room.
    pub fn put(&mut self, label: &mut Text, at: Point, radius: f64, view: Option<Size>) {
        let Some(ink) = outlines(label).bounds() else { return };
        let reach = radius + 1.3 * label.size + ink.width + ink.height;
        let near = self.near(rect(at.x, at.y, 0.0, 0.0).grown(reach));
        let middle = point(ink.x + ink.width / 2.0, ink.y + ink.height / 2.0);
        let clear = CLEAR * label.size;
        let moved = |by: Point| rect(ink.x + by.x, ink.y + by.y, ink.width, ink.height);
        let bad = |by: Point| {
            let room = moved(by).grown(clear);
            near.under(room) + if view.is_none_or(|view| within(room, view)) { 0 } else { LABEL }
        };
        let mut best = (bad(point(0.0, 0.0)), point(0.0, 0.0));
        for place in places(at, middle - at, radius, &ink, label.size) {
            if best.0 == 0 {
                break;
            }
            let by = place - middle;
            if bad(by) < best.0 {
                best = (bad(by), by);
            }
        }
        label.at += best.1;
        self.labels.push(moved(best.1));
    }

    /// What lies in some room.
    fn near(&self, room: Rect) -> Labels {
        let kept = |rects: &[Rect]| rects.iter().filter(|rect| rect.meets(&room)).copied().collect();
        let lines = self.lines.iter().filter(|(line, half)| crosses(*line, room.grown(*half)));
        Labels { lines: lines.copied().collect(), marks: kept(&self.marks), labels: kept(&self.labels) }
    }

    /// How bad it is to lie here.
    fn under(&self, room: Rect) -> u32 {
        let met = |rects: &[Rect]| rects.iter().filter(|rect| rect.meets(&room)).count() as u32;
        let lines = self.lines.iter().filter(|(line, half)| crosses(*line, room.grown(*half)));
        LINE * lines.count() as u32 + MARK * met(&self.marks) + LABEL * met(&self.labels)
    }
}

/// Places for the middle of a label: near ones first, and at each distance those on
/// the side where it was meant to be.
fn places(
    at: Point,
    meant: Point,
    radius: f64,
    ink: &Rect,
    size: f64,
) -> impl Iterator<Item = Point> + use<> {
    let side = unit(meant);
    let half = point(ink.width / 2.0, ink.height / 2.0);
    DISTANCES.into_iter().flat_map(move |distance| {
        (0..DIRECTIONS).map(move |k| {
            // To one side and the other, ever farther round.
            let turn = f64::from(k.div_ceil(2)) * if k % 2 == 1 { 1.0 } else { -1.0 };
            let direction = rotated(side, turn * std::f64::consts::TAU / f64::from(DIRECTIONS));
            let to_edge = direction.x.abs() * half.x + direction.y.abs() * half.y;
            at + direction * (radius + distance * size + to_edge)
        })
    })
}

/// Whether a rectangle lies within a view.
fn within(room: Rect, view: Size) -> bool {
    room.x >= 0.0 && room.y >= 0.0 && room.x + room.width <= view.width && room.y + room.height <= view.height
}

/// Whether a straight line has a point in a rectangle.
fn crosses([from, to]: [Point; 2], room: Rect) -> bool {
    let run = to - from;
    let (mut first, mut last) = (0.0_f64, 1.0_f64);
    for (start, step, low, length) in
        [(from.x, run.x, room.x, room.width), (from.y, run.y, room.y, room.height)]
    {
        if step == 0.0 {
            if start < low || start > low + length {
                return false;
            }
            continue;
        }
        let (a, b) = ((low - start) / step, (low + length - start) / step);
        first = first.max(a.min(b));
        last = last.min(a.max(b));
    }
    first <= last
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::colour::Rgb;
    use crate::drawing::{Anchor, Face};

    fn number(at: Point) -> Text {
        let words = "12".to_owned();
        Text { at, size: 2.0, words, anchor: Anchor::Middle, face: Face::Regular, paint: Rgb::INK.into() }
    }

    #[test]
    fn lines_are_found_in_a_rectangle() {
        let room = rect(1.0, 1.0, 2.0, 1.0);
        let line = |a: f64, b: f64, c: f64, d: f64| [point(a, b), point(c, d)];
        // Through it, within it, along an edge, upright.
        for inside in [
            line(0.0, 0.0, 4.0, 3.0),
            line(1.5, 1.5, 1.6, 1.6),
            line(0.0, 1.0, 5.0, 1.0),
            line(2.0, 0.0, 2.0, 9.0),
        ] {
            assert!(crosses(inside, room), "{inside:?}");
        }
        // Past a corner, short of it, beside it.
        for outside in [line(0.0, 2.0, 1.0, 4.0), line(0.0, 0.0, 0.9, 0.9), line(4.0, 0.0, 4.0, 9.0)] {
            assert!(!crosses(outside, room), "{outside:?}");
        }
    }

    #[test]
    fn a_label_stays_where_it_was_meant_to_be_if_there_is_room() {
        let mut labels = Labels::default();
        let mut label = number(point(-3.0, 0.7));
        labels.put(&mut label, point(0.0, 0.0), 0.5, None);
        assert_eq!(label, number(point(-3.0, 0.7)));
    }

    #[test]
    fn a_label_stays_in_view() {
        let view = Size { width: 20.0, height: 20.0 };
        let mut label = number(point(-0.5, 5.0));
        Labels::default().put(&mut label, point(1.0, 5.0), 0.5, Some(view));
        assert!(within(outlines(&label).bounds().unwrap(), view), "{label:?}");
    }

    #[test]
    fn labels_move_off_each_other_lines_and_marks() {
        let mut labels = Labels::default();
        labels.line([point(-20.0, 0.5), point(20.0, 0.5)], 0.4);
        labels.mark(point(-3.0, -2.0), 0.5);
        let mut put = Vec::new();
        for _ in 0..4 {
            let mut label = number(point(-3.0, 0.7));
            labels.put(&mut label, point(0.0, 0.0), 0.5, None);
            put.push(outlines(&label).bounds().unwrap());
        }
        for (k, ink) in put.iter().enumerate() {
            assert!(put[..k].iter().all(|other| !ink.meets(other)), "{put:?}");
            assert!(!crosses([point(-20.0, 0.5), point(20.0, 0.5)], ink.grown(0.2)), "{put:?}");
            assert!(!ink.meets(&rect(-3.5, -2.5, 1.0, 1.0)), "{put:?}");
        }
    }
}
