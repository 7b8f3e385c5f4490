//! The layout of the page of a ground: pictures, pricking, text and notes, for
//! every size of area.

use super::page_builder::body;
use crate::drawing::pricking::{MEASURE, Paper, SCALE_MM};
use crate::drawing::{Face, Rect, Size, rect};
use crate::page::typography::{BODY, GAP, LEADING, lines};

/// Room above a picture for its heading, and below the thread drawing for its
/// scale.
pub(super) const TITLE: f64 = 6.0;
const SCALE: f64 = 5.0;
/// From the corner of the control scale to the dots.
pub(super) const BESIDE_SCALE: f64 = 7.0;
/// Least height of both pictures with their headings and scale.
const PICTURES: f64 = 112.0;
/// Width of the column of a long and narrow pricking, and of the content beside
/// it.
const NARROW: f64 = 60.0;
/// Least number of ruled lines for notes, on normal and on crowded pages, and
/// their spacing.
const RULED: usize = 3;
const FEW_RULED: usize = 1;
pub(super) const RULE: f64 = 7.5;
/// Least width of notes beside a wide pricking.
const BESIDE: f64 = 45.0;

/// The layout of the page of a ground.
#[derive(Debug)]
pub(super) struct Plan {
    pub threads: Rect,
    pub pairs: Rect,
    pub pricking: Rect,
    pub words: Vec<Rect>,
    pub notes: Rect,
    /// Whether the notes are below the text and may begin where it ends.
    pub follow: bool,
}

/// Height of a pricking with its heading and control scale.
fn pricking_height(area: Size, width: f64) -> f64 {
    let words = lines(MEASURE, 2.8, Face::Regular, width).len();
    TITLE + (area.height + BESIDE_SCALE).max(SCALE_MM + 1.0) + 1.5 + 3.8 * words as f64
}

/// Height of the notes with room to write.
fn notes_height(notes: &str, width: f64, crowded: bool) -> f64 {
    let words = lines(notes, BODY, Face::Regular, width).len();
    let ruled = if crowded { FEW_RULED } else { RULED };
    TITLE + LEADING * words as f64 + RULE * ruled as f64 + 1.0
}

impl Plan {
    /// Pictures and text are in two columns. The pricking goes below the pictures if
    /// it fits there, else into its own column if it is narrow, else below
    /// everything. A crowded page has more room for text. `None` when nothing fits.
    pub(super) fn new(paper: Paper, area: Size, notes: &str, crowded: bool) -> Option<Plan> {
        let all = body(paper);
        let column = (all.width - GAP) / 2.0;
        let page = Space { all, column, needs: area.width + BESIDE_SCALE + 1.0, area, notes, crowded };
        page.below_the_pictures().or_else(|| page.in_a_column()).or_else(|| page.below_everything())
    }
}

/// The page of a ground being planned.
struct Space<'a> {
    /// The area between title and foot.
    all: Rect,
    /// Width of one of two columns.
    column: f64,
    /// Width of the pricking with its scale.
    needs: f64,
    area: Size,
    notes: &'a str,
    crowded: bool,
}

