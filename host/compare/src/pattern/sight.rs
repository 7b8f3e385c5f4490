//! What is measured of the colours that are seen on the ground of another, or side by
//! side: how strong their stripes are in each direction, and how they stand out.

use super::BOUNDS;
use super::area::ColoursSeen;
use super::fourier::Complex;
use super::waves::{DIRECTIONS, Spectrum, Waves};

/// Shares of all differences, by direction.
pub type Shares = [f64; DIRECTIONS];

/// What is measured. Each measure is taken of all colours that make the pattern.
pub struct Sight {
    /// How pure they are: the standard deviation of their share, relative to that of
    /// pure colours.
    pub purity: f64,
    /// How they differ from an even mix, relative to how the ground itself differs
    /// from place to place.
    pub stands_out: f64,
    /// How closely a colour keeps to where the lace is dense: the greatest correlation.
    pub dense: f64,
    /// Strength of the strongest direction: the standard deviation of colours,
    /// relative to that of pure ones, times its share.
    pub strongest: f64,
    /// How far colours rise above their mean and fall below it: the skewness.
    pub skewness: f64,
    /// How much is left of all differences from farther away.
    pub coarse: f64,
    /// Close by, and from farther away.
    pub near: Shares,
    /// See above.
    pub far: Shares,
    /// How stripes down the lace swing.
    pub swings: Swings,
}

/// How stripes straight down swing from side to side.
#[derive(Clone, Copy, Default)]
pub struct Swings {
    /// How far their places swing: the standard deviation of the phase.
    pub places: f64,
    /// How much their strength changes along them, in the same measure.
    pub strength: f64,
    /// What part of all differences they are.
    pub share: f64,
}

/// A colour on its own.
struct Colour {
    /// Its share of all thread.
    share: f64,
    /// How much of it there is of each wave.
    ink: Spectrum,
    /// The same of what it differs from its share of the thread at each place.
    differs: Spectrum,
    /// The variance of that.
    variance: f64,
}

/// Real part of one number times another one's conjugate.
fn along([a, b]: Complex, [c, d]: Complex) -> f64 {
    a * c + b * d
}

/// For each wave, how much of its power is left when the eye blends over so many
/// grid steps.
fn left(waves: &Waves, blend: f64) -> Vec<f64> {
    let turn = 2.0 * std::f64::consts::PI * blend;
    waves.all.iter().map(|wave| libm::exp(-turn * turn * wave.fine)).collect()
}

/// The power of waves.
fn power(spectrum: &Spectrum, left: &[f64]) -> f64 {
    spectrum.iter().zip(left).map(|(&value, left)| 2.0 * along(value, value) * left).sum()
}

/// Mean and standard deviation, and skewness, of values.
fn moments(values: &[f64]) -> [f64; 3] {
    let count = values.len() as f64;
    let mean = values.iter().sum::<f64>() / count;
    let (mut squares, mut cubes) = (0.0, 0.0);
    for value in values {
        let by = value - mean;
        squares += by * by;
        cubes += by * by * by;
    }
    let deviation = (squares / count).sqrt();
    let skewness = if deviation > 0.0 { cubes / count / (deviation * deviation * deviation) } else { 0.0 };
    [mean, deviation, skewness]
}

impl Sight {
    /// Measures colours; nothing, if there is no difference between places.
    pub fn new(seen: &ColoursSeen) -> Option<Sight> {
        let waves = Waves::new(seen.area);
        let (colours, thread) = colours(seen, &waves);
        let [near, middle, far] = BOUNDS.blends.map(|blend| left(&waves, blend));
        let makes: Vec<usize> = (0..colours.len())
            .filter(|&colour| (1e-9..=BOUNDS.commonest).contains(&colours[colour].share))
            .collect();
        let sum = |of: &dyn Fn(usize) -> f64| makes.iter().map(|&colour| of(colour)).sum::<f64>();
        let pure = sum(&|k| colours[k].share * (1.0 - colours[k].share));
        let weights: Vec<f64> = colours.iter().map(|colour| power(&colour.ink, &near)).collect();
        let weight = sum(&|k| weights[k]);
        if weight <= 1e-12 || pure <= 0.0 {
            return None;
        }
        let directions = |left: &[f64]| {
            let mut shares = [0.0; DIRECTIONS];
            for &colour in &makes {
                for ((wave, &value), left) in waves.all.iter().zip(&colours[colour].ink).zip(left) {
                    shares[wave.direction] += 2.0 * along(value, value) * left;
                }
            }
            shares
        };
        let part = |powers: Shares| powers.map(|power| power / powers.iter().sum::<f64>().max(1e-300));
        let blended = directions(&middle);
        let mean = |of: &dyn Fn(usize) -> f64| sum(&|k| weights[k] * of(k)) / weight;
        let texture = power(&thread, &near);
        let swings: Vec<Swings> =
            colours.iter().map(|colour| Swings::new(&waves, &colour.differs, &near)).collect();
        let moments: Vec<[f64; 3]> = seen.ink.iter().map(|ink| moments(ink)).collect();
        let variance: f64 = colours.iter().map(|colour| colour.variance).sum();
        Some(Sight {
            purity: mean(&|k| {
                let share = colours[k].share;
                self::moments(&seen.near[k])[1] / (share * (1.0 - share)).sqrt()
            })
            .min(1.0),
            stands_out: (sum(&|k| power(&colours[k].differs, &near))
                / (texture * sum(&|k| colours[k].share * colours[k].share)).max(1e-12))
            .sqrt(),
            dense: makes
                .iter()
                .map(|&k| correlation(&colours[k].differs, &thread, &near))
                .fold(0.0, f64::max),
            strongest: (blended.iter().sum::<f64>() / pure).sqrt()
                * part(blended).iter().copied().fold(0.0, f64::max),
            skewness: mean(&|k| moments[k][2]),
            coarse: (colours.iter().map(|colour| power(&colour.differs, &far)).sum::<f64>()
                / variance.max(1e-12))
            .sqrt(),
            near: part(directions(&near)),
            far: part(directions(&far)),
            swings: Swings {
                places: mean(&|k| swings[k].places),
                strength: mean(&|k| swings[k].strength),
                share: mean(&|k| swings[k].share),
            },
        })
    }
}

