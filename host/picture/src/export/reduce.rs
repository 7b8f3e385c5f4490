//! Reducing colours for small files: shaded threads have thousands of colours
//! that the eye cannot tell apart, while a picture with at most 256 takes one
//! byte for each pixel.
//!
//! The colours are chosen by X. Wu's method of greatest variance (Graphics Gems
//! II, 1991), on encoded sRGB values, as implemented in `quantette`.

use indexmap::IndexSet;
use palette::Srgb;
use quantette::PaletteSize;
use quantette::wu::{BinnerU8x3, WuU8x3};

use crate::export::image::Image;

impl Image {
    /// The picture in at most `colours` colours, clamped to 1 to 256. A picture with
    /// any transparent pixel is returned unchanged.
    pub fn reduced(&self, colours: u16) -> Image {
        let size = PaletteSize::from_u16_clamped(colours);
        let few = self.pixels().iter().collect::<IndexSet<_>>().len() <= size.as_usize();
        if few || self.pixels().iter().any(|p| p[3] < 255) {
            return self.clone();
        }
        let mut pixels: Vec<Srgb<u8>> = self.pixels().iter().map(|p| Srgb::new(p[0], p[1], p[2])).collect();
        // Fails only for more pixels than any picture has.
        let Ok(found) = WuU8x3::run_slice(&pixels, BinnerU8x3::rgb()) else { return self.clone() };
        found.color_map(size).map_slice_in_place(&mut pixels);
        let opaque = pixels.iter().map(|p| [p.red, p.green, p.blue, 255]);
        Image::from_pixels(self.width(), self.height(), opaque.collect()).unwrap_or_else(|| self.clone())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::colour::rgb;

    /// A gradient from one colour to another.
    fn shaded() -> Image {
        let pixel = |k: u32| [(k / 4) as u8, 255 - (k / 8) as u8, (k / 16) as u8, 255];
        Image::from_pixels(32, 32, (0..1024).map(pixel).collect()).unwrap()
    }

    #[test]
    fn a_shaded_picture_looks_the_same_in_few_colours() {
        let image = shaded();
        let before: IndexSet<_> = image.pixels().iter().collect();
        assert!(before.len() > 200, "{}", before.len());
        for (colours, far) in [(16, 24), (64, 8)] {
            let reduced = image.reduced(colours);
            let after: IndexSet<_> = reduced.pixels().iter().collect();
            assert!(after.len() <= usize::from(colours), "{}", after.len());
            let difference = image.largest_difference(&reduced).unwrap();
            assert!(difference <= far, "{colours} colours: {difference}");
        }
    }

    #[test]
    fn flat_colours_and_transparency_are_kept() {
        let mut flat = Image::new(6, 6, Some(rgb(10, 200, 90)));
        flat.lay(&Image::new(2, 2, Some(rgb(200, 30, 30))), 1, 1);
        assert_eq!(flat.reduced(8), flat);
        let open = Image::new(3, 3, None);
        assert_eq!(open.reduced(8), open);
    }
}
