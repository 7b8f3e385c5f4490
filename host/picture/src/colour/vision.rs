//! How colours are seen: how different two of them look, how well they stand
//! out, how colour-blind people see them, and how they look in a black and white
//! print.

use palette::color_difference::Ciede2000;
use palette::{IntoColor, Lab, LinSrgb, Srgb};

use crate::colour::{Rgb, rgb};

/// Two colours with a smaller [`difference`] are hard to tell apart in thread,
/// which is thin, lies in its own shadow and is seen from a distance. The bound
/// is our own (common practice, no source). It is far above the difference that
/// is just visible between two large areas side by side, about 2.3 by the older
/// formula of CIELAB 1976 (M. Mahy, L. Van Eycken, A. Oosterlinck, Color
/// Research and Application 19, 1994; from memory).
pub const TOLD_APART: f64 = 10.0;
/// A colour with a smaller [`contrast`] to the background hardly stands out from
/// it. The bound is our own (common practice, no source): half of the 3 that the
/// Web Content Accessibility Guidelines 2.2, criterion 1.4.11, ask for small
/// signs. Lace covers a far larger area, and pale thread on pale linen is often
/// intended.
pub const STANDS_OUT: f64 = 1.5;

fn encoded(colour: Rgb) -> Srgb<f64> {
    Srgb::new(colour.r, colour.g, colour.b).into_format()
}

fn lab(colour: Rgb) -> Lab<palette::white_point::D65, f64> {
    encoded(colour).into_color()
}

/// L*, a* and b* of a colour (CIE 1976, D65).
pub fn cielab(colour: Rgb) -> [f64; 3] {
    let lab = lab(colour);
    [lab.l, lab.a, lab.b]
}

/// The perceived difference of two colours, CIEDE2000. Source: CIE 142-2001; G.
/// Sharma, W. Wu, E. N. Dalal, "The CIEDE2000 color-difference formula", Color
/// Research and Application 30, 2005.
pub fn difference(a: Rgb, b: Rgb) -> f64 {
    lab(a).difference(lab(b))
}

/// Contrast ratio of two colours, 1 to 21. Source: W3C, Web Content
/// Accessibility Guidelines 2.2, "contrast ratio", with the weights of red,
/// green and blue as written there, to four digits; `palette` takes them to
/// more, which moves the ratio by up to 0.002.
pub fn contrast(a: Rgb, b: Rgb) -> f64 {
    let [a, b] = [a, b].map(|colour| Vision::Grey.linear(colour)[0]);
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

/// A way of seeing colours.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Vision {
    /// Without the cones for red.
    Protan,
    /// Without the cones for green.
    Deutan,
    /// Without the cones for blue.
    Tritan,
    /// In black and white, as in a grey print: the light a colour reflects
    /// (relative luminance), without its hue.
    Grey,
}

impl Vision {
    /// Every kind.
    pub const ALL: [Vision; 4] = [Vision::Protan, Vision::Deutan, Vision::Tritan, Vision::Grey];

    /// The words that follow "as seen": `without the cones for red`.
    pub const fn words(self) -> &'static str {
        match self {
            Vision::Protan => "without the cones for red (protan)",
            Vision::Deutan => "without the cones for green (deutan)",
            Vision::Tritan => "without the cones for blue (tritan)",
            Vision::Grey => "in black and white",
        }
    }

    /// The matrix for linear red, green and blue. Source: G. M. Machado, M. M.
    /// Oliveira, L. A. F. Fernandes, "A Physiologically-based Model for
    /// Simulation of Color Vision Deficiency", IEEE Transactions on
    /// Visualization and Computer Graphics 15, 2009 (severity 1); for grey the
    /// weights of relative luminance, IEC 61966-2-1.
    pub const fn matrix(self) -> [[f64; 3]; 3] {
        match self {
            Vision::Protan => [
                [0.152286, 1.052583, -0.204868],
                [0.114503, 0.786281, 0.099216],
                [-0.003882, -0.048116, 1.051998],
            ],
            Vision::Deutan => [
                [0.367322, 0.860646, -0.227968],
                [0.280085, 0.672501, 0.047413],
                [-0.011820, 0.042940, 0.968881],
            ],
            Vision::Tritan => [
                [1.255528, -0.076749, -0.178779],
                [-0.078411, 0.930809, 0.147602],
                [0.004733, 0.691367, 0.303900],
            ],
            Vision::Grey => [[0.2126, 0.7152, 0.0722]; 3],
        }
    }

    /// A colour as seen, in linear light, channels clamped to 0 to 1.
    pub fn linear(self, colour: Rgb) -> [f64; 3] {
        let light: LinSrgb<f64> = encoded(colour).into_linear();
        self.matrix().map(|[r, g, b]| (r * light.red + g * light.green + b * light.blue).clamp(0.0, 1.0))
    }

    /// A colour as seen, rounded to 8 bits.
    ///
    /// The same on every machine: no 8-bit colour comes nearer than 4e-9 to a
    /// rounding boundary, while machines differ in powers by about 1e-12.
    pub fn sees(self, colour: Rgb) -> Rgb {
        let [r, g, b] = self.linear(colour);
        let seen: Srgb<u8> = Srgb::<f64>::from_linear(LinSrgb::new(r, g, b)).into_format();
        rgb(seen.red, seen.green, seen.blue)
    }
}

