//! The lines of pairs in a working diagram, in ink or in the colours of their
//! threads.

use lace::{Cell, Point, Side, Stitch, ThreadEntry};

use crate::colour::{Rgb, Tone};
use crate::drawing::curve::turned;
use crate::drawing::hung::Hung;
use crate::drawing::{Group, Paint, Path, Shape, Step, Stroke};

/// The line of a pair: along a leg, or through a stitch.
pub(super) struct PairLine {
    pub from: Point,
    pub to: Point,
    /// Unit vectors of its directions at the start and at the end.
    pub directions: [Point; 2],
    /// How far the line follows these directions; 0 is a straight line.
    pub bend: f64,
    /// The last stitch that the threads of the pair entered.
    pub stitch: usize,
    /// The entries (0 to 3) by which they entered it; twice the same for a single thread.
    pub entries: [usize; 2],
}

impl PairLine {
    /// The line as drawn, offset to the left by a distance.
    fn path(&self, left: f64) -> Path {
        let [from, to] = [(self.from, self.directions[0]), (self.to, self.directions[1])]
            .map(|(p, direction)| p + turned(direction) * left);
        if self.bend == 0.0 {
            return Path::line([from, to]);
        }
        let (a, b) = (from + self.directions[0] * self.bend, to - self.directions[1] * self.bend);
        Path { steps: vec![Step::Move(from), Step::Curve(a, b, to)] }
    }
}

/// A pair, or one of its threads, from one side of a stitch to the other or back.
pub(super) struct Passage {
    pub from: Side,
    pub to: Side,
    /// The entries of the threads (0 to 3); twice the same for a single thread.
    pub entries: [usize; 2],
}

/// How the pairs go through a stitch: crossing each other, turning back, or,
/// where the threads of a pair part, both.
pub(super) fn passages(stitch: &Stitch) -> Vec<Passage> {
    let order = stitch.end_order();
    let mut passages = Vec::new();
    for from in Side::BOTH {
        for to in Side::BOTH {
            let ends = [order[2 * to.index()], order[2 * to.index() + 1]];
            match ends.map(|e| e / 2 == from.index()) {
                [true, true] => passages.push(Passage { from, to, entries: ends }),
                [true, false] => passages.push(Passage { from, to, entries: [ends[0]; 2] }),
                [false, true] => passages.push(Passage { from, to, entries: [ends[1]; 2] }),
                [false, false] => {}
            }
        }
    }
    passages
}

/// How wide the line of a pair is drawn, mm, if the usual width is given: the colours of
/// its threads need room.
pub(super) fn width(coloured: bool, usual: f64) -> f64 {
    if coloured { 1.7 * usual } else { usual }
}

/// The lines of pairs, collected so that each colour is drawn once.
pub(super) struct PairLines {
    width: f64,
    ink: Path,
    /// Left and right threads by class.
    threads: Vec<Path>,
}

impl PairLines {
    /// Lines of a width in mm for `classes` classes of threads; in ink when there
    /// are none.
    pub fn new(classes: usize, width: f64) -> PairLines {
        PairLines { width, ink: Path::new(), threads: vec![Path::new(); classes] }
    }

    /// Adds the copy of a line in a cell, moved by `here`.
    pub fn add(&mut self, hung: &Hung, line: &PairLine, cell: Cell, here: Point) {
        self.ink.add(&line.path(0.0), here);
        let classes = self.threads.len() as i64;
        if classes == 0 {
            return;
        }
        // Threads lie side by side; a single thread lies in the middle.
        let apart = if line.entries[0] == line.entries[1] { 0.0 } else { 0.3 * self.width };
        for (entry, left) in line.entries.into_iter().zip([apart, -apart]) {
            let slot = hung.thread(ThreadEntry::new(line.stitch, entry), cell);
            self.threads[slot.rem_euclid(classes) as usize].add(&line.path(left), here);
        }
    }

    /// The shapes of all lines.
    pub fn group(self) -> Group {
        let mut group = Group::new("pairs");
        let wide = width(!self.threads.is_empty(), self.width);
        if !self.ink.steps.is_empty() {
            group.shapes.push(Shape::stroke(self.ink, Stroke::new(Rgb::INK, wide)));
        }
        for (class, path) in self.threads.into_iter().enumerate() {
            if !path.steps.is_empty() {
                let line = Stroke::new(Paint::thread(class, Tone::PLAIN), 0.6 * self.width);
                group.shapes.push(Shape::stroke(path, line));
            }
        }
        group
    }
}
