//! Thumbnails: each ground laid out and drawn once, then painted in every
//! colour order, all at one scale and in one thread.

use catalogue::Chosen;
use lace::{Arrangement, Grid, GridError, Ground, Thread, ThreadError};
use picture::colour::Rgb;
use picture::drawing::threads::{ThreadLook, draw_threads};
use picture::drawing::{Drawing, Rect};
use picture::export::image::Image;
use picture::export::stencil::Stencil;
use picture::layout::{Layout, lay_out};

use crate::cli::{Gauge, Pricking};
use crate::colours::Palette;
use crate::failure::Failure;
use crate::output::note;

/// How much lace a picture in a grid shows either way, in pin spacings.
const SMALL_WINDOW: f64 = 4.0;
/// How much a picture on a page shows.
const LARGE_WINDOW: f64 = 6.0;

/// Fewer wraps of a thread between two footside pins make crowded lace: threads
/// that lie side by side in a stitch no longer find room.
const CROWDED_WRAPS: f64 = 8.0;

/// The one scale and one thread of a run.
#[derive(Clone, Copy, Debug)]
pub struct Scale {
    /// Footside pin spacing, mm.
    pub pin_spacing_mm: f64,
    /// Thread diameter, mm.
    pub thread_mm: f64,
    pricking: Pricking,
}

impl Pricking {
    /// The pricking grid of a ground that is usually pricked at an angle.
    pub fn grid(&self, usual_angle_deg: f64) -> Result<Grid, Failure> {
        let angle_deg = self.angle.unwrap_or(usual_angle_deg);
        Grid::new(self.pin_spacing, angle_deg).map_err(|wrong| Failure::Value {
            what: wrong.to_string(),
            help: match wrong {
                GridError::PinSpacing(_) => "torchon is often pricked at 3 to 6 mm: --pin-spacing 4",
                GridError::Angle(_) => "torchon is pricked at 45, point grounds at 52 to 70: --angle 60",
            }
            .to_owned(),
        })
    }
}

impl Scale {
    /// The pricking and thread asked for. Warns of lace that will be crowded.
    pub fn new(gauge: &Gauge) -> Result<Scale, Failure> {
        let spacing = gauge.pricking.pin_spacing;
        let thread = match &gauge.thread {
            None => Thread::suiting(spacing),
            Some(text) => text.parse().map_err(|wrong: ThreadError| Failure::Value {
                what: wrong.to_string(),
                help: "for example --thread \"28 wraps/cm\" or --thread \"20 tex\"".to_owned(),
            })?,
        };
        let scale =
            Scale { pin_spacing_mm: spacing, thread_mm: thread.diameter_mm(), pricking: gauge.pricking };
        // Any usual angle will do to check the spacing.
        scale.grid(45.0)?;
        let wraps = thread.wraps_in(spacing);
        if wraps < CROWDED_WRAPS {
            note(&format!(
                "the lace will be crowded: {wraps:.1} wraps of this thread lie between two footside pins {} mm apart, where about 12 suit torchon (it is {:.1} times too thick); give a finer --thread or a larger --pin-spacing",
                spacing,
                thread.diameter_mm() / Thread::suiting(spacing).diameter_mm(),
            ));
        }
        Ok(scale)
    }

    /// The pricking grid of a ground that is usually pricked at an angle.
    pub fn grid(&self, usual_angle_deg: f64) -> Result<Grid, Failure> {
        self.pricking.grid(usual_angle_deg)
    }

    /// The side of the square of lace that pictures in a grid show, mm.
    pub fn window_mm(&self) -> f64 {
        SMALL_WINDOW * self.pin_spacing_mm
    }

    /// The side of the square of lace that pictures on a page show, mm.
    pub fn large_window_mm(&self) -> f64 {
        LARGE_WINDOW * self.pin_spacing_mm
    }
}

/// Says on standard error when threads did not come to rest.
pub fn tell_unsettled(layout: &Layout, chosen: &Chosen) {
    if !layout.report.converged {
        note(&format!(
            "the threads of {} did not quite come to rest; the picture is near the truth",
            chosen.name()
        ));
    }
}

/// Pairs with which grounds are drawn, at least.
const PAIRS: usize = 24;
/// Most pairs with which they are drawn for the sake of [`PAIRS`]: their
/// threads can be numbered with one byte.
const MOST_PAIRS: usize = 120;

/// With how many pairs grounds are drawn for colour orders of so many: a
/// multiple of it, and nearly always the same. Threads are painted in the order
/// in which they hang, so only then an order gives the same pixels as the same
/// order written twice, and as any other picture of that ground and size.
pub fn drawn_pairs(order: usize) -> usize {
    let both = (1..=MOST_PAIRS / PAIRS).map(|k| PAIRS * k).find(|n| n.is_multiple_of(order));
    both.unwrap_or(order)
}

/// The stencil of a square window of a ground that is laid out, `side` mm and
/// `px` pixels wide, with a class for each thread of so many pairs.
pub fn stencil(ground: &Ground, layout: &Layout, side: f64, px: u32, pairs: usize) -> Stencil {
    let px_per_mm = f64::from(px) / side;
    // The stencil replaces these colours; it only needs one for each thread.
    let look = ThreadLook::new(vec![Rgb::BLACK; 2 * pairs], px_per_mm);
    Stencil::new(&draw_threads(ground, layout, shown(ground, layout, side), &look), px_per_mm)
}

