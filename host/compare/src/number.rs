//! Numbers as people read them.

/// A whole number with commas: `2,420`.
pub fn with_commas(number: u128) -> String {
    let digits = number.to_string();
    let mut text = String::new();
    for (k, digit) in digits.chars().enumerate() {
        if k > 0 && (digits.len() - k).is_multiple_of(3) {
            text.push(',');
        }
        text.push(digit);
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_written_in_threes() {
        for (number, text) in [(7, "7"), (420, "420"), (2420, "2,420"), (1_234_567, "1,234,567")] {
            assert_eq!(with_commas(number), text);
        }
    }
}
