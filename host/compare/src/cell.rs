//! The result of an arrangement on a ground: the kind of pattern, the distance
//! at which the colours repeat, how much of each shows, how often they meet; and
//! a line of text about it.

use catalogue::Chosen;
use lace::{Arrangement, Pattern, number_to};
use picture::layout::Layout;

use crate::comparison::percent;
use crate::pattern::{Seen, SoftenedRepeat};
use crate::scale::Scale;
use crate::thread_sums::ThreadSums;
use crate::thumbnail::Thumbnail;
use crate::window::{Repeats, Shown, wider_in_words};

/// A ground drawn once for several arrangements.
#[derive(Clone, Debug)]
pub struct DrawnGround {
    /// The ground.
    pub chosen: Chosen,
    /// Its drawing, to paint in every arrangement.
    pub thumbnail: Thumbnail,
    softened: SoftenedRepeat,
    /// Width and height of the lace in its pictures, mm.
    pub window_mm: f64,
    /// The same of grounds whose repeats are no larger than usual, mm.
    usual_mm: f64,
    sums: Vec<ThreadSums>,
}

impl DrawnGround {
    /// Draws a laid-out ground for some arrangements, each picture `px` pixels
    /// wide.
    pub fn new(
        chosen: Chosen,
        layout: Layout,
        arrangements: &[Arrangement],
        scale: &Scale,
        px: u32,
    ) -> DrawnGround {
        let mut lengths: Vec<usize> = arrangements.iter().map(|a| a.pairs().len()).collect();
        lengths.sort_unstable();
        lengths.dedup();
        let ground = &chosen.ground;
        let usual_mm = scale.window_mm();
        let window_mm = scale.window_for(ground, &layout.grid, arrangements);
        let thumbnail = Thumbnail::new(ground, layout, window_mm, px);
        let mut sums: Vec<ThreadSums> = Vec::new();
        for &length in &lengths {
            if sums.iter().all(|sums| !sums.suit(ground, length)) {
                sums.push(ThreadSums::new(ground, &thumbnail.layout, length));
            }
        }
        let softened = SoftenedRepeat::new(ground, &thumbnail.layout);
        DrawnGround { softened, chosen, thumbnail, window_mm, usual_mm, sums }
    }

    /// Width of the lace in its pictures and how many times as much as usual that
    /// is; `None` if it is as usual.
    pub fn wider_in_words(&self) -> Option<String> {
        wider_in_words(self.window_mm, self.usual_mm)
    }

    /// Its pricking.
    pub fn grid(&self) -> &lace::Grid {
        &self.thumbnail.layout.grid
    }
}

/// The result of an arrangement on a ground.
#[derive(Clone, Debug, PartialEq)]
pub struct Cell {
    /// The kind of pattern.
    pub pattern: Pattern,
    /// How clear it is, 0 to 1.
    pub clearness: f64,
    /// What its picture shows.
    pub shown: Shown,
    /// Distance at which the colours repeat to the right, in mm.
    pub across_mm: f64,
    /// Distance at which they repeat straight down, in mm, if they do within
    /// [`lace::limits::MAX_ROWS`] rows.
    pub down_mm: Option<f64>,
    /// Each colour's share of the picture.
    pub visible_shares: Vec<f64>,
    /// Each colour's share of the thread, by length.
    pub length_shares: Vec<f64>,
    /// The share of all crossings of threads at which two colours meet.
    pub mixing: f64,
    /// The mean contrast of the two colours at those crossings; `None` if no two
    /// colours meet.
    pub contrast: Option<f64>,
}

impl Cell {
    /// Computes the result of an arrangement. `contrast` is the distance between
    /// two colours.
    pub fn new(
        drawn: &DrawnGround,
        arrangement: &Arrangement,
        colours: usize,
        contrast: impl Fn(u8, u8) -> f64,
    ) -> Cell {
        let ground = &drawn.chosen.ground;
        let period = ground.colour_period(arrangement);
        let suits = |sums: &&ThreadSums| sums.suit(ground, arrangement.pairs().len());
        let sums = drawn.sums.iter().find(suits).unwrap_or(&drawn.sums[0]);
        let meeting = sums.meeting(arrangement);
        let apart: f64 = meeting.pairs.iter().map(|&(a, b, share)| share * contrast(a, b)).sum();
        let Seen { pattern, clearness } = Seen::new(&drawn.softened, ground, arrangement);
        Cell {
            pattern,
            clearness,
            shown: Shown {
                window_mm: drawn.window_mm,
                usual_mm: drawn.usual_mm,
                repeats: Repeats::new(ground, drawn.grid(), arrangement),
            },
            across_mm: period.steps_across * drawn.grid().step_x_mm(),
            down_mm: period.down.map(|down| down.steps * drawn.grid().step_y_mm()),
            visible_shares: drawn.thumbnail.shares(arrangement, colours),
            length_shares: sums.length_shares(arrangement, colours),
            mixing: meeting.mixing,
            contrast: (meeting.mixing > 0.0).then(|| apart / meeting.mixing),
        }
    }