/// The square of lace that pictures `side` mm wide show.
pub fn shown(ground: &Ground, layout: &Layout, side: f64) -> Rect {
    Rect { x: 0.0, y: ground.top() * layout.grid.step_y_mm(), width: side, height: side }
}

/// A ground laid out and drawn once, ready to be painted.
pub struct Thumbnail {
    /// A drawing for each number of pairs that is needed.
    stencils: Vec<(usize, Stencil)>,
    /// How the threads were laid out.
    pub layout: Layout,
}

impl Thumbnail {
    /// Lays out and draws a square window of a ground, `side` mm and `px`
    /// pixels wide, for colour orders of `pairs` pairs.
    pub fn new(ground: &Ground, grid: &Grid, scale: &Scale, side: f64, px: u32, pairs: usize) -> Thumbnail {
        Thumbnail::of_lengths(ground, grid, scale, side, px, &[pairs])
    }

    /// The same for colour orders of any of these numbers of pairs.
    pub fn of_lengths(
        ground: &Ground,
        grid: &Grid,
        scale: &Scale,
        side: f64,
        px: u32,
        lengths: &[usize],
    ) -> Thumbnail {
        Thumbnail::of_layout(ground, lay_out(ground, grid, scale.thread_mm), side, px, lengths)
    }

    /// The same of a ground that is laid out.
    pub fn of_layout(ground: &Ground, layout: Layout, side: f64, px: u32, lengths: &[usize]) -> Thumbnail {
        let mut stencils: Vec<(usize, Stencil)> = Vec::new();
        for &length in lengths {
            let pairs = drawn_pairs(length);
            if stencils.iter().all(|(drawn, _)| *drawn != pairs) {
                stencils.push((pairs, stencil(ground, &layout, side, px, pairs)));
            }
        }
        Thumbnail { stencils, layout }
    }

    /// The drawing that suits an order, and the colour number of each of its
    /// threads.
    fn threads(&self, order: &Arrangement) -> (&Stencil, Vec<u8>) {
        let length = order.pairs().len();
        // Drawings were made for the orders that are asked for.
        let suits = |(pairs, _): &&(usize, Stencil)| pairs.is_multiple_of(length);
        let (pairs, stencil) = self.stencils.iter().find(suits).unwrap_or(&self.stencils[0]);
        (stencil, order.extended(*pairs).threads())
    }

    /// The drawing made for orders of so many pairs, with a class for each
    /// thread of [`drawn_pairs`].
    pub fn stencil(&self, pairs: usize) -> Option<&Stencil> {
        self.stencils.iter().find(|(drawn, _)| drawn.is_multiple_of(pairs)).map(|(_, stencil)| stencil)
    }

    /// The picture in a colour order.
    pub fn paint(&self, order: &Arrangement, palette: &Palette) -> Image {
        let (stencil, threads) = self.threads(order);
        stencil.paint(&colours(&threads, palette))
    }

    /// The picture in a colour order, painted into a larger one: into the
    /// first pixels of every `stride` of them.
    pub fn paint_into(&self, order: &Arrangement, palette: &Palette, pixels: &mut [[u8; 4]], stride: usize) {
        let (stencil, threads) = self.threads(order);
        stencil.paint_into(&colours(&threads, palette), pixels, stride);
    }

    /// The share of the picture that each of so many colours of an order
    /// takes; what is left of 1 is open.
    pub fn seen(&self, order: &Arrangement, count: usize) -> Vec<f64> {
        let (stencil, threads) = self.threads(order);
        let mut seen = vec![0.0; count];
        for (share, colour) in stencil.seen().iter().zip(threads) {
            if let Some(sum) = seen.get_mut(colour as usize) {
                *sum += share;
            }
        }
        seen
    }

    /// The share of the picture in which no thread lies.
    pub fn open(&self) -> f64 {
        1.0 - self.stencils[0].1.seen().iter().sum::<f64>()
    }
}

fn colours(threads: &[u8], palette: &Palette) -> Vec<Rgb> {
    threads.iter().map(|&colour| palette.rgb(colour).into()).collect()
}

/// Spacing of the footside pins of a sample, mm.
const SAMPLE_SPACING: f64 = 4.0;

/// A square of a ground worked, so many pin spacings wide, two pairs of one
/// colour and two of another; at the usual pin spacing, with a thread to suit,
/// shaded for so many pixels to the millimetre.
///
/// # Errors
/// An angle at which nothing can be pricked.
pub fn sample(ground: &Ground, angle: f64, spacings: f64, px_per_mm: f64) -> Result<Drawing, GridError> {
    let grid = Grid::new(SAMPLE_SPACING, angle)?;
    let layout = lay_out(ground, &grid, Thread::suiting(SAMPLE_SPACING).diameter_mm());
    let palette = Palette::default();
    let colours = [0, 0, 0, 0, 1, 1, 1, 1].map(|colour| palette.rgb(colour).into()).to_vec();
    let window = shown(ground, &layout, spacings * SAMPLE_SPACING);
    Ok(draw_threads(ground, &layout, window, &ThreadLook::new(colours, px_per_mm)))
}
