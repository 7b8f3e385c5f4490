//! Spans of numbers as users write them: `3-6`, both ends included.

use std::str::FromStr;

use thiserror::Error;

/// A range of numbers, both ends included.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Span {
    /// The least, 0 or more.
    pub least: f64,
    /// The most; infinite if the span has no upper end.
    pub most: f64,
}

/// Why a text is not a span.
#[derive(Debug, Error)]
pub enum SpanError {
    /// Not two numbers with a hyphen between them.
    #[error(
        "write the least and the most with a hyphen between them, for example 3-6; 3- is 3 or more, 0-6 is 6 or less"
    )]
    NotTwoNumbers,
    /// The ends are the wrong way round.
    #[error("the smaller number comes first: write {most}-{least}")]
    Backwards {
        /// As typed.
        least: f64,
        /// As typed.
        most: f64,
    },
}

impl Span {
    /// Whether a number is in the span.
    pub fn holds(&self, number: f64) -> bool {
        (self.least..=self.most).contains(&number)
    }
}

impl std::fmt::Display for Span {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        if self.least == self.most {
            write!(f, "{}", self.least)
        } else if self.most.is_finite() {
            write!(f, "{}-{}", self.least, self.most)
        } else {
            write!(f, "{}-", self.least)
        }
    }
}

impl FromStr for Span {
    type Err = SpanError;

    fn from_str(text: &str) -> Result<Span, SpanError> {
        let number = |text: &str| -> Result<f64, SpanError> {
            // Signs, exponents and `inf` would parse, but nobody means them.
            let plain = text.chars().all(|c| c.is_ascii_digit() || c == '.');
            text.parse().ok().filter(|_| plain).ok_or(SpanError::NotTwoNumbers)
        };
        let (least, most) = match text.split_once(['-', '\u{2013}']) {
            None => (number(text.trim())?, number(text.trim())?),
            Some((least, most)) if most.trim().is_empty() => (number(least.trim())?, f64::INFINITY),
            Some((least, most)) => (number(least.trim())?, number(most.trim())?),
        };
        if least > most {
            return Err(SpanError::Backwards { least, most });
        }
        Ok(Span { least, most })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn spans_are_read_as_people_write_them() {
        for (text, least, most) in [
            ("3-6", 3.0, 6.0),
            ("2.5 - 6.25", 2.5, 6.25),
            ("3\u{2013}6", 3.0, 6.0),
            ("4", 4.0, 4.0),
            ("3-", 3.0, f64::INFINITY),
        ] {
            assert_eq!(text.parse::<Span>().unwrap(), Span { least, most }, "{text}");
        }
        let span: Span = "3-6".parse().unwrap();
        assert!(span.holds(3.0) && span.holds(6.0) && !span.holds(6.01) && !span.holds(2.99));
        assert_eq!(
            (span.to_string(), "3-".parse::<Span>().unwrap().to_string()),
            ("3-6".into(), "3-".into())
        );
    }

    #[test]
    fn other_texts_are_refused_with_a_remedy() {
        for text in ["", "-", "-6", "a-b", "3-6-9", "1e9-2", "inf", "nan-3", "+3-6"] {
            let message = text.parse::<Span>().unwrap_err().to_string();
            assert!(message.contains("for example 3-6"), "{text}: {message}");
        }
        assert_eq!(
            "6-3".parse::<Span>().unwrap_err().to_string(),
            "the smaller number comes first: write 3-6"
        );
    }
}