/// The colours, and how much thread there is of each wave. What is seen at a place
/// is relative to the mean of all places.
fn colours(seen: &ColoursSeen, waves: &Waves) -> (Vec<Colour>, Spectrum) {
    let places = seen.area.places();
    let all: Vec<f64> = (0..places).map(|at| seen.ink.iter().map(|ink| ink[at]).sum()).collect();
    let mean = (all.iter().sum::<f64>() / places as f64).max(1e-300);
    let spectra: Vec<Spectrum> = seen
        .ink
        .iter()
        .map(|ink| waves.spectrum(&ink.iter().map(|value| value / mean).collect::<Vec<f64>>()))
        .collect();
    let thread: Spectrum = (0..waves.all.len())
        .map(|k| spectra.iter().fold([0.0, 0.0], |[a, b], of| [a + of[k][0], b + of[k][1]]))
        .collect();
    let colour = |(ink, spectrum): (&Vec<f64>, Spectrum)| {
        let share = ink.iter().sum::<f64>() / places as f64 / mean;
        let by = |(ink, all): (&f64, &f64)| (ink - share * all) / mean;
        Colour {
            share,
            differs: spectrum
                .iter()
                .zip(&thread)
                .map(|(a, b)| [a[0] - share * b[0], a[1] - share * b[1]])
                .collect(),
            variance: ink.iter().zip(&all).map(by).map(|by| by * by).sum::<f64>() / places as f64,
            ink: spectrum,
        }
    };
    (seen.ink.iter().zip(spectra).map(colour).collect(), thread)
}

/// How closely a colour follows the thread.
fn correlation(colour: &Spectrum, thread: &Spectrum, left: &[f64]) -> f64 {
    let both: f64 =
        colour.iter().zip(thread).zip(left).map(|((&a, &b), left)| 2.0 * along(a, b) * left).sum();
    let alone = (power(colour, left) * power(thread, left)).sqrt();
    if alone > 1e-12 { both / alone } else { 0.0 }
}

impl Swings {
    /// How the strongest stripes straight down swing.
    fn new(waves: &Waves, differs: &Spectrum, left: &[f64]) -> Swings {
        let values: Spectrum =
            differs.iter().zip(left).map(|(&value, left)| value.map(|part| part * left.sqrt())).collect();
        let strength = |k: usize| along(values[k], values[k]);
        let mut best: Option<usize> = None;
        for k in (0..values.len()).filter(|&k| waves.all[k].down == 0) {
            if strength(k) > best.map_or(1e-12, |best| strength(best) * (1.0 + 1e-9)) {
                best = Some(k);
            }
        }
        let Some(straight) = best else { return Swings::default() };
        let same: Vec<usize> =
            (0..values.len()).filter(|&k| waves.all[k].across == waves.all[straight].across).collect();
        let all: f64 = (0..values.len()).map(strength).sum();
        // Waves that lean to either side alike, in the order of how far: the sum and
        // the difference tell how strength and place change.
        let (mut places, mut changes) = (0.0, 0.0);
        for (&left, &right) in same.iter().zip(same.iter().rev()).take(same.len() / 2) {
            let [left, right] = [left, right].map(|k| divided(values[k], values[straight]));
            places += square(left[0] - right[0]) + square(left[1] + right[1]);
            changes += square(left[0] + right[0]) + square(left[1] - right[1]);
        }
        Swings {
            places: (places / 2.0).sqrt(),
            strength: (changes / 2.0).sqrt(),
            share: same.iter().map(|&k| strength(k)).sum::<f64>() / all,
        }
    }
}

fn square(value: f64) -> f64 {
    value * value
}

fn divided([a, b]: Complex, by: Complex) -> Complex {
    let square = along(by, by);
    [(a * by[0] + b * by[1]) / square, (b * by[0] - a * by[1]) / square]
}
