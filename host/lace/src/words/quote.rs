//! Text of unknown origin made fit for a message: no control characters, no
//! endless lines.

/// Longest text quoted in full, in characters.
const SHOWN: usize = 60;

/// The text with control characters spelt out and a long rest cut off: fit to
/// stand in a message.
pub fn quote(text: &str) -> String {
    let mut shown: String = text.chars().take(SHOWN).flat_map(char::escape_debug).collect();
    if text.chars().nth(SHOWN).is_some() {
        shown.push('…');
    }
    shown
}

#[cfg(test)]
mod tests {
    use super::quote;

    #[test]
    fn what_a_terminal_would_obey_is_spelt_out() {
        assert_eq!(quote("a\u{1b}[2J"), "a\\u{1b}[2J");
        assert_eq!(quote(&"x".repeat(61)), format!("{}…", "x".repeat(60)));
        assert_eq!(quote("Spinne"), "Spinne");
    }
}
