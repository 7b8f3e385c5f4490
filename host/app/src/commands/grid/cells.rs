//! What comes of a colour order on a ground: the kind of pattern, after how
//! much lace the colours come again, how much is seen of each, where they meet;
//! and the line in words that says so.

use catalogue::Chosen;
use lace::{Arrangement, Pattern};
use picture::layout::{Layout, lay_out};
use rayon::prelude::*;

use super::threads::Threads;
use crate::failure::Failure;
use crate::pictures::{Scale, Thumbnail, tell_unsettled};
use crate::progress::Progress;

/// A ground drawn once.
pub struct Drawn {
    /// The ground.
    pub chosen: Chosen,
    /// Its drawing, to be painted in every order.
    pub thumbnail: Thumbnail,
    /// Its pricking.
    pub grid: lace::Grid,
    threads: Vec<Threads>,
}

/// Lays out and draws grounds for colour orders, on all processors.
pub fn draw<'a>(
    chosen: Vec<Chosen>,
    orders: &[Arrangement],
    scale: &Scale,
    px: u32,
) -> Result<Vec<Drawn>, Failure> {
    let progress = Progress::new(chosen.len(), "Drawing grounds");
    chosen
        .into_par_iter()
        .map(|chosen| {
            let grid = scale.grid(chosen.about().angle)?;
            let layout = lay_out(&chosen.ground, &grid, scale.thread_mm);
            tell_unsettled(&layout, &chosen);
            let drawn = drawn(chosen, layout, orders, scale, px);
            progress.step();
            Ok(drawn)
        })
        .collect()
}

/// Draws a ground that is laid out for colour orders.
pub fn drawn<'a>(chosen: Chosen, layout: Layout, orders: &[Arrangement], scale: &Scale, px: u32) -> Drawn {
    let mut lengths: Vec<usize> = orders.iter().map(|o| o.pairs().len()).collect();
    lengths.sort_unstable();
    lengths.dedup();
    let (ground, grid) = (&chosen.ground, layout.grid);
    let thumbnail = Thumbnail::of_layout(ground, layout, scale.window_mm(), px, &lengths);
    let mut threads: Vec<Threads> = Vec::new();
    for &length in &lengths {
        if threads.iter().all(|t| !t.suit(ground, length)) {
            threads.push(Threads::new(ground, &thumbnail.layout, length));
        }
    }
    Drawn { chosen, thumbnail, grid, threads }
}

/// What comes of an order on a ground.
#[derive(Clone, Debug, PartialEq)]
pub struct Cell {
    /// Number of the ground.
    pub row: usize,
    /// Number of the order.
    pub column: usize,
    /// The kind of pattern.
    pub pattern: Pattern,
    /// After how many mm the colours come again to the right.
    pub across_mm: f64,
    /// And straight down, if they do within [`lace::limits::MAX_ROWS`] rows.
    pub down_mm: Option<f64>,
    /// The share of the picture that each colour takes.
    pub seen: Vec<f64>,
    /// The share of all thread, by length, of each colour.
    pub length: Vec<f64>,
    /// The share of all crossings of threads at which two colours meet.
    pub mixing: f64,
    /// The mean contrast of the two colours there; `None` where none meet.
    pub contrast: Option<f64>,
    /// How alike it is to the one named, 0 to 1.
    pub alike: Option<f64>,
}

impl Cell {
    /// Works out a cell. `contrast` says how far two colours are apart.
    pub fn new(
        [row, column]: [usize; 2],
        drawn: &Drawn,
        order: &Arrangement,
        colours: usize,
        contrast: impl Fn(u8, u8) -> f64,
    ) -> Cell {
        let ground = &drawn.chosen.ground;
        let period = ground.colour_period(order);
        let suits = |t: &&Threads| t.suit(ground, order.pairs().len());
        let threads = drawn.threads.iter().find(suits).unwrap_or(&drawn.threads[0]);
        let meeting = threads.meeting(order);
        let apart: f64 = meeting.pairs.iter().map(|&(a, b, share)| share * contrast(a, b)).sum();
        Cell {
            row,
            column,
            pattern: ground.pattern(order),
            across_mm: period.steps_across * drawn.grid.step_x_mm(),
            down_mm: period.down.map(|down| down.steps * drawn.grid.step_y_mm()),
            seen: drawn.thumbnail.seen(order, colours),
            length: threads.length_shares(order, colours),
            mixing: meeting.mixing,
            contrast: (meeting.mixing > 0.0).then(|| apart / meeting.mixing),
            alike: None,
        }
    }

    /// The share of the picture that is open.
    pub fn open(&self) -> f64 {
        (1.0 - self.seen.iter().sum::<f64>()).clamp(0.0, 1.0)
    }

    /// What results, the fullest wording first.
    pub fn wordings(&self) -> Vec<String> {
        let words = self.pattern.words().to_owned();
        let across = mm(self.across_mm);
        let size = match (self.pattern, self.down_mm) {
            (Pattern::Plain, _) => String::new(),
            (Pattern::Columns | Pattern::DiagonalsLeft | Pattern::DiagonalsRight, _) => {
                format!("{across} mm")
            }
            (_, Some(down)) => format!("{across} by {} mm", mm(down)),
            (_, None) => format!("{across} mm across"),
        };
        let mut all = Vec::new();
        if !size.is_empty() {
            all.push(format!("{words}, again after {size}"));
            all.push(format!("{words}, {size}"));
        }
        let short = match self.pattern {
            Pattern::DiagonalsLeft => Some("diagonals left"),
            Pattern::DiagonalsRight => Some("diagonals right"),
            _ => None,
        };
        if let Some(short) = short {
            all.push(format!("{short}, {size}"));
        }
        all.push(words);
        if let Some(short) = short {
            all.extend([short.to_owned(), "diagonals".to_owned()]);
        }
        all
    }
}

/// Millimetres with one decimal at most.
fn mm(value: f64) -> String {
    let text = format!("{value:.1}");
    text.strip_suffix(".0").unwrap_or(&text).to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cell_says_in_a_line_what_results() {
        let cell = |pattern, across_mm, down_mm| Cell {
            row: 0,
            column: 0,
            pattern,
            across_mm,
            down_mm,
            seen: vec![0.25, 0.5],
            length: vec![0.5, 0.5],
            mixing: 0.0,
            contrast: None,
            alike: None,
        };
        assert_eq!(cell(Pattern::Plain, 8.0, Some(4.0)).wordings(), ["plain"]);
        let columns = cell(Pattern::Columns, 8.0, None);
        assert_eq!(columns.wordings()[0], "columns, again after 8 mm");
        assert_eq!(columns.wordings().last().unwrap(), "columns");
        assert_eq!(columns.open(), 0.25);
        assert_eq!(cell(Pattern::Checks, 8.0, Some(16.46)).wordings()[1], "checks, 8 by 16.5 mm");
        assert_eq!(cell(Pattern::Spots, 8.0, None).wordings()[1], "spots, 8 mm across");
        assert_eq!(
            cell(Pattern::DiagonalsRight, 4.0, None).wordings(),
            [
                "diagonals to the right, again after 4 mm",
                "diagonals to the right, 4 mm",
                "diagonals right, 4 mm",
                "diagonals to the right",
                "diagonals right",
                "diagonals"
            ]
        );
    }
}
