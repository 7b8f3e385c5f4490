//! Text of unknown origin made safe to show in a message: no control characters,
//! no endless lines.

/// Longest text quoted in full, in characters.
const SHOWN: usize = 60;

/// The text with control characters escaped and cut at a fixed length, safe to
/// show in a message.
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
    fn control_characters_are_escaped() {
        assert_eq!(quote("a\u{1b}[2J"), "a\\u{1b}[2J");
        assert_eq!(quote(&"x".repeat(61)), format!("{}…", "x".repeat(60)));
        assert_eq!(quote("Spinne"), "Spinne");
    }
}
