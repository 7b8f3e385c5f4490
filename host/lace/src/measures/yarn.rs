//! Thread thickness, from the sizes lacemakers use.
//!
//! A lacemaker measures a thread by winding it on a ruler and counting the wraps in
//! a centimetre. So the thickness here, in which lace is drawn and counted, is the
//! width of one wrap. The bare thread is thinner, because wraps on a ruler lie
//! looser than a thread measured on its own ([`bare_diameter_mm`]).

use std::fmt;
use std::str::FromStr;

use thiserror::Error;

use crate::limits::THREAD_MM;
use crate::words::quote::quote;

/// Volume of a gram of cotton or linen yarn, in cubic centimetres.
/// Source: F. T. Peirce, "The geometry of cloth structure", Journal of the
/// Textile Institute 28, 1937.
const CM3_PER_GRAM: f64 = 1.1;
/// Diameter of the bare thread as a share of the width of a wrap on a ruler, so that
/// linen 80/2 has 30 wraps to the centimetre and 35/2 has 20, as in a worked example
/// of the trade: textileschool.com, page on the numbering of threads.
const BARE_IN_A_WRAP: f64 = 0.72;
/// Wraps of a thread that suits torchon between two footside pins (common
/// practice, from memory: 10 to 12).
const WRAPS_BETWEEN_PINS: f64 = 12.0;

/// A thread of a given thickness.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Thread {
    diameter_mm: f64,
}

/// Why a text or number is not a thread size.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum ThreadError {
    /// No number, or an unknown unit.
    #[error(
        "`{0}` is not a thread size: write `30 wraps/cm`, `20 tex`, `60/2 linen`, `80/2 cotton` or `0.3 mm`"
    )]
    NotASize(String),
    /// Outside [`THREAD_MM`], or not a number.
    #[error("a thread of `{0}` cannot be worked: it must be {min} to {max} mm thick", min = THREAD_MM[0], max = THREAD_MM[1])]
    OutOfRange(String),
}

/// A system in which threads are numbered by mass and length.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Count {
    /// `tex`: grams in a kilometre.
    Tex,
    /// `dtex`: grams in ten kilometres.
    Decitex,
    /// `denier`: grams in nine kilometres.
    Denier,
    /// `Nm`: kilometres in a kilogram.
    Metric,
    /// `cotton`: hanks of 840 yards in a pound.
    Cotton,
    /// `linen`: leas of 300 yards in a pound.
    Linen,
}

impl Count {
    /// Every system.
    pub const ALL: [Count; 6] =
        [Count::Tex, Count::Decitex, Count::Denier, Count::Metric, Count::Cotton, Count::Linen];

    /// How the system is written after a number.
    pub const fn word(self) -> &'static str {
        match self {
            Count::Tex => "tex",
            Count::Decitex => "dtex",
            Count::Denier => "denier",
            Count::Metric => "Nm",
            Count::Cotton => "cotton",
            Count::Linen => "linen",
        }
    }

    /// Tex of a thread with this number. [`Count::of_tex`] is the inverse.
    pub fn tex(self, number: f64) -> f64 {
        // A pound is 453.59237 g, a yard 0.9144 m, both exactly.
        let yards_in_a_pound = |yards: f64| 453.592_37 * 1000.0 / (yards * 0.9144);
        match self {
            Count::Tex => number,
            Count::Decitex => number / 10.0,
            Count::Denier => number / 9.0,
            Count::Metric => 1000.0 / number,
            Count::Cotton => yards_in_a_pound(840.0 * number),
            Count::Linen => yards_in_a_pound(300.0 * number),
        }
    }

    /// The number of a thread of this tex.
    pub fn of_tex(self, tex: f64) -> f64 {
        match self {
            Count::Tex | Count::Decitex | Count::Denier => tex / self.tex(1.0),
            Count::Metric | Count::Cotton | Count::Linen => self.tex(1.0) / tex,
        }
    }

    /// Whether a higher number means a finer thread, so that `60/2` is two plies of
    /// number 60.
    const fn finer_by_number(self) -> bool {
        matches!(self, Count::Metric | Count::Cotton | Count::Linen)
    }
}

impl Thread {
    /// A thread of a given tex (grams per kilometre), as thick as its wraps lie on a
    /// ruler.
    ///
    /// # Errors
    /// When the thickness is not within [`THREAD_MM`].
    pub fn of_tex(tex: f64) -> Result<Thread, ThreadError> {
        Thread::of_diameter(bare_diameter_mm(tex) / BARE_IN_A_WRAP, || format!("{tex} tex"))
    }

