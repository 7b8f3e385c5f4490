//! A stencil: a drawing rasterised once, so that it can be repainted in other
//! thread colours and on another background with a few multiplications per pixel.
//!
//! Laying one paint on another is linear in both, and so is a [`Tone`]; hence
//! every pixel is a fixed colour plus a weighted sum of the colours of threads and
//! of the background. The stencil keeps those weights. Mixing is done on encoded sRGB values, as in
//! [`crate::export::raster`].
//!
//! [`Tone`]: crate::colour::Tone

mod packed;

use tiny_skia::{FillRule, Mask, Transform};

use crate::colour::Rgb;
use crate::drawing::{Background, Drawing, Ink};
use crate::export::coverage::{areas, pixels};
use crate::export::image::Image;
use crate::export::raster::clip_mask;

/// One of the parts mixed in a pixel.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Part {
    class: u16,
    /// Share of the class's colour, in units of 1/[`ONE`].
    weight: u16,
}

/// Weights have this many steps, finer than a colour channel can show.
const ONE: f32 = 32_768.0;

/// A pixel in which anything but the background is visible.
#[derive(Clone, Copy, Debug)]
struct Mixed {
    /// Position in the image.
    at: u32,
    /// End of its parts in [`Stencil::parts`]; they begin where those of the previous
    /// pixel end.
    end: u32,
    /// Red, green, blue (each times alpha) of everything but thread and background,
    /// and alpha, in units of 1/([`ONE`] * 255).
    fixed: [u32; 4],
    /// Share of the background's colour, in units of 1/[`ONE`].
    back: u16,
}

/// A drawing without the colours of its threads and its background.
#[derive(Clone, Debug)]
pub struct Stencil {
    width: u32,
    height: u32,
    classes: usize,
    background: Background,
    mixed: Vec<Mixed>,
    /// For each row, the end of its pixels in [`Stencil::mixed`].
    row_ends: Vec<u32>,
    parts: Vec<Part>,
    seen: Vec<f64>,
}

/// A pixel being painted.
#[derive(Clone, Default)]
struct Mixing {
    fixed: [f32; 3],
    /// Share of the background's colour.
    back: f32,
    alpha: f32,
    parts: Vec<Layer>,
}

/// The part of a class visible in a pixel.
#[derive(Clone, Copy)]
struct Layer {
    class: u16,
    /// Share of the class's colour in the pixel's.
    weight: f32,
    /// Share of the pixel in which the class is on top, whatever its tone.
    seen: f32,
}

impl Mixing {
    /// Paints ink over the pixel. A veil darkens what is below but does not hide it.
    fn lay(&mut self, cover: f32, ink: Ink, veil: bool) {
        let stays = 1.0 - cover;
        for f in &mut self.fixed {
            *f *= stays;
        }
        self.back *= stays;
        for part in &mut self.parts {
            part.weight *= stays;
            part.seen *= if veil { 1.0 } else { stays };
        }
        self.alpha = self.alpha * stays + cover;
        match ink {
            Ink::Fixed(colour) => {
                for (f, part) in self.fixed.iter_mut().zip(colour.parts()) {
                    *f += part * cover;
                }
            }
            Ink::Thread { class, tone } => {
                for f in &mut self.fixed {
                    *f += tone.adds() * cover;
                }
                let share = tone.keeps() * cover;
                match self.parts.iter_mut().find(|p| usize::from(p.class) == class) {
                    Some(part) => {
                        part.weight += share;
                        part.seen += cover;
                    }
                    None => self.parts.push(Layer { class: class as u16, weight: share, seen: cover }),
                }
            }
        }
        if cover == 1.0 {
            self.parts.retain(|p| p.weight > 0.0);
        }
    }
}

/// Paints all areas of a drawing, pixel by pixel.
fn mixed(drawing: &Drawing, px_per_mm: f64, width: u32, height: u32) -> Vec<Mixing> {
    let mut blank = Mixing::default();
    if drawing.background != Background::Transparent {
        (blank.back, blank.alpha) = (1.0, 1.0);
    }
    let mut mixing = vec![blank; width as usize * height as usize];
    let mut mask = Mask::new(width, height).expect("1 to 65,535 pixels each way");
    let mut clip_now: Option<(tiny_skia::Rect, Mask)> = None;
    for area in areas(drawing, px_per_mm) {
        mask.fill_path(&area.path, FillRule::Winding, true, Transform::identity());
        if let Some(clip) = area.clip
            && clip_now.as_ref().is_none_or(|(rect, _)| *rect != clip)
        {
            clip_now = Some((clip, clip_mask(width, height, clip)));
        }
        let clip = area.clip.and(clip_now.as_ref()).map(|(_, mask)| mask.data());
        // Only the rows and columns that the area touches.
        let bounds = area.path.bounds();
        let span = |low: f32, high: f32, end: u32| {
            let low = (low.floor() - 1.0).clamp(0.0, end as f32) as usize;
            let high = (high.ceil() + 1.0).clamp(0.0, end as f32) as usize;
            low..high.max(low)
        };
        let columns = span(bounds.left(), bounds.right(), width);
        for row in span(bounds.top(), bounds.bottom(), height) {
            let from = row * width as usize;
            let here = from + columns.start..from + columns.end;
            for at in here.clone() {
                let mut cover = mask.data()[at];
                if cover == 0 {
                    continue;
                }
                if let Some(clip) = clip {
                    cover = ((u16::from(cover) * u16::from(clip[at]) + 127) / 255) as u8;
                }
                let veil = area.paint.opacity < 1.0;
                mixing[at].lay(f32::from(cover) / 255.0 * area.paint.opacity, area.paint.ink, veil);
            }
            mask.data_mut()[here].fill(0);
        }
    }
    mixing
}

