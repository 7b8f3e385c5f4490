//! Texts from outside are data: they are made harmless before anything else sees
//! them.

pub use lace::is_plain_word;

/// The text on one line, without control characters, bidirectional controls and
/// invisible characters; runs of white space become one space, and both ends are
/// trimmed. Markup is left as it is: writers of HTML and SVG escape it.
pub fn clean(text: &str) -> String {
    let mut cleaned = String::with_capacity(text.len());
    for c in text.chars() {
        if c.is_whitespace() || c.is_control() {
            if !cleaned.ends_with(' ') && !cleaned.is_empty() {
                cleaned.push(' ');
            }
        } else if !is_unseen(c) {
            cleaned.push(c);
        }
    }
    cleaned.truncate(cleaned.trim_end().len());
    cleaned
}

/// Like [`clean`], but cut to at most `chars` characters, the last of them `…` if
/// anything was cut.
pub fn clean_and_cut(text: &str, chars: usize) -> String {
    // Cleaning never adds characters, so the rest of a long text can be skipped.
    let head: String = text.chars().take(chars * 4).collect();
    let cleaned = clean(&head);
    if cleaned.chars().count() <= chars && head.len() == text.len() {
        return cleaned;
    }
    let mut cut: String = cleaned.chars().take(chars - 1).collect();
    cut.push('…');
    cut
}

/// Bidirectional controls (Unicode 16, Bidi_Control) and invisible characters:
/// zero-width space and joiner marks, byte order mark, invisible operators,
/// interlinear annotation, tags. The zero-width joiners U+200C and U+200D stay:
/// some languages are spelt with them.
fn is_unseen(c: char) -> bool {
    matches!(c,
        '\u{061C}' | '\u{200B}' | '\u{200E}' | '\u{200F}' | '\u{202A}'..='\u{202E}'
        | '\u{2060}'..='\u{206F}' | '\u{FEFF}' | '\u{FFF9}'..='\u{FFFB}' | '\u{E0000}'..='\u{E007F}'
        | '\u{00AD}' | '\u{180E}')
}

/// Whether some systems forbid this plain word as a file name, with any extension
/// (Microsoft, "Naming Files, Paths, and Namespaces").
pub fn is_device(word: &str) -> bool {
    let numbered = |port: &str| port.len() == 1 && port.starts_with(|c: char| c.is_ascii_digit());
    matches!(word, "con" | "prn" | "aux" | "nul")
        || word.strip_prefix("com").or_else(|| word.strip_prefix("lpt")).is_some_and(numbered)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn texts_lose_what_could_do_harm() {
        assert_eq!(clean("  plain \t\r\n text \n"), "plain text");
        assert_eq!(clean("\u{1b}[31mred\u{7}\0"), "[31mred");
        assert_eq!(clean("ab\u{202E}cd\u{2066}e\u{200B}\u{FEFF}f\u{E0041}"), "abcdef");
        assert_eq!(clean("a\u{85}b\u{9b}c\u{2028}d"), "a b c d");
        assert_eq!(
            clean("Schneeberger Grund, «fond à la Vierge», <b>"),
            "Schneeberger Grund, «fond à la Vierge», <b>"
        );
        assert_eq!(clean("\u{200E}"), "");
    }

    #[test]
    fn long_texts_are_cut_between_characters() {
        assert_eq!(clean_and_cut("ééééé", 5), "ééééé");
        assert_eq!(clean_and_cut("éééééé", 5), "éééé…");
        assert_eq!(clean_and_cut(&" ".repeat(100), 5).chars().count(), 1);
    }

    #[test]
    fn ids_are_plain_words() {
        for good in ["rose", "4-pin", "a", &"a".repeat(40)] {
            assert!(is_plain_word(good), "{good}");
        }
        for bad in ["", "-rose", "Rose", "rose ground", "rosé", "../rose", "rose\n", "ro_se", &"a".repeat(41)]
        {
            assert!(!is_plain_word(bad), "{bad:?}");
        }
    }

    #[test]
    fn names_of_devices_are_known() {
        for device in ["con", "prn", "aux", "nul", "com1", "com9", "lpt1", "lpt0"] {
            assert!(is_device(device), "{device}");
        }
        for word in ["cone", "com", "com10", "lpt", "lpt1-a", "auxiliary", "null", "rose", "comb", "1"] {
            assert!(!is_device(word), "{word}");
        }
    }
}
