//! Areas and paper sizes as users write them: `120x80` in millimetres, or the
//! name of a paper size.

use std::str::FromStr;

use picture::drawing::Size;
use picture::drawing::pricking::{MAX_AREA, Paper};
use thiserror::Error;

/// Width and height, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Area {
    /// Width, mm: more than 0, at most [`MAX_AREA`].
    pub width: f64,
    /// Height, mm: more than 0, at most [`MAX_AREA`].
    pub height: f64,
}

impl Area {
    /// Its size, mm.
    pub const fn size(self) -> Size {
        Size { width: self.width, height: self.height }
    }
}

/// Why a text is not an area.
#[derive(Debug, Error)]
pub enum AreaError {
    /// Not two numbers with an x between them.
    #[error("write width and height in mm with an x between them, for example 120x80")]
    NotTwoNumbers,
    /// Neither a paper name nor an area.
    #[error("give a4, letter or a3, or width and height in mm such as 200x250")]
    NoPaper,
    /// A side out of range.
    #[error("give 1 to {MAX_AREA} mm each way")]
    OutOfRange,
}

impl FromStr for Area {
    type Err = AreaError;

    fn from_str(text: &str) -> Result<Area, AreaError> {
        let (width, height) = text.split_once(['x', 'X', '\u{d7}']).ok_or(AreaError::NotTwoNumbers)?;
        let side = |text: &str| text.trim().parse::<f64>().map_err(|_| AreaError::NotTwoNumbers);
        let area = Area { width: side(width)?, height: side(height)? };
        let fits = |side: f64| (1.0..=MAX_AREA).contains(&side);
        if fits(area.width) && fits(area.height) { Ok(area) } else { Err(AreaError::OutOfRange) }
    }
}

/// A paper size, by name or as an [`Area`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PaperSize(pub Paper);

impl FromStr for PaperSize {
    type Err = AreaError;

    fn from_str(text: &str) -> Result<PaperSize, AreaError> {
        let paper = match text.to_ascii_lowercase().as_str() {
            "a4" => Paper::A4,
            "a3" => Paper::A3,
            "letter" => Paper::LETTER,
            _ => text.parse().map(|Area { width, height }| Paper { width, height }).map_err(|wrong| {
                if matches!(wrong, AreaError::NotTwoNumbers) { AreaError::NoPaper } else { wrong }
            })?,
        };
        Ok(PaperSize(paper))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn areas_are_two_numbers_in_range() {
        for text in ["120x80", "120 X 80", "120.0\u{d7}80"] {
            assert_eq!(text.parse::<Area>().unwrap(), Area { width: 120.0, height: 80.0 });
        }
        assert_eq!("Letter".parse::<PaperSize>().unwrap().0, Paper::LETTER);
        assert_eq!("200x250".parse::<PaperSize>().unwrap().0, Paper { width: 200.0, height: 250.0 });
        assert!("a44".parse::<PaperSize>().unwrap_err().to_string().contains("letter"));
        for wrong in ["", "120", "x", "120x", "0x80", "120x2001", "nanx80", "infx1", "-5x80", "1x2x3"] {
            assert!(wrong.parse::<Area>().is_err(), "{wrong}");
        }
    }
}
