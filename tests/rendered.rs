//! Pages of a PDF file rendered in grey by poppler (`pdftoppm -gray`), to be
//! measured.

use std::ops::Range;

/// A rendered page.
pub struct Rendered {
    /// Pixels in a row.
    pub width: usize,
    /// Rows of pixels.
    pub height: usize,
    /// Of each pixel, row by row: 0 is white, 1 is black.
    pub darkness: Vec<f64>,
}

impl Rendered {
    /// Reads what poppler writes.
    ///
    /// # Panics
    /// If it is no picture in grey.
    pub fn read(bytes: &[u8]) -> Rendered {
        // P5, width, height, 255, then the pixels.
        let mut at = 0;
        let mut fields = Vec::new();
        while fields.len() < 4 {
            let end = at + bytes[at..].iter().position(u8::is_ascii_whitespace).expect("a picture");
            fields.push(std::str::from_utf8(&bytes[at..end]).expect("a header").to_owned());
            at = end + 1;
        }
        let [width, height] = [1, 2].map(|k: usize| fields[k].parse().expect("a size in pixels"));
        let darkness: Vec<f64> = bytes[at..].iter().map(|&v| 1.0 - f64::from(v) / 255.0).collect();
        assert_eq!(darkness.len(), width * height);
        Rendered { width, height, darkness }
    }

    /// A part of a row of pixels, from the left.
    pub fn across(&self, y: usize, part: Range<usize>) -> impl Iterator<Item = f64> {
        assert!(part.end <= self.width);
        self.darkness[y * self.width..][part].iter().copied()
    }

    /// A part of a column of pixels, from the top.
    pub fn down(&self, x: usize, part: Range<usize>) -> impl Iterator<Item = f64> {
        assert!(part.end <= self.height);
        part.map(move |y| self.darkness[y * self.width + x])
    }
}

/// Middles of the dark runs of a line of pixels.
pub fn runs(dark: impl Iterator<Item = f64>) -> Vec<f64> {
    let mut found = Vec::new();
    let (mut sum, mut moment) = (0.0, 0.0);
    for (k, d) in dark.chain([0.0]).enumerate() {
        if d > 0.02 {
            sum += d;
            moment += d * (k as f64 + 0.5);
        } else if sum > 0.0 {
            found.push(moment / sum);
            (sum, moment) = (0.0, 0.0);
        }
    }
    found
}
