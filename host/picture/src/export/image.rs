//! Images in pixels, and their PNG encoding.

use indexmap::IndexSet;

use crate::colour::Rgb;

/// A picture in pixels: RGBA, 8 bits each, straight (not premultiplied) alpha,
/// rows from the top.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Image {
    width: u32,
    height: u32,
    pixels: Vec<[u8; 4]>,
}

impl Image {
    /// An image filled with one colour; `None` is transparent.
    pub fn new(width: u32, height: u32, fill: Option<Rgb>) -> Image {
        let pixel = fill.map_or([0; 4], |c| [c.r, c.g, c.b, 255]);
        Image { width, height, pixels: vec![pixel; width as usize * height as usize] }
    }

    /// An image from its pixels; `None` unless there are `width * height`.
    pub fn from_pixels(width: u32, height: u32, pixels: Vec<[u8; 4]>) -> Option<Image> {
        (pixels.len() == width as usize * height as usize).then_some(Image { width, height, pixels })
    }

    /// Width in pixels.
    pub fn width(&self) -> u32 {
        self.width
    }

    /// Height in pixels.
    pub fn height(&self) -> u32 {
        self.height
    }

    /// The pixels, row by row.
    pub fn pixels(&self) -> &[[u8; 4]] {
        &self.pixels
    }

    /// The pixels, row by row, mutable.
    pub fn pixels_mut(&mut self) -> &mut [[u8; 4]] {
        &mut self.pixels
    }

    /// One row of pixels.
    pub fn row(&self, y: u32) -> &[[u8; 4]] {
        &self.pixels[y as usize * self.width as usize..][..self.width as usize]
    }

    /// The pixel at a place inside the image.
    pub fn pixel(&self, x: u32, y: u32) -> [u8; 4] {
        self.row(y)[x as usize]
    }

    /// Lays another image on this one with its upper left corner at `(x, y)`,
    /// clipped to this image. Opaque pixels replace, others blend.
    pub fn lay(&mut self, other: &Image, x: u32, y: u32) {
        let columns = other.width.min(self.width.saturating_sub(x)) as usize;
        let rows = other.height.min(self.height.saturating_sub(y));
        for row in 0..rows {
            let start = (y + row) as usize * self.width as usize + x as usize;
            for (below, above) in self.pixels[start..start + columns].iter_mut().zip(other.row(row)) {
                *below = over(*above, *below);
            }
        }
    }

    /// The largest difference of any channel of any pixel; `None` when the
    /// sizes differ.
    pub fn largest_difference(&self, other: &Image) -> Option<u8> {
        ((self.width, self.height) == (other.width, other.height)).then(|| {
            let pairs = self.pixels.iter().flatten().zip(other.pixels.iter().flatten());
            pairs.map(|(a, b)| a.abs_diff(*b)).max().unwrap_or(0)
        })
    }

    /// The image as a PNG file: 8-bit palette when it has at most 256 colours,
    /// else RGB, or RGBA when some pixel is not opaque.
    ///
    /// `px_per_mm` is written into the file, so that programs that respect it print
    /// the picture at true size.
    pub fn to_png(&self, px_per_mm: f64) -> Vec<u8> {
        self.clone().into_png(px_per_mm)
    }

    /// The same, reusing the memory of the pixels: for large images.
    pub fn into_png(self, px_per_mm: f64) -> Vec<u8> {
        let mut bytes = Vec::new();
        let mut encoder = png::Encoder::new(&mut bytes, self.width, self.height);
        encoder.set_depth(png::BitDepth::Eight);
        let per_metre = (px_per_mm * 1000.0).round() as u32;
        encoder.set_pixel_dims(Some(png::PixelDimensions {
            xppu: per_metre,
            yppu: per_metre,
            unit: png::Unit::Meter,
        }));
        let data: Vec<u8> = if let Some((palette, indices)) = self.indexed() {
            encoder.set_color(png::ColorType::Indexed);
            encoder.set_palette(palette.iter().flat_map(|p| [p[0], p[1], p[2]]).collect::<Vec<u8>>());
            if palette.iter().any(|p| p[3] < 255) {
                encoder.set_trns(palette.iter().map(|p| p[3]).collect::<Vec<u8>>());
            }
            // Filters would only break up runs of equal indices.
            encoder.set_deflate_compression(png::DeflateCompression::Level(6));
            encoder.set_filter(png::Filter::NoFilter);
            indices
        } else if self.pixels.iter().all(|p| p[3] == 255) {
            encoder.set_color(png::ColorType::Rgb);
            encoder.set_compression(png::Compression::Fast);
            let count = self.pixels.len();
            let mut data = self.pixels.into_flattened();
            for k in 0..count {
                data.copy_within(4 * k..4 * k + 3, 3 * k);
            }
            data.truncate(3 * count);
            data
        } else {
            encoder.set_color(png::ColorType::Rgba);
            encoder.set_compression(png::Compression::Fast);
            self.pixels.into_flattened()
        };
        // Writing to memory fails only for wrong sizes, and these are right.
        let mut writer = encoder.write_header().expect("a palette or true-colour header is valid");
        writer.write_image_data(&data).expect("data of the size given in the header");
        writer.finish().expect("memory takes every byte");
        bytes
    }

