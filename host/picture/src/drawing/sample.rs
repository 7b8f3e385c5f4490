//! A sample of a ground: a small square worked in two colours, at the usual pin
//! spacing and in a thread that suits it.

use lace::{Grid, GridError, Ground, Thread};

use crate::colour::Rgb;
use crate::drawing::threads::{ThreadLook, draw_threads};
use crate::drawing::{Drawing, rect};
use crate::layout::lay_out;

/// Distance between two footside pins of a sample, mm.
const PIN_SPACING_MM: f64 = 4.0;

/// A square of the worked ground, two pairs of one colour and two of another.
/// Its side is given in pin spacings, its shading in pixels per millimetre.
///
/// # Errors
/// When the angle (degrees from the footside) cannot be pricked.
pub fn sample(ground: &Ground, angle: f64, spacings: f64, px_per_mm: f64) -> Result<Drawing, GridError> {
    let grid = Grid::new(PIN_SPACING_MM, angle)?;
    let layout = lay_out(ground, &grid, Thread::suiting(PIN_SPACING_MM).diameter_mm());
    let colours = [[Rgb::INDIGO; 4], [Rgb::APRICOT; 4]].concat();
    let side = spacings * PIN_SPACING_MM;
    let window = rect(0.0, ground.top() * grid.step_y_mm(), side, side);
    Ok(draw_threads(ground, &layout, window, &ThreadLook::new(colours, px_per_mm)))
}