impl Space<'_> {
    fn bottom(&self) -> f64 {
        self.all.y + self.all.height
    }

    fn pricking_height(&self, width: f64) -> f64 {
        pricking_height(self.area, width)
    }

    fn notes_height(&self, width: f64) -> f64 {
        notes_height(self.notes, width, self.crowded)
    }

    /// The thread drawing with the working diagram below, in the left column of a
    /// given height.
    fn pictures(&self, height: f64) -> [Rect; 2] {
        let free = height - 2.0 * TITLE - SCALE - GAP / 2.0;
        let threads = rect(self.all.x, self.all.y + TITLE, self.column, 0.42 * free);
        let below = threads.y + threads.height + SCALE + GAP / 2.0 + TITLE;
        [threads, rect(self.all.x, below, self.column, 0.58 * free)]
    }

    /// Text with notes below, in the right column down to `bottom`.
    fn words(&self, bottom: f64) -> [Rect; 2] {
        let right = self.all.x + self.column + GAP;
        let high = self.notes_height(self.column);
        let notes = rect(right, bottom - high, self.column, high);
        [rect(right, self.all.y, self.column, notes.y - self.all.y - 2.0), notes]
    }

    /// The pricking in the left column, below the pictures.
    fn below_the_pictures(&self) -> Option<Plan> {
        let high = self.pricking_height(self.column);
        if self.needs > self.column || high + GAP + PICTURES > self.all.height {
            return None;
        }
        let [threads, pairs] = self.pictures(self.all.height - high - GAP);
        let [words, notes] = self.words(self.bottom());
        let pricking = rect(self.all.x, self.bottom() - high, self.column, high);
        Some(Plan { threads, pairs, pricking, words: vec![words], notes, follow: true })
    }

    /// A long and narrow pricking in its own column at the left.
    fn in_a_column(&self) -> Option<Plan> {
        let Space { all, needs, .. } = *self;
        if needs > NARROW + GAP || self.pricking_height(NARROW) > all.height {
            return None;
        }
        let own = needs.max(NARROW);
        let left = all.x + own + GAP;
        let width = all.x + all.width - left;
        let (high, low) = if self.crowded { (24.0, 38.0) } else { (34.0, 52.0) };
        let threads = rect(left, all.y + TITLE, width, high);
        let pairs = rect(left, threads.y + high + SCALE + GAP / 2.0 + TITLE, width, low);
        let pricking = rect(all.x, all.y, own, self.pricking_height(NARROW));
        // Below the pricking if it leaves room, else below the text.
        let below = all.y + pricking.height + GAP;
        let follow = below + self.notes_height(own) > self.bottom();
        let (notes, end) = if follow {
            let high = self.notes_height(width);
            (rect(left, self.bottom() - high, width, high), self.bottom() - high - 2.0)
        } else {
            (rect(all.x, below, own, self.bottom() - below), self.bottom())
        };
        let top = pairs.y + pairs.height + GAP / 2.0;
        let half = (width - GAP / 2.0) / 2.0;
        let words = [left, left + half + GAP / 2.0].map(|x| rect(x, top, half, end - top));
        Some(Plan { threads, pairs, pricking, words: words.to_vec(), notes, follow })
    }

    /// The pricking across the page, below everything, with notes beside it if there
    /// is room.
    fn below_everything(&self) -> Option<Plan> {
        let Space { all, needs, .. } = *self;
        let high = self.pricking_height(all.width);
        if needs > all.width || high + GAP + PICTURES + 40.0 > all.height {
            return None;
        }
        let own = needs.max(NARROW);
        let beside = all.x + own + GAP;
        let width = all.x + all.width - beside;
        if width >= BESIDE && self.notes_height(width) <= high && self.pricking_height(own) <= high + 4.0 {
            let high = self.pricking_height(own);
            let [threads, pairs] = self.pictures(all.height - high - GAP);
            let pricking = rect(all.x, self.bottom() - high, own, high);
            let notes = rect(beside, self.bottom() - high, width, high);
            let right = all.x + self.column + GAP;
            let words = vec![rect(right, all.y, self.column, all.height - high - GAP)];
            return Some(Plan { threads, pairs, pricking, words, notes, follow: false });
        }
        let [threads, pairs] = self.pictures(all.height - high - GAP);
        let pricking = rect(all.x, self.bottom() - high, all.width, high);
        let [words, notes] = self.words(self.bottom() - high - GAP);
        Some(Plan { threads, pairs, pricking, words: vec![words], notes, follow: true })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::page::handout::{LargestAreas, room};

    #[test]
    fn nothing_on_a_page_overlaps() {
        let long = "A sentence of notes that is meant to be long. ".repeat(6);
        for paper in [Paper::A4, Paper::LETTER] {
            let all = body(paper).grown(1e-6);
            let mut shapes = std::collections::BTreeSet::new();
            for width in (1..200).step_by(7).map(f64::from) {
                for height in (1..260).step_by(9).map(f64::from) {
                    for (notes, crowded) in [("", false), (&long, false), (&long, true)] {
                        let plan = Plan::new(paper, Size { width, height }, notes, crowded);
                        let Some(plan) = plan else { continue };
                        let Plan { threads, pairs, pricking, words, notes, .. } = plan;
                        assert!(pricking.width >= width + BESIDE_SCALE && pricking.height >= height);
                        assert!(words.iter().all(|w| w.height >= 60.0), "{width} {height}: {words:?}");
                        shapes.insert((words.len(), notes.x < threads.x, pricking.width > 100.0));
                        let mut rects = vec![
                            threads.grown(0.0),
                            rect(pairs.x, pairs.y - TITLE, pairs.width, pairs.height + TITLE),
                            pricking,
                            notes,
                        ];
                        rects.extend(words);
                        for (k, a) in rects.iter().enumerate() {
                            assert!(
                                a.x >= all.x && a.x + a.width <= all.x + all.width,
                                "{width} {height} {k}"
                            );
                            assert!(
                                a.y >= all.y && a.y + a.height <= all.y + all.height,
                                "{width} {height} {k}"
                            );
                            for b in &rects[..k] {
                                assert!(!a.grown(-0.01).meets(b), "{width} by {height}: {a:?} on {b:?}");
                            }
                        }
                    }
                }
            }
            assert!(shapes.len() >= 4, "every kind of page occurs: {shapes:?}");
        }
    }

    #[test]
    fn the_largest_areas_fit_and_larger_ones_do_not() {
        for paper in [Paper::A4, Paper::LETTER] {
            let LargestAreas { widest, highest } = LargestAreas::of(paper);
            assert!(widest.width > 150.0 && widest.height >= 50.0, "{widest:?}");
            assert!(highest.height > 180.0 && highest.width >= 50.0, "{highest:?}");
            for Size { width, height } in [widest, highest] {
                assert!(room(paper, Size { width, height }));
                assert!(!room(paper, Size { width: width + 1.0, height: height + 1.0 }));
            }
        }
    }
}
