//! The picture of a chart being checked: as it is written, faults marked, and
//! worked, if it can be.

use lace::{Grid, Ground, Thread, point};
use picture::drawing::Drawing;
use picture::layout::lay_out;
use picture::sketch::sketch;
use picture::threads::{ThreadLook, draw_threads};
use sandbox::Plugin;

use crate::colours::Palette;

/// Width of the picture, pixels.
pub const PX: u32 = 1400;
/// Spacing of the footside pins, mm.
const SPACING: f64 = 4.0;
/// Side of the lace shown, as drawn, mm.
const WORKED: f64 = 110.0;

/// The usual variety; `None` where there is nothing to draw.
pub fn draw(plugin: &Plugin, title: &str) -> Option<Drawing> {
    let about = &plugin.about;
    let settings = about.resolve(None, &[]).ok()?;
    let repeat = plugin.define(&settings).ok()?;
    let findings = lace::check(&repeat);
    let mut drawing = sketch(&repeat, title, &findings)?;
    if let Ok(ground) = Ground::new(repeat) {
        let grid = Grid::new(SPACING, about.angle).ok()?;
        let layout = lay_out(&ground, &grid, Thread::suiting(SPACING).diameter_mm());
        let side = 5.0 * SPACING;
        let top = grid.mm(point(0.0, ground.top())).y;
        let window = picture::drawing::rect(-0.5 * side, top, side, side);
        // Two pairs of one colour, two of the other.
        let palette = Palette::default();
        let colours = [0, 0, 0, 0, 1, 1, 1, 1].map(|colour| palette.rgb(colour).into()).to_vec();
        let look = ThreadLook::new(colours, f64::from(PX) / 250.0);
        let worked = draw_threads(&ground, &layout, window, &look).scaled(WORKED / side);
        let left = drawing.width;
        drawing.width += WORKED + 8.0;
        drawing.height = drawing.height.max(WORKED + 16.0);
        drawing.place(&worked, point(left, 12.0), "worked-");
    }
    Some(drawing)
}
