//! Pictures that repeat, in pixels: one repeat is embedded once and laid side by side.
//!
//! Shaded threads have so many outlines that they are many times larger as curves
//! than in pixels.

use krilla::geom::{Size, Transform};
use krilla::image::Image;
use krilla::paint::FillRule;
use krilla::surface::Surface;

use super::built;
use crate::drawing::{Background, Drawing, Group, Path, Rect, Repeating};
use crate::export::raster::rasterise;
use lace::point;

/// Pixels per millimetre: 200 to the inch, five or more across a usual thread where it
/// is enlarged twice.
const PX_PER_MM: f64 = 200.0 / 25.4;
/// Most colours of a picture, so that it compresses well.
const COLOURS: u16 = 64;
/// Pixels by which neighbours overlap, so that no seam shows between them.
const OVERLAP: f64 = 1.0;

/// Draws the groups of a picture.
pub(super) fn draw(surface: &mut Surface<'_>, drawing: &Drawing, groups: &[&Group], picture: Repeating) {
    let Repeating { view, period } = picture;
    let Some(clip) = built(&Path::rect(view)) else { return };
    let repeat = one_repeat(drawing, groups, picture);
    let image = rasterise(&repeat, PX_PER_MM).reduced(COLOURS);
    let image = Image::from_png(image.into_png(PX_PER_MM).into(), false).expect("a PNG file of our own");
    let Some(size) = Size::from_wh(repeat.width as f32, repeat.height as f32) else { return };
    surface.push_clip_path(&clip, &FillRule::NonZero);
    for y in starts(view.y, view.height, period.height) {
        for x in starts(view.x, view.width, period.width) {
            surface.push_transform(&Transform::from_translate(x as f32, y as f32));
            surface.draw_image(image.clone(), size);
            surface.pop();
        }
    }
    surface.pop();
}

/// The repeat at the upper left corner, with the overlap, in whole pixels; no more than
/// the picture shows.
fn one_repeat(drawing: &Drawing, groups: &[&Group], picture: Repeating) -> Drawing {
    let Repeating { view: Rect { x, y, width, height }, period } = picture;
    let whole = |repeat: f64, shown: f64| {
        let most = (shown * PX_PER_MM).ceil();
        ((repeat * PX_PER_MM).ceil() + OVERLAP).min(most) / PX_PER_MM
    };
    let all = Drawing {
        background: Background::Transparent,
        groups: groups.iter().map(|&group| group.clone()).collect(),
        title: String::new(),
        colours: drawing.colours.clone(),
        ..*drawing
    };
    let mut repeat = Drawing::new(whole(period.width, width), whole(period.height, height), "");
    repeat.place(&all, point(-x, -y), "");
    repeat
}

/// Where repeats begin along a side of the picture.
fn starts(from: f64, length: f64, period: f64) -> impl Iterator<Item = f64> {
    let count = (length / period).ceil().max(1.0) as usize;
    (0..count).map(move |k| if k == 0 { from } else { from + k as f64 * period })
}