    /// The colours, in order of appearance, and the pixels as indices into them;
    /// `None` for more than 256 colours.
    fn indexed(&self) -> Option<(Vec<[u8; 4]>, Vec<u8>)> {
        let mut palette: IndexSet<[u8; 4]> = IndexSet::new();
        let mut indices = Vec::with_capacity(self.pixels.len());
        let mut last = None;
        for &pixel in &self.pixels {
            let index = match last {
                Some((same, index)) if same == pixel => index,
                _ => {
                    let (index, _) = palette.insert_full(pixel);
                    u8::try_from(index).ok()?
                }
            };
            last = Some((pixel, index));
            indices.push(index);
        }
        Some((palette.into_iter().collect(), indices))
    }
}

/// One pixel over another, straight alpha.
fn over(above: [u8; 4], below: [u8; 4]) -> [u8; 4] {
    match above[3] {
        255 => above,
        0 => below,
        a => {
            let a = f32::from(a) / 255.0;
            let b = f32::from(below[3]) / 255.0 * (1.0 - a);
            let alpha = a + b;
            let mut mixed = [0; 4];
            for k in 0..3 {
                let sum = f32::from(above[k]) * a + f32::from(below[k]) * b;
                mixed[k] = (sum / alpha).round() as u8;
            }
            mixed[3] = (alpha * 255.0).round() as u8;
            mixed
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::colour::rgb;

    fn decode(bytes: &[u8]) -> (png::ColorType, Vec<u8>, Option<png::PixelDimensions>) {
        let mut decoder = png::Decoder::new(std::io::Cursor::new(bytes));
        decoder.set_transformations(png::Transformations::EXPAND);
        let mut reader = decoder.read_info().unwrap();
        let mut data = vec![0; reader.output_buffer_size().unwrap()];
        reader.next_frame(&mut data).unwrap();
        (reader.info().color_type, data, reader.info().pixel_dims)
    }

    #[test]
    fn few_colours_are_written_as_a_palette_and_read_back() {
        let mut image = Image::new(5, 4, Some(Rgb::LINEN));
        image.lay(&Image::new(2, 2, Some(rgb(200, 30, 30))), 2, 1);
        let (colour_type, data, dims) = decode(&image.to_png(11.811));
        assert_eq!(colour_type, png::ColorType::Indexed);
        let expected: Vec<u8> = image.pixels().iter().flat_map(|p| [p[0], p[1], p[2]]).collect();
        assert_eq!(data, expected);
        assert_eq!(dims.map(|d| (d.xppu, d.yppu)), Some((11811, 11811)));
    }

    #[test]
    fn many_colours_and_transparency_are_read_back() {
        for alpha in [255, 128] {
            let pixels: Vec<[u8; 4]> =
                (0..32 * 32).map(|k| [(k % 251) as u8, (k / 8) as u8, 7, alpha]).collect();
            let image = Image::from_pixels(32, 32, pixels).unwrap();
            let (colour_type, data, _) = decode(&image.to_png(4.0));
            if alpha == 255 {
                assert_eq!(colour_type, png::ColorType::Rgb);
                assert_eq!(data, image.pixels().iter().flat_map(|p| [p[0], p[1], p[2]]).collect::<Vec<u8>>());
            } else {
                assert_eq!(colour_type, png::ColorType::Rgba);
                assert_eq!(data, image.pixels().as_flattened());
            }
        }
    }
}
