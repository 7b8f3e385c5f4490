//! Colours on paper and screen: 8-bit sRGB.

pub mod backdrop;
pub mod vision;

use std::fmt;

/// An opaque colour, 8-bit sRGB.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Rgb {
    /// Red, 0 to 255.
    pub r: u8,
    /// Green, 0 to 255.
    pub g: u8,
    /// Blue, 0 to 255.
    pub b: u8,
}

/// An [`Rgb`] from its three channels.
pub const fn rgb(r: u8, g: u8, b: u8) -> Rgb {
    Rgb { r, g, b }
}

impl Rgb {
    /// Black.
    pub const BLACK: Rgb = rgb(0, 0, 0);
    /// White.
    pub const WHITE: Rgb = rgb(255, 255, 255);
    /// Unbleached linen, the usual background behind lace.
    pub const LINEN: Rgb = rgb(232, 224, 208);
    /// Grey-blue cloth, behind threads that are too pale for linen.
    pub const SLATE: Rgb = rgb(0x6b, 0x7a, 0x8c);
    /// Dark blue cloth, where the grey-blue one hides a thread.
    pub const NIGHT: Rgb = rgb(0x1d, 0x2a, 0x3a);
    /// Colour of the lettering on pictures.
    pub const INK: Rgb = rgb(46, 42, 38);
    /// Colour of pins: brass.
    pub const BRASS: Rgb = rgb(176, 141, 74);
    /// Dark blue: with [`Rgb::APRICOT`] one of the two default colours. Most people
    /// can tell them apart, even in a grey print or with weak red or green vision.
    pub const INDIGO: Rgb = rgb(0x1f, 0x3f, 0x77);
    /// A light earthy red.
    pub const APRICOT: Rgb = rgb(0xe0, 0x7b, 0x39);

    /// Red, green and blue, 0 to 1.
    pub fn parts(self) -> [f32; 3] {
        [self.r, self.g, self.b].map(|v| f32::from(v) / 255.0)
    }
}

impl From<[u8; 3]> for Rgb {
    fn from([r, g, b]: [u8; 3]) -> Rgb {
        rgb(r, g, b)
    }
}

/// Written as `#rrggbb`.
impl fmt::Display for Rgb {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "#{:02x}{:02x}{:02x}", self.r, self.g, self.b)
    }
}

/// A colour made from another by adding some black or white.
///
/// The result is linear in the colour, so a picture can be recoloured by
/// arithmetic alone.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Tone(i8);

impl Tone {
    /// The colour itself.
    pub const PLAIN: Tone = Tone(0);

    /// With `percent` (0 to 100) black added.
    pub const fn dark(percent: i8) -> Tone {
        Tone(-percent)
    }

    /// With `percent` (0 to 100) white added.
    pub const fn light(percent: i8) -> Tone {
        Tone(percent)
    }

    /// Percentage of white (positive) or black (negative).
    pub const fn percent(self) -> i8 {
        self.0
    }

    /// The share of the colour that is kept, 0 to 1.
    pub fn keeps(self) -> f32 {
        1.0 - f32::from(self.0.unsigned_abs()) / 100.0
    }

    /// The amount added to each channel, 0 to 1.
    pub fn adds(self) -> f32 {
        f32::from(self.0.max(0)) / 100.0
    }

    /// The tone of a colour, channels 0 to 1.
    pub fn of(self, colour: Rgb) -> [f32; 3] {
        colour.parts().map(|v| v * self.keeps() + self.adds())
    }

    /// The tone of a colour, rounded to 8 bits.
    pub fn rgb(self, colour: Rgb) -> Rgb {
        let [r, g, b] = self.of(colour).map(|v| (v * 255.0).round() as u8);
        rgb(r, g, b)
    }
}