impl Stencil {
    /// Rasterises a drawing at a scale, as [`crate::export::raster::rasterise`] does.
    /// At most 65,535 classes of threads.
    pub fn new(drawing: &Drawing, px_per_mm: f64) -> Stencil {
        let (width, height) = (pixels(drawing.width, px_per_mm), pixels(drawing.height, px_per_mm));
        let mixing = mixed(drawing, px_per_mm, width, height);
        let mut stencil = Stencil {
            width,
            height,
            classes: drawing.colours.len(),
            background: drawing.background,
            mixed: Vec::new(),
            row_ends: Vec::with_capacity(height as usize),
            parts: Vec::new(),
            seen: vec![0.0; drawing.colours.len()],
        };
        let share = mixing.len() as f64;
        for (at, pixel) in mixing.iter().enumerate() {
            stencil.add(at as u32, pixel, share);
            if (at + 1).is_multiple_of(width as usize) {
                stencil.row_ends.push(stencil.mixed.len() as u32);
            }
        }
        stencil
    }

    /// Adds the next of `count` pixels.
    fn add(&mut self, at: u32, pixel: &Mixing, count: f64) {
        let fixed = |v: f32| (v * ONE * 255.0).round() as u32;
        let [r, g, b] = pixel.fixed;
        let fixed = [fixed(r), fixed(g), fixed(b), fixed(pixel.alpha)];
        let last = self.classes.saturating_sub(1) as u16;
        for part in &pixel.parts {
            if let Some(seen) = self.seen.get_mut(usize::from(part.class.min(last))) {
                *seen += f64::from(part.seen) / count;
            }
        }
        let parts = pixel
            .parts
            .iter()
            .map(|part| Part { class: part.class.min(last), weight: (part.weight * ONE).round() as u16 });
        let before = self.parts.len();
        self.parts.extend(parts.filter(|p| p.weight > 0));
        let back = (pixel.back * ONE).round() as u16;
        let blank = [0, 0, 0, if self.is_opaque() { fixed[3] } else { 0 }];
        let is_blank = fixed == blank && back == if self.is_opaque() { ONE as u16 } else { 0 };
        if self.parts.len() > before || !is_blank {
            self.mixed.push(Mixed { at, end: self.parts.len() as u32, fixed, back });
        }
    }

    fn is_opaque(&self) -> bool {
        self.background != Background::Transparent
    }

    /// The share of the picture (0 to 1) in which each class of threads is on top,
    /// one for each class. The rest, up to 1, is not thread.
    ///
    /// Shadows hide nothing, and a thread's dark edge counts as thread.
    pub fn seen(&self) -> &[f64] {
        &self.seen
    }

    /// A pixel from its premultiplied colour and its alpha.
    fn pixel(&self, [r, g, b, alpha]: [u32; 4]) -> [u8; 4] {
        if self.is_opaque() {
            let byte = |v: u32| ((v + ONE as u32 / 2) / ONE as u32).min(255) as u8;
            [byte(r), byte(g), byte(b), 255]
        } else {
            straight([r, g, b], alpha)
        }
    }

    /// Width in pixels.
    pub fn width(&self) -> u32 {
        self.width
    }

    /// Height in pixels.
    pub fn height(&self) -> u32 {
        self.height
    }

    /// How many thread colours [`Stencil::paint`] takes.
    pub fn classes(&self) -> usize {
        self.classes
    }

    /// The picture in these thread colours, one for each class, on the background
    /// of the drawing; missing colours are black.
    pub fn paint(&self, colours: &[Rgb]) -> Image {
        let own = match self.background {
            Background::Colour(own) => own,
            Background::Transparent => Rgb::BLACK,
        };
        self.paint_on(colours, own)
    }

    /// The same on another background, unless the drawing has none.
    pub fn paint_on(&self, colours: &[Rgb], background: Rgb) -> Image {
        let mut pixels = vec![[0; 4]; self.width as usize * self.height as usize];
        self.paint_into(colours, background, &mut pixels, self.width as usize);
        Image::from_pixels(self.width, self.height, pixels).expect("one entry for every pixel")
    }