    /// A thread of which `wraps` wraps on a ruler cover a centimetre.
    ///
    /// # Errors
    /// When the diameter is not within [`THREAD_MM`].
    pub fn of_wraps_per_cm(wraps: f64) -> Result<Thread, ThreadError> {
        Thread::of_diameter(10.0 / wraps, || format!("{wraps} wraps/cm"))
    }

    /// The thread that suits a footside pin spacing in mm: twelve wraps fit between
    /// two pins.
    pub fn suiting(pin_spacing_mm: f64) -> Thread {
        Thread { diameter_mm: pin_spacing_mm / WRAPS_BETWEEN_PINS }
    }

    fn of_diameter(diameter_mm: f64, quoted: impl Fn() -> String) -> Result<Thread, ThreadError> {
        if (THREAD_MM[0]..=THREAD_MM[1]).contains(&diameter_mm) {
            Ok(Thread { diameter_mm })
        } else {
            Err(ThreadError::OutOfRange(quoted()))
        }
    }

    /// Thickness in mm: the width of one wrap on a ruler.
    pub fn diameter_mm(&self) -> f64 {
        self.diameter_mm
    }

    /// How many wraps on a ruler cover a length in mm.
    pub fn wraps_in(&self, mm: f64) -> f64 {
        mm / self.diameter_mm
    }

    /// How many wraps on a ruler cover a centimetre.
    pub fn wraps_per_cm(&self) -> f64 {
        10.0 / self.diameter_mm
    }
}

/// Diameter in mm of a bare thread of this tex, taken as round and as dense as yarn
/// (F. T. Peirce, "The geometry of cloth structure", 1937).
pub fn bare_diameter_mm(tex: f64) -> f64 {
    // tex g/km = tex * 1e-3 mg/mm; 1.1 cm3/g = 1.1 mm3/mg.
    let area_mm2 = tex * 1e-3 * CM3_PER_GRAM;
    (4.0 * area_mm2 / std::f64::consts::PI).sqrt()
}

impl FromStr for Thread {
    type Err = ThreadError;

    fn from_str(text: &str) -> Result<Thread, ThreadError> {
        let quoted = || quote(text.trim());
        let wrong = || ThreadError::NotASize(quoted());
        let (size, unit) = text.trim().split_at(text.trim().find(char::is_alphabetic).ok_or_else(wrong)?);
        let (size, plies) = match size.trim().split_once('/') {
            Some((size, plies)) => {
                (size, Some(plies.parse::<u8>().ok().filter(|&n| n > 0).ok_or_else(wrong)?))
            }
            None => (size, None),
        };
        let size: f64 = size.trim().parse().map_err(|_| wrong())?;
        let count = Count::ALL.into_iter().find(|c| c.word().eq_ignore_ascii_case(unit));
        match (unit.replace(' ', "").as_str(), count, plies) {
            (_, Some(count), None) => Thread::of_tex(count.tex(size)),
            (_, Some(count), Some(plies)) if count.finer_by_number() => {
                Thread::of_tex(count.tex(size) * f64::from(plies))
            }
            ("wraps/cm", _, None) => Thread::of_wraps_per_cm(size),
            ("mm", _, None) => Thread::of_diameter(size, quoted),
            _ => return Err(wrong()),
        }
        .map_err(|_| ThreadError::OutOfRange(quoted()))
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
    fn sizes_are_read_as_lacemakers_write_them() {
        assert!(("30 wraps/cm".parse::<Thread>().unwrap().diameter_mm() - 1.0 / 3.0).abs() < 1e-12);
        // 20 tex: area 0.022 mm2, so 0.167 mm bare.
        assert!((bare_diameter_mm(20.0) - 0.167_364).abs() < 1e-5);
        let wrap = "20tex".parse::<Thread>().unwrap().diameter_mm();
        assert!((BARE_IN_A_WRAP * wrap - bare_diameter_mm(20.0)).abs() < 1e-12);
        // Two plies of number 60 are as thick as one of number 30.
        let size = |text: &str| text.parse::<Thread>().unwrap().diameter_mm();
        assert!((size("60/2 linen") - size("30 linen")).abs() < 1e-12);
        assert!((size("80/2 Cotton") - size("14.763531186 tex")).abs() < 1e-9);
        assert_eq!(size(" 0.3mm "), 0.3);
        for wrong in [
            "",
            "30",
            "tex",
            "30 mm",
            "nan tex",
            "-3 tex",
            "1e9 tex",
            "0 wraps/cm",
            "60/0 linen",
            "20/2 tex",
            "60/2",
        ] {
            let error = wrong.parse::<Thread>().unwrap_err().to_string();
            assert!(error.contains(&format!("`{wrong}`")), "{error}");
        }
    }
}