/// What is wrong with a set of colours.
#[derive(Clone, Debug, PartialEq)]
pub enum Confusion {
    /// Two colours are hard to tell apart.
    Alike {
        /// The positions of the two, counted from 0.
        colours: [usize; 2],
        /// Who confuses them: a single entry without a vision means everybody.
        seen: Vec<SeenAlike>,
    },
    /// A colour hardly stands out from the background.
    Faint {
        /// Its position, counted from 0.
        colour: usize,
        /// The [`contrast`] ratio, below [`STANDS_OUT`].
        contrast: f64,
    },
}

/// A confusion of two colours.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SeenAlike {
    /// Who confuses them; `None` means everybody.
    pub vision: Option<Vision>,
    /// Their [`difference`] as seen, below [`TOLD_APART`].
    pub difference: f64,
}

/// Everything wrong with colours on a background: at most one finding for each
/// pair of colours and one for each colour, in the order of the colours.
pub fn confusions(colours: &[Rgb], background: Rgb) -> Vec<Confusion> {
    let mut found = Vec::new();
    for (k, &a) in colours.iter().enumerate() {
        for (more, &b) in colours[k + 1..].iter().enumerate() {
            let plain = difference(a, b);
            let seen: Vec<SeenAlike> = if plain < TOLD_APART {
                vec![SeenAlike { vision: None, difference: plain }]
            } else {
                let by =
                    |v: Vision| SeenAlike { vision: Some(v), difference: difference(v.sees(a), v.sees(b)) };
                Vision::ALL.into_iter().map(by).filter(|seen| seen.difference < TOLD_APART).collect()
            };
            if !seen.is_empty() {
                found.push(Confusion::Alike { colours: [k, k + 1 + more], seen });
            }
        }
        let contrast = contrast(a, background);
        if contrast < STANDS_OUT {
            found.push(Confusion::Faint { colour: k, contrast });
        }
    }
    found
}

/// Rounds down, so that a number below a bound is not written as the bound.
fn tenths(value: f64) -> String {
    format!("{:.1}", (value * 10.0).floor() / 10.0)
}

impl Confusion {
    /// The finding as a sentence with the names of the colours, without a full stop.
    pub fn sentence(&self, names: &[String]) -> String {
        let name = |k: usize| names.get(k).map_or("a colour", String::as_str);
        match self {
            Confusion::Alike { colours: [a, b], seen } => {
                let (mut to, mut people) = (Vec::new(), Vec::new());
                let mut print = None;
                for SeenAlike { vision, difference } in seen {
                    let difference = tenths(*difference);
                    match vision {
                        None => to.push(format!("to everybody ({difference})")),
                        Some(Vision::Grey) => {
                            print = Some(format!("in a black and white print ({difference})"));
                        }
                        Some(vision) => people.push(format!("{} ({difference})", vision.words())),
                    }
                }
                if !people.is_empty() {
                    to.push(format!("to people {}", people.join(" or ")));
                }
                to.extend(print);
                format!(
                    "{} and {} look almost the same {}; {TOLD_APART} or more can be told apart",
                    name(*a),
                    name(*b),
                    to.join(" and ")
                )
            }
            Confusion::Faint { colour, contrast } => format!(
                "{} hardly stands out from the background (contrast {}; {STANDS_OUT} or more can be seen)",
                name(*colour),
                tenths(*contrast)
            ),
        }
    }
}
