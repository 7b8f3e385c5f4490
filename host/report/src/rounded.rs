//! Measures rounded for reading.

/// To four decimals: more say nothing about lace.
pub(crate) fn rounded(value: f64) -> f64 {
    (value * 10_000.0).round() / 10_000.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn measures_have_four_decimals() {
        assert_eq!(rounded(0.123_456), 0.1235);
        assert_eq!(rounded(-2.000_04), -2.0);
    }
}