    /// Paints into a larger picture: into the first [`Stencil::width`] pixels of
    /// every `stride` pixels of `pixels`. Existing pixels are replaced; rows without
    /// room are left out.
    pub fn paint_into(&self, colours: &[Rgb], background: Rgb, pixels: &mut [[u8; 4]], stride: usize) {
        let Rgb { r, g, b } = background;
        let blank = if self.is_opaque() { [r, g, b, 255] } else { [0; 4] };
        let behind = [r, g, b].map(u32::from);
        let mut table: Vec<[u32; 3]> =
            colours.iter().take(self.classes).map(|c| [c.r, c.g, c.b].map(u32::from)).collect();
        table.resize(self.classes.max(1), [0; 3]);
        let wide = self.width as usize;
        let mut parts = self.parts.as_slice();
        let (mut before, mut first) = (0, 0);
        for (row, line) in pixels.chunks_mut(stride.max(1)).take(self.height as usize).enumerate() {
            let start = row * wide;
            let room = wide.min(line.len());
            line[..room].fill(blank);
            let end = self.row_ends[row] as usize;
            for mixed in &self.mixed[first..end] {
                let (own, rest) = parts.split_at((mixed.end - before) as usize);
                (parts, before) = (rest, mixed.end);
                let back = u32::from(mixed.back);
                let [mut r, mut g, mut b, alpha] = mixed.fixed;
                r += back * behind[0];
                g += back * behind[1];
                b += back * behind[2];
                for part in own {
                    let [cr, cg, cb] = table[usize::from(part.class)];
                    let weight = u32::from(part.weight);
                    r += weight * cr;
                    g += weight * cg;
                    b += weight * cb;
                }
                if let Some(pixel) = line.get_mut(mixed.at as usize - start) {
                    *pixel = self.pixel([r, g, b, alpha]);
                }
            }
            first = end;
        }
    }
}

/// Converts premultiplied colour to straight alpha.
fn straight(colour: [u32; 3], alpha: u32) -> [u8; 4] {
    let whole = u64::from(alpha);
    if whole == 0 {
        return [0; 4];
    }
    let [r, g, b] = colour.map(|v| ((u64::from(v) * 255 + whole / 2) / whole).min(255) as u8);
    [r, g, b, ((whole + ONE as u64 / 2) / ONE as u64).min(255) as u8]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::colour::{Tone, rgb};
    use crate::drawing::{Group, Paint, Path, Shape, rect};

    /// Two threads, a quarter and an eighth of the picture, under a shadow.
    fn drawing() -> Drawing {
        let mut drawing = Drawing::new(8.0, 4.0, "two threads");
        drawing.background = Rgb::LINEN.into();
        drawing.colours = vec![Rgb::BLACK; 2];
        let mut group = Group::new("threads");
        let area = |x: f64, wide: f64, paint: Paint| Shape::fill(Path::rect(rect(x, 0.0, wide, 4.0)), paint);
        group.shapes.push(area(0.0, 3.0, Paint::thread(0, Tone::dark(40))));
        group.shapes.push(area(2.0, 1.0, Paint::thread(1, Tone::PLAIN)));
        group.shapes.push(area(0.0, 8.0, Paint::veil(Rgb::BLACK, 0.3)));
        drawing.groups.push(group);
        drawing
    }

    #[test]
    fn the_visible_share_of_a_thread_is_the_area_where_it_is_on_top() {
        for px_per_mm in [1.0, 5.0] {
            let stencil = Stencil::new(&drawing(), px_per_mm);
            let seen = stencil.seen();
            assert!((seen[0] - 0.25).abs() < 1e-6 && (seen[1] - 0.125).abs() < 1e-6, "{seen:?}");
        }
    }

    #[test]
    fn another_background_gives_the_picture_drawn_on_it() {
        let colours = [rgb(200, 30, 30), rgb(20, 40, 90)];
        let stencil = Stencil::new(&drawing(), 5.0);
        let on_slate = Drawing { background: Rgb::SLATE.into(), ..drawing() };
        let anew = Stencil::new(&on_slate, 5.0).paint(&colours);
        assert_eq!(stencil.paint_on(&colours, Rgb::SLATE), anew);
        assert_ne!(stencil.paint(&colours), anew);
    }

    #[test]
    fn painting_into_a_larger_picture_gives_the_same_pixels_and_touches_no_others() {
        let stencil = Stencil::new(&drawing(), 3.0);
        let colours = [rgb(200, 30, 30), rgb(20, 40, 90)];
        let alone = stencil.paint(&colours);
        let (wide, high) = (40, 20);
        let mut large = vec![[1, 2, 3, 4]; wide * high];
        stencil.paint_into(&colours, Rgb::LINEN, &mut large[5 * wide + 7..], wide);
        for (at, pixel) in large.iter().enumerate() {
            let (x, y) = ((at % wide) as u32, (at / wide) as u32);
            let inside = (7..7 + alone.width()).contains(&x) && (5..5 + alone.height()).contains(&y);
            let expected = if inside { alone.pixel(x - 7, y - 5) } else { [1, 2, 3, 4] };
            assert_eq!(*pixel, expected, "{x}, {y}");
        }
    }
}
