//! The picture of a chart being checked: as it is written, faults marked, and
//! worked, if it can be.

use std::path::Path;

use lace::{Ground, point};
use picture::drawing::Drawing;
use picture::drawing::sample::sample;
use picture::drawing::sketch::sketch;
use sandbox::Plugin;

use crate::export::export;
use crate::failure::Failure;
use crate::output::{note, warn};

/// Width of the picture, pixels.
const PX: u32 = 1400;
/// How much of it, in pin spacings.
const SHOWN: f64 = 5.0;
/// Side of the lace shown, as drawn, mm.
const WORKED: f64 = 110.0;

/// Writes what can be drawn of a contribution.
pub fn write(plugin: &Plugin, title: &str, out: &Path) -> Result<(), Failure> {
    match draw(plugin, title) {
        Some(picture) => {
            export(&[picture], out, PX)?;
            warn(&format!("{}: {title} as it is written", out.display()));
        }
        None => note(&format!("{title} cannot be drawn: no places are known, or too many stitches")),
    }
    Ok(())
}

/// The usual variety; `None` where there is nothing to draw.
fn draw(plugin: &Plugin, title: &str) -> Option<Drawing> {
    let about = &plugin.about;
    let settings = about.resolve(None, &[]).ok()?;
    let repeat = plugin.define(&settings).ok()?;
    let findings = lace::check(&repeat);
    let mut drawing = sketch(&repeat, title, &findings)?;
    if let Ok(ground) = Ground::new(repeat) {
        let worked = sample(&ground, about.angle, SHOWN, f64::from(PX) / 250.0).ok()?;
        let worked = worked.scaled(WORKED / worked.width);
        let left = drawing.width;
        drawing.width += WORKED + 8.0;
        drawing.height = drawing.height.max(WORKED + 16.0);
        drawing.place(&worked, point(left, 12.0), "worked-");
    }
    Some(drawing)
}