    /// The share of the picture that is open.
    pub fn open(&self) -> f64 {
        (1.0 - self.visible_shares.iter().sum::<f64>()).clamp(0.0, 1.0)
    }

    /// The result in several wordings for below the picture, the fullest first. If
    /// the picture does not show a whole repeat, each says so.
    pub fn captions(&self) -> Vec<String> {
        let wordings = self.wordings();
        if self.shown.part_in_words().is_none() {
            return wordings;
        }
        let part = wordings.into_iter().map(|words| format!("{words}; part of a repeat"));
        part.chain(["part of a repeat".to_owned(), "part".to_owned()]).collect()
    }

    /// The result, in a line.
    pub fn words(&self) -> String {
        self.wordings().swap_remove(0)
    }

    /// The result in several wordings, the fullest first.
    pub fn wordings(&self) -> Vec<String> {
        let words = self.pattern.words();
        if self.pattern == Pattern::Plain {
            return vec![words.to_owned()];
        }
        let size = self.size();
        if self.pattern == Pattern::EvenMix {
            return vec![
                format!("{words}, repeating every {size}"),
                format!("{words}, {size}"),
                words.to_owned(),
            ];
        }
        let clear = format!("{} % clear", percent(self.clearness));
        let mut all =
            vec![format!("{words}, {clear}, repeating every {size}"), format!("{words}, {clear}, {size}")];
        let short = match self.pattern {
            Pattern::DiagonalsLeft => "diagonals left",
            Pattern::DiagonalsRight => "diagonals right",
            _ => words,
        };
        if short != words {
            all.extend([format!("{short}, {clear}, {size}"), format!("{words}, {clear}")]);
        }
        all.extend([format!("{short}, {clear}"), short.to_owned()]);
        if short != words {
            all.push("diagonals".to_owned());
        }
        all
    }

    /// After how much lace the colours repeat.
    fn size(&self) -> String {
        let across = number_to(self.across_mm, 1);
        match (self.pattern, self.down_mm) {
            (Pattern::Columns | Pattern::DiagonalsLeft | Pattern::DiagonalsRight, _) => {
                format!("{across} mm")
            }
            (Pattern::Rows, Some(down)) => format!("{} mm", number_to(down, 1)),
            (_, Some(down)) => format!("{across} by {} mm", number_to(down, 1)),
            (_, None) => format!("{across} mm across"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cell_says_in_a_line_what_results() {
        let repeats = Repeats { stitches: [4.0, 4.0], colours_across: 8.0, colours_down: None };
        let cell = |pattern, across_mm, down_mm| Cell {
            pattern,
            clearness: 0.724,
            shown: Shown { window_mm: 16.0, usual_mm: 16.0, repeats },
            across_mm,
            down_mm,
            visible_shares: vec![0.25, 0.5],
            length_shares: vec![0.5, 0.5],
            mixing: 0.0,
            contrast: None,
        };
        assert_eq!(cell(Pattern::Plain, 8.0, Some(4.0)).wordings(), ["plain"]);
        let columns = cell(Pattern::Columns, 8.0, None);
        assert_eq!(columns.words(), "columns, 72 % clear, repeating every 8 mm");
        assert_eq!(columns.wordings().last().unwrap(), "columns");
        assert_eq!(columns.open(), 0.25);
        // Its colours do not repeat straight down.
        assert_eq!(columns.captions()[0], "columns, 72 % clear, repeating every 8 mm; part of a repeat");
        assert_eq!(cell(Pattern::Checks, 8.0, Some(16.46)).wordings()[1], "checks, 72 % clear, 8 by 16.5 mm");
        assert_eq!(cell(Pattern::Spots, 8.0, None).wordings()[1], "spots, 72 % clear, 8 mm across");
        assert_eq!(cell(Pattern::Rows, 8.0, Some(4.0)).words(), "rows, 72 % clear, repeating every 4 mm");
        assert_eq!(cell(Pattern::EvenMix, 8.0, Some(4.0)).wordings()[1], "even mix, 8 by 4 mm");
        assert_eq!(
            cell(Pattern::DiagonalsRight, 4.0, None).wordings(),
            [
                "diagonals to the right, 72 % clear, repeating every 4 mm",
                "diagonals to the right, 72 % clear, 4 mm",
                "diagonals right, 72 % clear, 4 mm",
                "diagonals to the right, 72 % clear",
                "diagonals right, 72 % clear",
                "diagonals right",
                "diagonals"
            ]
        );
    }
}
