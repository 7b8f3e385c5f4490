//! Thumbnails: a ground drawn once, then painted in every arrangement.

use lace::{Arrangement, Ground};
use picture::colour::Rgb;
use picture::drawing::Rect;
use picture::drawing::threads::{ThreadLook, draw_threads};
use picture::export::image::Image;
use picture::export::stencil::Stencil;
use picture::layout::Layout;

use crate::drawn_pairs::for_painting;
use crate::palette::Palette;

/// The stencil of a square window of a laid-out ground, `side` mm and `px` pixels
/// wide, with a class for each thread of `pairs` pairs.
pub fn stencil(ground: &Ground, layout: &Layout, side: f64, px: u32, pairs: usize) -> Stencil {
    let px_per_mm = f64::from(px) / side;
    // The stencil replaces these colours; it only needs one per thread.
    let look = ThreadLook::new(vec![Rgb::BLACK; 2 * pairs], px_per_mm);
    Stencil::new(&draw_threads(ground, layout, window(ground, layout, side), &look), px_per_mm)
}

/// The square of lace shown in pictures `side` mm wide.
pub fn window(ground: &Ground, layout: &Layout, side: f64) -> Rect {
    Rect { x: 0.0, y: ground.top() * layout.grid.step_y_mm(), width: side, height: side }
}

/// A ground laid out and drawn once, ready to paint.
#[derive(Clone, Debug)]
pub struct Thumbnail {
    /// A drawing for each number of pairs needed.
    stencils: Vec<(usize, Stencil)>,
    /// The layout of the threads.
    pub layout: Layout,
}

impl Thumbnail {
    /// Draws a square window of a laid-out ground, `side` mm and `px` pixels wide,
    /// for arrangements with any of these numbers of pairs (at least one).
    pub fn new(ground: &Ground, layout: Layout, side: f64, px: u32, lengths: &[usize]) -> Thumbnail {
        let mut stencils: Vec<(usize, Stencil)> = Vec::new();
        for &length in lengths {
            let pairs = for_painting(length);
            if stencils.iter().all(|(drawn, _)| *drawn != pairs) {
                stencils.push((pairs, stencil(ground, &layout, side, px, pairs)));
            }
        }
        Thumbnail { stencils, layout }
    }

    /// The drawing that suits an arrangement, and the colour number of each of
    /// its threads.
    fn threads(&self, arrangement: &Arrangement) -> (&Stencil, Vec<u8>) {
        let length = arrangement.pairs().len();
        // There is a drawing for every arrangement asked for.
        let suits = |(pairs, _): &&(usize, Stencil)| pairs.is_multiple_of(length);
        let (pairs, stencil) = self.stencils.iter().find(suits).unwrap_or(&self.stencils[0]);
        (stencil, arrangement.extended(*pairs).threads())
    }

    /// The drawing made for arrangements of this many pairs, with a class for each
    /// thread of [`for_painting`] pairs.
    pub fn stencil(&self, pairs: usize) -> Option<&Stencil> {
        self.stencils.iter().find(|(drawn, _)| drawn.is_multiple_of(pairs)).map(|(_, stencil)| stencil)
    }

    /// The picture in an arrangement.
    pub fn paint(&self, arrangement: &Arrangement, palette: &Palette) -> Image {
        let (stencil, threads) = self.threads(arrangement);
        stencil.paint(&palette.of_threads(&threads))
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
        let (stencil, threads) = self.threads(arrangement);
        stencil.paint_into(&palette.of_threads(&threads), pixels, stride);
    }

    /// Each colour's share of the picture in an arrangement; the rest up to 1 is
    /// open.
    pub fn shares(&self, arrangement: &Arrangement, colours: usize) -> Vec<f64> {
        let (stencil, threads) = self.threads(arrangement);
        let mut shares = vec![0.0; colours];
        for (share, colour) in stencil.seen().iter().zip(threads) {
            if let Some(sum) = shares.get_mut(colour as usize) {
                *sum += share;
            }
        }
        shares
    }

    /// The share of the picture without thread.
    pub fn open(&self) -> f64 {
        1.0 - self.stencils[0].1.seen().iter().sum::<f64>()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::samples::chosen;
    use crate::scale::{Pricking, Scale};
    use lace::samples::torchon;

    #[test]
    fn an_arrangement_written_twice_gives_the_same_pixels() {
        let chosen = chosen("Torchon", torchon("CT pin CT", 0));
        let scale = Scale::new(Pricking::default(), None).unwrap();
        let layout = scale.lay_out(&chosen).unwrap();
        let thumbnail = Thumbnail::new(&chosen.ground, layout, scale.window_mm(), 48, &[2, 4, 5]);
        let paint = |text: &str| thumbnail.paint(&text.parse().unwrap(), &Palette::default());
        assert_eq!(paint("A B"), paint("A B A B"));
        assert_ne!(paint("A B"), paint("A A B B"));
        let shares = thumbnail.shares(&"A A B B".parse().unwrap(), 2);
        assert!((shares.iter().sum::<f64>() + thumbnail.open() - 1.0).abs() < 1e-9, "{shares:?}");
    }
}
