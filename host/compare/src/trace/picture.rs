//! The picture of a trace: the lace with the followed pairs in their colours, the
//! chart of their paths beside it, and the sentences below.

use lace::point;
use picture::colour::Rgb;
use picture::colour::backdrop::backdrop;
use picture::drawing::font;
use picture::drawing::threads::{ThreadLook, draw_threads};
use picture::drawing::trace_chart::{GREY, TraceChartLook, draw_trace_chart};
use picture::drawing::{Anchor, Drawing, Face, Group, Shape, Text, rect};

use super::Traced;
use crate::comparison::unsettled;
use crate::error::Error;
use crate::note::Note;

const MARGIN: f64 = 8.0;
/// Width of the lace in the picture, in mm, however much is shown.
const LACE: f64 = 100.0;
/// Greatest width of a place in the chart, in mm.
const STEP: f64 = 6.0;
/// Least width of the picture, in mm.
const LEAST_WIDTH: f64 = 130.0;
/// Resolution for the shading of the lace, in pixels per millimetre.
pub const PX_PER_MM: f64 = 6.0;

/// The picture of a trace.
#[derive(Clone, Debug)]
pub struct TracePicture {
    /// The picture.
    pub drawing: Drawing,
    /// A note if the threads did not come to rest.
    pub note: Option<Note>,
}

impl Traced {
    /// Draws the trace.
    ///
    /// # Errors
    /// What cannot be pricked.
    pub fn picture(&self) -> Result<TracePicture, Error> {
        let ways = self.ways();
        // The edges of the lace cannot be drawn, so between footsides there is
        // no lace in the picture.
        let (lace, note) = match self.trace.footsides {
            true => (None, None),
            false => self.lace().map(|(lace, note)| (Some(lace), note))?,
        };
        let lace_width = lace.as_ref().map_or(0.0, |l| l.width + MARGIN);
        let width = (2.0 * MARGIN + lace_width + ways.width).max(LEAST_WIDTH);
        let room = width - 2.0 * MARGIN;
        let drawn = lace.as_ref().map(|_| self.drawn_in_words());
        let words: Vec<String> = self
            .sentences
            .iter()
            .chain(&drawn)
            .flat_map(|s| font::wrapped(s, 3.4, Face::Regular, room))
            .collect();
        let top = MARGIN + 12.0;
        let body = ways.height.max(lace.as_ref().map_or(0.0, |l| l.height));
        let height = top + body + 6.0 + 4.8 * words.len() as f64 + MARGIN;
        let title = format!("{}: hang on {}", self.request.chosen.title(), self.request.arrangement);
        let mut page = Drawing::new(width, height, title.clone());
        page.background = Rgb::WHITE.into();
        if let Some(lace) = &lace {
            page.place(lace, point(MARGIN, top), "lace-");
        }
        page.place(&ways, point(MARGIN + lace_width, top - 7.0), "ways-");
        let mut group = Group::new("words");
        let mut write = |words: &str, y: f64, size: f64, face: Face| {
            group.shapes.push(Shape::Text(Text {
                at: point(MARGIN, y),
                size,
                words: font::shortened(words, size, face, room),
                anchor: Anchor::Start,
                face,
                paint: Rgb::INK.into(),
            }));
        };
        write(&title, MARGIN + 4.0, 5.0, Face::Semibold);
        for (k, line) in words.iter().enumerate() {
            write(line, top + body + 8.0 + 4.8 * k as f64, 3.4, Face::Regular);
        }
        page.groups.push(group);
        Ok(TracePicture { drawing: page, note })
    }

    /// How the lace is drawn, a sentence.
    fn drawn_in_words(&self) -> String {
        format!("Drawn at {}.", self.request.scale.spacing_in_words(self.request.chosen.about()))
    }

    /// The chart of the paths.
    fn ways(&self) -> Drawing {
        let colours = self.hung.iter().map(|pair| pair.map(|c| self.request.palette.rgb(c).into()));
        let look = TraceChartLook {
            colours: colours.collect(),
            shown: self.followed.clone(),
            footsides: self.trace.footsides,
            step: (LACE * 1.2 / self.trace.places as f64).clamp(2.5, STEP),
        };
        draw_trace_chart(&self.trace.rows, &look)
    }

    /// The lace covered by the trace, with pairs not followed in grey.
    fn lace(&self) -> Result<(Drawing, Option<Note>), Error> {
        let (trace, request) = (&self.trace, &self.request);
        let ground = &request.chosen.ground;
        let layout = request.scale.lay_out(&request.chosen)?;
        let note = unsettled(&layout, &request.chosen);
        let grid = &layout.grid;
        let own = ground.hanging().pairs().len();
        let pairs = if trace.by_threads { trace.places / 2 } else { trace.places };
        let wide = pairs as f64 / own as f64 * ground.upright().width() * grid.step_x_mm();
        let rows = (trace.rows.len() - 1).max(1) as f64;
        let high = (rows * ground.upright().row_height() * grid.step_y_mm()).min(1.6 * wide);
        let times = LACE / wide;
        let threads = request.arrangement.extended(pairs).threads();
        let colour = |(slot, &colour): (usize, &u8)| {
            let unit = if trace.by_threads { slot } else { slot / 2 };
            if self.followed[unit] { request.palette.rgb(colour).into() } else { GREY }
        };
        let colours: Vec<Rgb> = threads.iter().enumerate().map(colour).collect();
        let top = ground.top() * grid.step_y_mm();
        // Grey threads are meant to stand back.
        let followed: Vec<Rgb> = colours.iter().copied().filter(|colour| *colour != GREY).collect();
        let background = backdrop(&followed).into();
        let look = ThreadLook { background, ..ThreadLook::new(colours, PX_PER_MM * times) };
        let lace = draw_threads(ground, &layout, rect(0.0, top, wide, high), &look).scaled(times);
        Ok((lace, note))
    }
}
