//! Thread: how thick it is, from its size as lacemakers know it.

use std::fmt;
use std::str::FromStr;

use thiserror::Error;

/// Space that a gram of cotton or linen yarn takes, cubic centimetres.
/// Source: F. T. Peirce, "The geometry of cloth structure", Journal of the
/// Textile Institute 28, 1937.
const CM3_PER_GRAM: f64 = 1.1;
/// Wraps of a thread that suits torchon between two footside pins (common
/// practice, from memory: 10 to 12).
const WRAPS_BETWEEN_PINS: f64 = 12.0;

/// A thread of a given thickness.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Thread {
    diameter_mm: f64,
}

/// Why a text or number is no thread.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum ThreadError {
    /// Neither tex nor wraps per centimetre.
    #[error("`{0}` is not a thread size: write `30 wraps/cm` or `20 tex`")]
    NotASize(String),
    /// Thinner than 0.02 mm, thicker than 10 mm, or not a number.
    #[error("a thread of `{0}` cannot be worked: it must be 0.02 to 10 mm thick")]
    OutOfRange(String),
}

impl Thread {
    /// A thread of a mass in tex (grams per kilometre), round and packed as
    /// yarn is.
    ///
    /// # Errors
    /// Where the diameter is not within 0.02 to 10 mm.
    pub fn of_tex(tex: f64) -> Result<Thread, ThreadError> {
        // tex g/km = tex * 1e-3 mg/mm; 1.1 cm3/g = 1.1 mm3/mg.
        let area_mm2 = tex * 1e-3 * CM3_PER_GRAM;
        Thread::of_diameter((4.0 * area_mm2 / std::f64::consts::PI).sqrt(), || format!("{tex} tex"))
    }

    /// A thread of which so many wraps, lying close, cover a centimetre.
    ///
    /// # Errors
    /// Where the diameter is not within 0.02 to 10 mm.
    pub fn of_wraps_per_cm(wraps: f64) -> Result<Thread, ThreadError> {
        Thread::of_diameter(10.0 / wraps, || format!("{wraps} wraps/cm"))
    }

    /// The thread that suits a footside pin spacing in mm: twelve wraps lie
    /// between two pins.
    pub fn suiting(pin_spacing_mm: f64) -> Thread {
        Thread { diameter_mm: pin_spacing_mm / WRAPS_BETWEEN_PINS }
    }

    fn of_diameter(diameter_mm: f64, said: impl Fn() -> String) -> Result<Thread, ThreadError> {
        if (0.02..=10.0).contains(&diameter_mm) { Ok(Thread { diameter_mm }) } else { Err(ThreadError::OutOfRange(said())) }
    }

    /// Diameter in mm.
    pub fn diameter_mm(&self) -> f64 {
        self.diameter_mm
    }

    /// How many wraps, lying close, cover a centimetre.
    pub fn wraps_per_cm(&self) -> f64 {
        10.0 / self.diameter_mm
    }
}

impl FromStr for Thread {
    type Err = ThreadError;

    fn from_str(text: &str) -> Result<Thread, ThreadError> {
        let wrong = || ThreadError::NotASize(text.escape_debug().to_string());
        let text_trimmed = text.trim();
        let unit = text_trimmed.find(|c: char| c.is_alphabetic()).ok_or_else(wrong)?;
        let number: f64 = text_trimmed[..unit].trim().parse().map_err(|_| wrong())?;
        match text_trimmed[unit..].replace(' ', "").as_str() {
            "tex" => Thread::of_tex(number),
            "wraps/cm" => Thread::of_wraps_per_cm(number),
            _ => Err(wrong()),
        }
    }
}

impl fmt::Display for Thread {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:.3} mm ({:.0} wraps/cm)", self.diameter_mm, self.wraps_per_cm())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sizes_are_read_in_both_units() {
        assert!(("30 wraps/cm".parse::<Thread>().unwrap().diameter_mm() - 1.0 / 3.0).abs() < 1e-12);
        // 20 tex: area 0.022 mm2.
        assert!(("20tex".parse::<Thread>().unwrap().diameter_mm() - 0.167_364).abs() < 1e-5);
        for wrong in ["", "30", "tex", "30 mm", "nan tex", "-3 tex", "1e9 tex", "0 wraps/cm"] {
            assert!(wrong.parse::<Thread>().is_err(), "{wrong}");
        }
    }
}
