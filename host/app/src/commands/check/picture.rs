//! The picture of a chart being checked: as written, with its faults marked, and
//! as worked lace if it can be worked.

use std::path::PathBuf;

use catalogue::text::path_name;
use lace::{Ground, point};
use picture::drawing::Drawing;
use picture::drawing::sample::sample;
use picture::drawing::sketch::sketch;
use sandbox::Plugin;

use crate::export::export;
use crate::failure::Failure;
use crate::output::{note, warn};

/// Width of the picture, in pixels.
const PX: u32 = 1400;
/// Side of the lace shown, in pin spacings.
const SHOWN: f64 = 5.0;
/// Side of the lace as drawn, in mm.
const WORKED: f64 = 110.0;

/// Which pictures are written.
pub enum Pictures {
    /// None.
    None,
    /// One, to this file.
    To(PathBuf),
    /// One of each chart, named after its id.
    NamedAfterChart,
}

/// A picture to write after everything that was found has been printed.
pub struct Picture {
    title: String,
    out: PathBuf,
    /// `None` if nothing can be drawn.
    drawing: Option<Drawing>,
}

impl Picture {
    /// The picture of a contribution, as much of it as can be drawn; `None` if none
    /// is wanted.
    pub fn of(plugin: &Plugin, wanted: &Pictures) -> Option<Picture> {
        let (about, out) = (
            &plugin.about,
            match wanted {
                Pictures::None => return None,
                Pictures::To(out) => out.clone(),
                Pictures::NamedAfterChart => format!("{}-check.png", plugin.about.id).into(),
            },
        );
        Some(Picture { title: about.title.clone(), out, drawing: draw(plugin, &about.title) })
    }

    /// Writes it.
    pub fn write(self) -> Result<(), Failure> {
        let Picture { title, out, drawing } = self;
        match drawing {
            Some(drawing) => {
                export(&[drawing], &out, PX)?;
                warn(&format!("{}: {title} as it is written", path_name(&out)));
            }
            None => note(&format!("{title} cannot be drawn: no places are known, or too many stitches")),
        }
        Ok(())
    }
}

/// The drawing of the usual variety; `None` if there is nothing to draw.
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
