//! How much lace a picture shows: a square window, the same for all grounds, and
//! a wider one where that would show less than a whole repeat of the stitches or
//! of the colours. A wider window is drawn at a smaller scale.

use std::ops::RangeInclusive;

use lace::{Arrangement, Grid, Ground, number_to};

use crate::note::Note;

/// The windows to choose from, as multiples of the usual one. Wider ones would
/// show threads less than a pixel thick.
const TIMES: [f64; 4] = [1.0, 2.0, 3.0, 4.0];
/// The windows that can be given, mm: larger ones take very long to draw.
pub const WINDOWS: RangeInclusive<f64> = 1.0..=200.0;
/// Sizes that differ by less are the same, mm.
const SAME: f64 = 1e-6;

/// The windows from which one is chosen for each ground, given the usual one, mm.
pub fn windows(usual_mm: f64) -> [f64; 4] {
    TIMES.map(|times| times * usual_mm)
}

/// The sizes of what repeats on a ground in an arrangement, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Repeats {
    /// Width and height of a repeat of the stitches.
    pub stitches: [f64; 2],
    /// After how much lace the colours repeat to the right.
    pub colours_across: f64,
    /// After how much lace they repeat straight down; `None` if not within
    /// [`lace::limits::MAX_ROWS`] rows.
    pub colours_down: Option<f64>,
}

/// What a window shows a whole repeat of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Whole {
    /// Whether of the stitches.
    pub stitches: bool,
    /// Whether of the colours.
    pub colours: bool,
}

/// What a picture shows of a ground in an arrangement.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shown {
    /// Width and height of the lace shown, mm.
    pub window_mm: f64,
    /// The same in pictures at the usual scale, mm.
    pub usual_mm: f64,
    /// What repeats.
    pub repeats: Repeats,
}

impl Repeats {
    /// What repeats on a ground in an arrangement.
    pub fn new(ground: &Ground, grid: &Grid, arrangement: &Arrangement) -> Repeats {
        let (across, down) = (grid.step_x_mm(), grid.step_y_mm());
        let period = ground.colour_period(arrangement);
        Repeats {
            stitches: [ground.upright().width() * across, ground.upright().row_height() * down],
            colours_across: period.steps_across * across,
            colours_down: period.down.map(|period| period.steps * down),
        }
    }

    /// What a window shows a whole repeat of.
    pub fn whole_in(&self, window_mm: f64) -> Whole {
        let fits = |size: f64| size <= window_mm + SAME;
        Whole {
            stitches: self.stitches.into_iter().all(fits),
            colours: fits(self.colours_across) && self.colours_down.is_some_and(fits),
        }
    }
}

/// The window for pictures of a ground in some arrangements, given the usual one:
/// the smallest of [`windows`] that shows a whole repeat of the stitches and of
/// every arrangement that repeats within any of them. If the stitches do not, the
/// widest.
pub fn suiting<'a>(
    ground: &Ground,
    grid: &Grid,
    arrangements: impl IntoIterator<Item = &'a Arrangement>,
    usual_mm: f64,
) -> f64 {
    let windows = windows(usual_mm);
    let widest = windows[windows.len() - 1];
    let all: Vec<Repeats> = arrangements.into_iter().map(|a| Repeats::new(ground, grid, a)).collect();
    let suits = |mm: f64, repeats: &Repeats| {
        let (whole, at_most) = (repeats.whole_in(mm), repeats.whole_in(widest));
        whole.stitches && (whole.colours || !at_most.colours)
    };
    windows.into_iter().find(|mm| all.iter().all(|repeats| suits(*mm, repeats))).unwrap_or(widest)
}

impl Shown {
    /// What the window shows a whole repeat of.
    pub fn whole(&self) -> Whole {
        self.repeats.whole_in(self.window_mm)
    }

    /// How many times as much lace as usual it shows.
    pub fn times(&self) -> f64 {
        self.window_mm / self.usual_mm
    }

