//! Thumbnails: a ground drawn once, then painted in every arrangement.

use lace::{Arrangement, Ground};
use picture::drawing::Rect;
use picture::drawing::threads::{EachThread, ThreadDrawing, ThreadLook};
use picture::export::image::Image;
use picture::export::stencil::Stencil;
use picture::layout::Layout;

use crate::palette::Palette;

/// The square of lace shown in pictures `side` mm wide.
pub fn window(ground: &Ground, layout: &Layout, side: f64) -> Rect {
    Rect { x: 0.0, y: ground.top() * layout.grid.step_y_mm(), width: side, height: side }
}

/// A ground laid out and drawn once, ready to paint in any arrangement: each
/// thread has a class of its own.
#[derive(Clone, Debug)]
pub struct Thumbnail {
    stencil: Stencil,
    /// The place of the thread of class 0 among the hanging threads.
    first: i64,
    /// The layout of the threads.
    pub layout: Layout,
}

impl Thumbnail {
    /// Draws a square window of a laid-out ground, `side` mm and `px` pixels wide.
    pub fn new(ground: &Ground, layout: Layout, side: f64, px: u32) -> Thumbnail {
        let (stencil, first) = drawn(ground, &ThreadDrawing::new(ground, &layout), side, px);
        Thumbnail { stencil, first, layout }
    }

    /// The picture as bytes, for painters outside this program; see
    /// [`Stencil::packed`].
    pub fn packed(&self) -> Vec<u8> {
        self.stencil.packed(self.first).unwrap_or_default()
    }

    /// The colour number of each thread in the picture.
    fn threads(&self, arrangement: &Arrangement) -> Vec<u8> {
        let threads = arrangement.threads();
        let hung = |class: i64| threads[(self.first + class).rem_euclid(threads.len() as i64) as usize];
        (0..self.stencil.classes() as i64).map(hung).collect()
    }

    /// The picture in an arrangement.
    pub fn paint(&self, arrangement: &Arrangement, palette: &Palette) -> Image {
        self.stencil.paint_on(&palette.of_threads(&self.threads(arrangement)), palette.backdrop())
    }

    /// Paints the picture in an arrangement into a larger one, whose rows are
    /// `stride` pixels long.
    pub fn paint_into(
        &self,
        arrangement: &Arrangement,
        palette: &Palette,
        pixels: &mut [[u8; 4]],
        stride: usize,
    ) {
        let colours = palette.of_threads(&self.threads(arrangement));
        self.stencil.paint_into(&colours, palette.backdrop(), pixels, stride);
    }

    /// Each colour's share of the picture in an arrangement; the rest up to 1 is
    /// open.
    pub fn shares(&self, arrangement: &Arrangement, colours: usize) -> Vec<f64> {
        let mut shares = vec![0.0; colours];
        for (share, colour) in self.stencil.seen().iter().zip(self.threads(arrangement)) {
            if let Some(sum) = shares.get_mut(colour as usize) {
                *sum += share;
            }
        }
        shares
    }

    /// The share of the picture without thread.
    pub fn open(&self) -> f64 {
        1.0 - self.stencil.seen().iter().sum::<f64>()
    }
}

/// The stencil of a square window, and the place of its first thread.
fn drawn(ground: &Ground, threads: &ThreadDrawing<'_>, side: f64, px: u32) -> (Stencil, i64) {
    let px_per_mm = f64::from(px) / side;
    let window = window(ground, threads.layout(), side);
    let EachThread { drawing, first } = threads.draw_each(window, &ThreadLook::new(Vec::new(), px_per_mm));
    (Stencil::new(&drawing, px_per_mm), first)
}

#[cfg(test)]
mod tests {
    use catalogue::Chosen;

    use super::*;
    use crate::samples::chosen;
    use crate::scale::{Pricking, Scale};
    use lace::samples::torchon;
    use picture::drawing::threads::draw_threads;
    use picture::export::raster::rasterise;

    fn thumbnail() -> (Chosen, Thumbnail) {
        let chosen = chosen("Torchon", torchon("CT pin CT", 0));
        let scale = Scale::new(Pricking::default(), None).unwrap();
        let layout = scale.lay_out(&chosen).unwrap();
        let thumbnail = Thumbnail::new(&chosen.ground, layout, scale.window_mm(), 96);
        (chosen, thumbnail)
    }

    #[test]
    fn an_arrangement_written_twice_gives_the_same_pixels() {
        let (_, thumbnail) = thumbnail();
        let paint = |text: &str| thumbnail.paint(&text.parse().unwrap(), &Palette::default());
        assert_eq!(paint("A B"), paint("A B A B"));
        assert_ne!(paint("A B"), paint("A A B B"));
        let shares = thumbnail.shares(&"A A B B".parse().unwrap(), 2);
        assert!((shares.iter().sum::<f64>() + thumbnail.open() - 1.0).abs() < 1e-9, "{shares:?}");
    }

    #[test]
    fn arrangements_of_every_length_hang_as_in_a_drawing_made_for_them() {
        let ((chosen, thumbnail), palette) = (thumbnail(), Palette::default());
        let ground = &chosen.ground;
        for text in ["A", "A B", "2A 3B", "7A 7B", "20A 9B"] {
            let arrangement: Arrangement = text.parse().unwrap();
            let look = ThreadLook::new(palette.of_threads(&arrangement.threads()), 6.0);
            let window = window(ground, &thumbnail.layout, 16.0);
            let drawing = draw_threads(ground, &thumbnail.layout, window, &look);
            let (drawn, painted) = (rasterise(&drawing, 6.0), thumbnail.paint(&arrangement, &palette));
            // Where two threads share the edge of a pixel, their order differs; in a
            // wrong colour a third of the pixels would.
            let apart = drawn.pixels().iter().zip(painted.pixels());
            let far = apart.filter(|(a, b)| (0..3).any(|k| a[k].abs_diff(b[k]) > 48)).count();
            assert!(far * 20 < drawn.pixels().len(), "{text}: {far}");
        }
    }
}
