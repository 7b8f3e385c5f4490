//! Pictures of a piece: worked, as a working diagram, and its pricking.

use lace::{Grid, Lacework, Point, Side};
use picture::colour::Rgb;
use picture::drawing::pricking::{Paper, PrickingError, pricking_of_piece};
use picture::drawing::threads::{ThreadDrawing, ThreadLook};
use picture::drawing::working_diagram::{DiagramLook, WorkingDiagram, diagram_key, legible_at};
use picture::drawing::{Background, Drawing, Rect, rect};
use picture::layout::{Layout, lay_out};

use crate::Worked;

/// Grid steps round a piece in its pictures: at the sides, above, and below, where ends
/// hang.
const BESIDE: f64 = 1.2;
const ABOVE: f64 = 1.6;
const BELOW: f64 = 3.2;
/// Largest pin spacing of the working diagram, mm: in clothwork, whose stitches lie close,
/// numbers take more room than there is.
const LARGEST: f64 = 14.0;
/// Least width of a legible key, mm.
const KEY_WIDTH: f64 = 80.0;

/// A piece with its threads laid out.
#[derive(Debug)]
pub struct LaidOut<'a> {
    worked: &'a Worked,
    lacework: Lacework,
    /// Where its threads lie.
    pub layout: Layout,
}

impl Worked {
    /// Lays out its threads.
    pub fn lay_out(&self) -> LaidOut<'_> {
        let lacework = self.piece.lacework();
        let layout = lay_out(&lacework, &self.design.grid, self.design.thread.diameter_mm());
        LaidOut { worked: self, lacework, layout }
    }

    /// The colour of every thread, two for every pair.
    pub fn thread_colours(&self) -> Vec<Rgb> {
        let rgb = |&colour: &usize| {
            self.palette.colours().get(colour).map_or(Rgb::BLACK, |colour| Rgb::from(colour.rgb))
        };
        self.colours.iter().flatten().map(rgb).collect()
    }

    /// The pages of its pricking, actual size.
    ///
    /// # Errors
    /// Paper that is too small, and pins that lie too close together.
    pub fn pricking(&self, paper: Paper) -> Result<Vec<Drawing>, PrickingError> {
        let notes = format!(
            "Pins {} mm apart down the side, {} degrees. Every dot is a pin.",
            self.design.grid.pin_spacing_mm(),
            self.design.grid.angle_deg()
        );
        pricking_of_piece(&self.piece, &self.design.grid, paper, &self.design.title, &notes)
    }

    /// Its working diagram with the key, at its own size: as large as its numbers need, if
    /// there is so much room.
    pub fn working_diagram(&self) -> Drawing {
        let lacework = self.piece.lacework();
        let own = self.design.grid;
        let legible = legible_at(&lacework, &own) * own.pin_spacing_mm();
        let larger = legible.min(LARGEST).max(own.pin_spacing_mm());
        let grid = Grid::new(larger, own.angle_deg()).unwrap_or(own);
        let look = DiagramLook { colours: self.thread_colours(), numbers: true, ..DiagramLook::default() };
        let window = window(&lacework, &grid);
        let diagram = WorkingDiagram::of_piece(&self.piece, &lacework, &grid, look).draw(window);
        let key = diagram_key(&lacework, diagram.width.max(KEY_WIDTH));
        let title = format!("{}: working diagram", self.design.title);
        let mut both = Drawing::new(diagram.width.max(key.width), diagram.height + key.height, title);
        both.background = Rgb::WHITE.into();
        let high = diagram.height;
        both.place(&Drawing { background: Background::Transparent, ..diagram }, lace::point(0.0, 0.0), "");
        both.place(&key, lace::point(0.0, high), "");
        both
    }
}

impl LaidOut<'_> {
    /// The worked piece in mm, actual size; `px_per_mm` is the scale at which it is viewed.
    pub fn picture(&self, px_per_mm: f64, pins: bool) -> Drawing {
        let look = ThreadLook { pins, ..ThreadLook::new(self.worked.thread_colours(), px_per_mm) };
        let window = window(&self.lacework, &self.worked.design.grid);
        let threads = ThreadDrawing::of_piece(&self.worked.piece, &self.lacework, &self.layout);
        Drawing { title: self.worked.design.title.clone(), ..threads.draw(window, &look) }
    }

    /// Width of the picture, mm.
    pub fn width(&self) -> f64 {
        window(&self.lacework, &self.worked.design.grid).width
    }

    /// Length of the thread of each pair in the piece, mm: the longer of its two, from
    /// where it is hung to where it ends.
    pub fn thread_mm(&self) -> Vec<[f64; 2]> {
        let braid = self.lacework.braid();
        let threads = self.worked.piece.threads_by_entry();
        let mut lengths = vec![[0.0; 2]; self.worked.piece.pairs().len()];
        for (s, line) in self.layout.lines.iter().enumerate() {
            if self.lacework.is_open_segment(s) {
                continue;
            }
            let entry = braid.segments[s].entry;
            let thread = threads[entry.stitch][entry.position];
            let length: f64 = line.windows(2).map(|p| (p[1] - p[0]).length()).sum();
            lengths[thread / 2][Side::BOTH[thread % 2].index()] += length;
        }
        lengths
    }
}

/// What a picture shows of a piece, mm from its first pin.
fn window(lacework: &Lacework, grid: &Grid) -> Rect {
    let places: Vec<Point> = lacework.places().iter().map(|&p| grid.mm(p)).collect();
    let around = Rect::around(places).unwrap_or(rect(0.0, 0.0, 0.0, 0.0));
    let (across, down) = (grid.step_x_mm(), grid.step_y_mm());
    rect(
        around.x - BESIDE * across,
        around.y - ABOVE * down,
        around.width + 2.0 * BESIDE * across,
        around.height + (ABOVE + BELOW) * down,
    )
}