    /// What there is to say about the window, such as `32 mm of lace, 2 times as
    /// much as usual`; empty if it shows whole repeats at the usual scale.
    pub fn words(&self) -> String {
        let mut words = Vec::new();
        words.extend(self.scale_in_words());
        words.extend(self.part_in_words());
        words.join("; ")
    }

    /// A note about the picture of a ground, if there is something to say.
    pub fn note(&self, name: &str) -> Option<Note> {
        let words = self.words();
        (!words.is_empty()).then(|| Note::Window { name: name.to_owned(), words })
    }

    /// The width of lace and its scale, if that is not the usual one.
    pub fn scale_in_words(&self) -> Option<String> {
        wider_in_words(self.window_mm, self.usual_mm)
    }

    /// What it shows only a part of, if anything.
    pub fn part_in_words(&self) -> Option<String> {
        let whole = self.whole();
        let mm = |value: f64| number_to(value, 2);
        if !whole.stitches {
            let [width, height] = self.repeats.stitches.map(mm);
            return Some(format!("part of a repeat of {width} by {height} mm"));
        }
        let across = mm(self.repeats.colours_across);
        let down = self.repeats.colours_down.map_or_else(String::new, |down| format!(" by {} mm", mm(down)));
        (!whole.colours).then(|| format!("part of a repeat of the colours, {across} mm across{down}"))
    }
}

/// `32 mm of lace, 2 times as much as usual`; `None` for a window no wider than
/// the usual one.
pub fn wider_in_words(window_mm: f64, usual_mm: f64) -> Option<String> {
    let [mm, times] = [window_mm, window_mm / usual_mm].map(|value| number_to(value, 2));
    (window_mm > 1.001 * usual_mm).then(|| format!("{mm} mm of lace, {times} times as much as usual"))
}

#[cfg(test)]
mod tests {
    use lace::samples::{rose, torchon};

    use super::*;

    fn grid() -> Grid {
        Grid::new(4.0, 45.0).unwrap()
    }

    fn arrangements(all: &[&str]) -> Vec<Arrangement> {
        all.iter().map(|text| text.parse().unwrap()).collect()
    }

    #[test]
    fn the_window_is_the_smallest_that_shows_whole_repeats() {
        let torchon = Ground::new(torchon("CT pin CT", 0)).unwrap();
        for (all, usual, mm) in [
            (&["A"][..], 16.0, 16.0),
            (&["A A B B"], 16.0, 16.0),
            // Eight pairs hang over 16 mm, nine over 36 mm.
            (&["4A 4B"], 16.0, 16.0),
            (&["4A 5B"], 16.0, 48.0),
            (&["A A B B", "4A 5B"], 16.0, 48.0),
            (&["A A B B"], 3.0, 9.0),
            // No window shows 40 pairs: those that fit decide.
            (&["20A 20B", "A A B B"], 16.0, 16.0),
        ] {
            let found = suiting(&torchon, &grid(), &arrangements(all), usual);
            assert_eq!(found, mm, "{all:?}");
        }
        // Repeats of stitches that fit no window.
        assert_eq!(suiting(&torchon, &grid(), &arrangements(&["A"]), 0.5), 2.0);
    }

    #[test]
    fn what_is_not_shown_whole_is_said() {
        let rose = Ground::new(rose("CTCT", "CT pin CT")).unwrap();
        let shown = |text: &str, window_mm: f64| Shown {
            window_mm,
            usual_mm: 16.0,
            repeats: Repeats::new(&rose, &grid(), &text.parse().unwrap()),
        };
        assert_eq!(shown("A A B B", 16.0).words(), "");
        assert_eq!(shown("A A B B", 32.0).words(), "32 mm of lace, 2 times as much as usual");
        assert_eq!(shown("A", 4.0).words(), "part of a repeat of 8 by 4 mm");
        let many = shown("9A 10B", 16.0);
        assert_eq!(many.whole(), Whole { stitches: true, colours: false });
        assert!(
            many.words().starts_with("part of a repeat of the colours, 152 mm across"),
            "{}",
            many.words()
        );
    }
}
