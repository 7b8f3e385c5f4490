//! Rasterising a drawing.

use tiny_skia::{Color, FillRule, Mask, PathBuilder, Pixmap, Transform};

use crate::colour::Rgb;
use crate::drawing::{Background, Drawing, Ink};
use crate::export::coverage::{areas, pixels};
use crate::export::image::Image;

/// Rasterises a drawing at a scale. The image is `width * px_per_mm` by
/// `height * px_per_mm` pixels, rounded, from 1 to 65,535 each way.
pub fn rasterise(drawing: &Drawing, px_per_mm: f64) -> Image {
    let (width, height) = (pixels(drawing.width, px_per_mm), pixels(drawing.height, px_per_mm));
    let mut pixmap = Pixmap::new(width, height).expect("1 to 65,535 pixels each way");
    if let Background::Colour(background) = drawing.background {
        pixmap.fill(colour(background.parts(), 1.0));
    }
    let mut masks: Vec<(tiny_skia::Rect, Mask)> = Vec::new();
    for area in areas(drawing, px_per_mm) {
        let parts = match area.paint.ink {
            Ink::Fixed(c) => c.parts(),
            Ink::Thread { class, tone } => tone.of(drawing.colours.get(class).copied().unwrap_or(Rgb::BLACK)),
        };
        let mut paint = tiny_skia::Paint { anti_alias: true, force_hq_pipeline: true, ..Default::default() };
        paint.set_color(colour(parts, area.paint.opacity));
        let mask = area.clip.map(|clip| {
            if masks.last().is_none_or(|(rect, _)| *rect != clip) {
                masks.clear();
                masks.push((clip, clip_mask(width, height, clip)));
            }
            &masks[0].1
        });
        pixmap.fill_path(&area.path, &paint, FillRule::Winding, Transform::identity(), mask);
    }
    let pixels = pixmap
        .pixels()
        .iter()
        .map(|p| {
            let c = p.demultiply();
            [c.red(), c.green(), c.blue(), c.alpha()]
        })
        .collect();
    Image::from_pixels(width, height, pixels).expect("as many pixels as the pixmap has")
}

/// A mask for the inside of a rectangle.
pub(crate) fn clip_mask(width: u32, height: u32, clip: tiny_skia::Rect) -> Mask {
    let mut mask = Mask::new(width, height).expect("1 to 65,535 pixels each way");
    mask.fill_path(&PathBuilder::from_rect(clip), FillRule::Winding, true, Transform::identity());
    mask
}

fn colour([r, g, b]: [f32; 3], opacity: f32) -> Color {
    Color::from_rgba(r.clamp(0.0, 1.0), g.clamp(0.0, 1.0), b.clamp(0.0, 1.0), opacity.clamp(0.0, 1.0))
        .expect("parts between 0 and 1")
}
