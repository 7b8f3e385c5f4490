//! What comes of a piece, in the words of a teacher.

mod columns;
mod edges;
mod ends;

pub mod trace;

use lace::{MAX_PIECE_ROWS, PairName, Shape, Side, Tip, count, number, number_to};

use crate::worked::{Located, Worked};

/// Pins that a beginner works in an hour, at least and at most: an estimate for planning
/// a class (common practice, no source).
pub const PINS_AN_HOUR: [f64; 2] = [15.0, 25.0];

impl Worked {
    /// Everything about the piece, for the terminal.
    pub fn in_words(&self) -> String {
        let mut text = String::new();
        let mut part = |lines: Vec<String>| {
            if !lines.is_empty() {
                if !text.is_empty() {
                    text.push('\n');
                }
                text.push_str(&lines.join("\n"));
                text.push('\n');
            }
        };
        part(self.head());
        part(if self.design.notes.is_empty() { Vec::new() } else { vec![self.design.notes.clone()] });
        part(self.tips_in_words());
        for side in Side::BOTH {
            part(self.edge_in_words(side));
        }
        part(self.ends_in_words());
        part(self.colours_at_the_end());
        part(self.warnings.iter().flat_map(Located::in_words).collect());
        text
    }

    /// Size, pairs, pins, stitches, moves, hours, areas.
    fn head(&self) -> Vec<String> {
        let (design, piece) = (&self.design, &self.piece);
        let outline = design.outline;
        let size = self.size_mm();
        let tips = match (outline.start, outline.finish) {
            (Tip::Pointed, Tip::Pointed) => "pointed at both ends",
            (Tip::Straight, Tip::Straight) => "straight at both ends",
            (Tip::Pointed, Tip::Straight) => "pointed at the start, straight at the finish",
            (Tip::Straight, Tip::Pointed) => "straight at the start, pointed at the finish",
        };
        let hours = [PINS_AN_HOUR[1], PINS_AN_HOUR[0]].map(|rate| piece.pins() as f64 / rate);
        let decimals = if hours[0] < 5.0 { 1 } else { 0 };
        let mut lines = vec![
            design.title.clone(),
            format!(
                "  A strip {tips}, {} pins wide, {} rows long, on {}",
                outline.width,
                outline.last_row() + 1.0,
                design.ground.chosen.name()
            ),
            format!(
                "  {} by {} mm: {} mm between the pins of an edge, at {} degrees from it; thread {}",
                number_to(size[0], 0),
                number_to(size[1], 0),
                number(design.grid.pin_spacing_mm()),
                number(design.grid.angle_deg()),
                compare::scale::thread_in_words(design.thread),
            ),
            format!(
                "  {}, {}, {}, {}",
                count(piece.pairs().len(), "pair", "pairs"),
                count(piece.pins(), "pin", "pins"),
                count(piece.stitches().len(), "stitch", "stitches"),
                count(self.moves(), "move", "moves"),
            ),
            format!(
                "  About {} to {} hours for a beginner, at {} to {} pins an hour (common practice, no source)",
                number_to(hours[0], decimals),
                number_to(hours[1], decimals),
                PINS_AN_HOUR[0],
                PINS_AN_HOUR[1],
            ),
        ];
        for (k, area) in design.areas.iter().enumerate() {
            let units = match area.shape {
                Shape::Diamond { right, left } => format!("{right} by {left} units"),
                Shape::Band { rows } => format!("a band of {}", count(rows, "row", "rows")),
            };
            let stitches = piece.stitches().iter().filter(|s| s.area == Some(k)).count();
            lines.push(format!(
                "  Area {}: {units} of {}, from {}; {}",
                area.name,
                area.ground.chosen.name(),
                place(area.at),
                count(stitches, "stitch", "stitches"),
            ));
        }
        lines.push(
            "  Places are steps to the right of the first pin and rows below it, which is 0, 0; with - to the left."
                .to_owned(),
        );
        lines
    }

    /// Width and length between the outermost stitches, mm.
    pub fn size_mm(&self) -> [f64; 2] {
        let places = || self.piece.stitches().iter().map(|stitch| self.design.grid.mm(stitch.at));
        let span = |of: &dyn Fn(lace::Point) -> f64| {
            let (least, most) = places().fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), p| {
                (least.min(of(p)), most.max(of(p)))
            });
            (most - least).max(0.0)
        };
        [span(&|p| p.x), span(&|p| p.y)]
    }

    /// Moves of the hands: those of the stitches, and the extra twists.
    pub fn moves(&self) -> usize {
        let stitches: usize = self.piece.stitches().iter().map(|s| s.stitch.moves().len()).sum();
        stitches + self.piece.legs().iter().map(|leg| leg.twists as usize).sum::<usize>()
    }

    /// The colours of two threads: `navy`, or `navy and white`.
    fn two_colours(&self, threads: [usize; 2]) -> String {
        let [left, right] = threads.map(|thread| self.colour_of_thread(thread));
        if left == right { left.to_owned() } else { format!("{left} and {right}") }
    }

    /// The name of the colour of a thread, numbered as in [`lace::Piece::threads`].
    fn colour_of_thread(&self, thread: usize) -> &str {
        self.colour(self.colours[thread / 2][thread % 2])
    }

    /// The pair to which a thread belongs as hung.
    fn pair_of(&self, thread: usize) -> PairName {
        self.piece.pairs()[thread / 2].name
    }

    /// Whose two threads lie together: `left 3`, or one thread of each of two pairs.
    fn whose(&self, threads: [usize; 2]) -> String {
        let [left, right] = threads.map(|thread| self.pair_of(thread));
        if left == right { left.to_string() } else { format!("a thread of {left} and one of {right}") }
    }
}

impl Located {
    /// The finding with its line, why it matters and what to do.
    pub fn in_words(&self) -> Vec<String> {
        let finding = &self.finding;
        let severity = if self.is_error() { "error" } else { "warning" };
        vec![
            format!("line {}: {severity} {}: {}", self.line, finding.code.word(), finding.sentence),
            format!("    why it matters: {}", finding.code.why()),
            format!("    what to do: {}", finding.remedy),
        ]
    }
}

/// A place: `-1, 5`.
fn place(p: lace::Point) -> String {
    format!("{}, {}", number(p.x), number(p.y))
}

/// Rows from one to another: `row 4`, `rows 4 to 16`.
fn rows(from: f64, to: f64) -> String {
    debug_assert!(from <= to && to <= MAX_PIECE_ROWS as f64 + 1.0);
    if from == to {
        format!("row {}", number(from))
    } else {
        format!("rows {} to {}", number(from), number(to))
    }
}
