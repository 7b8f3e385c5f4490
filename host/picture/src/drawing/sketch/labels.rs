//! Labels in a sketch, each placed where it covers least.

use lace::{Point, point};

use super::{FAULT, MARK, RISE, SMALL, text_line};
use crate::colour::Rgb;
use crate::drawing::font;
use crate::drawing::{Anchor, Face, Group, Rect, rect};

/// Labels, each placed where it covers least.
pub(super) struct Labels {
    pub group: Group,
    paper: Rect,
    /// Straight lines that labels should not cover.
    pub lines: Vec<[Point; 2]>,
    /// Marks that labels should avoid even more.
    pub marks: Vec<Rect>,
    set: Vec<Rect>,
}

/// A possible place for a label.
struct Place {
    at: Point,
    anchor: Anchor,
}

impl Labels {
    /// No labels yet, on paper of a given size.
    pub fn new(paper: Rect) -> Labels {
        Labels { group: Group::new("words"), paper, lines: Vec::new(), marks: Vec::new(), set: Vec::new() }
    }

    /// Adds a label beside the mark of a stitch.
    pub fn beside_mark(&mut self, text: &str, face: Face, ink: Rgb, mark: Point) {
        let (side, low) = (MARK + 0.9, SMALL * RISE / 2.0);
        let mut places = Vec::new();
        for more in [0.0, 1.5] {
            places.extend([
                (point(side + more, low), Anchor::Start),
                (point(-side - more, low), Anchor::End),
                (point(1.2, -side - more), Anchor::Start),
                (point(-1.2, -side - more), Anchor::End),
                (point(1.2, side + more + 2.0 * low), Anchor::Start),
                (point(-1.2, side + more + 2.0 * low), Anchor::End),
                (point(0.0, -side - more), Anchor::Middle),
                (point(0.0, side + more + 2.0 * low), Anchor::Middle),
            ]);
        }
        let places: Vec<Place> =
            places.into_iter().map(|(by, anchor)| Place { at: mark + by, anchor }).collect();
        self.set_best(text, face, ink, &places);
    }

    /// Adds a number beside a line.
    pub fn beside_line(&mut self, text: &str, start: Point, end: Point) {
        let along = (end - start) * (1.0 / (end - start).length().max(1e-6));
        let across = point(-along.y, along.x);
        let mut places = Vec::new();
        for part in [0.5, 0.4, 0.6, 0.3, 0.7] {
            for side in [1.0, -1.0] {
                let by = across * (2.6 * side) + point(0.0, SMALL * RISE / 2.0);
                places.push(Place { at: start + (end - start) * part + by, anchor: Anchor::Middle });
            }
        }
        self.set_best(text, Face::Semibold, FAULT, &places);
    }

    fn set_best(&mut self, text: &str, face: Face, ink: Rgb, places: &[Place]) {
        let width = font::width(text, SMALL, face);
        let room = |&Place { at, anchor }: &Place| {
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
        let best = places.iter().map(|place| (room(place), place)).min_by_key(|(room, _)| on(room));
        if let Some((room, &Place { at, anchor })) = best {
            self.set.push(room);
            self.group.shapes.push(text_line(at, text, face, ink, anchor));
        }
    }
}

/// Whether a straight line passes through a rectangle (Liang-Barsky clipping:
/// whether anything is left after each side has cut off its outside).
pub(super) fn crosses(r: &Rect, a: Point, b: Point) -> bool {
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
