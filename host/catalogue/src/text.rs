//! Texts from outside are data: they are made harmless before anything else sees
//! them.

use std::path::Path;

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

/// The text with its lines and spaces as they are, and a question mark for every
/// character that [`clean`] would take away.
pub fn harmless(text: &str) -> String {
    let kept = |c: char| matches!(c, '\n' | '\t') || !(c.is_control() || is_unseen(c) || is_line_end(c));
    text.chars().map(|c| if kept(c) { c } else { '?' }).collect()
}

/// Line and paragraph separator.
fn is_line_end(c: char) -> bool {
    matches!(c, '\u{2028}' | '\u{2029}')
}

/// The name of a file or folder in messages and pages. Names come from strangers
/// too, and systems allow nearly every character in them.
pub fn path_name(path: &Path) -> String {
    // As long as names can be on the usual systems.
    const CHARS: usize = 4096;
    clean_and_cut(&path.display().to_string(), CHARS)
}

/// Whether there is anything to see in the text: a character that is neither space
/// nor invisible, and not one of those that look like a space.
pub fn is_visible(text: &str) -> bool {
    text.chars().any(|c| !c.is_whitespace() && !c.is_control() && !is_unseen(c) && !looks_empty(c))
}

/// Characters that show nothing of their own (Unicode 16,
/// Default_Ignorable_Code_Point) but belong to some scripts, so that [`clean`]
/// leaves them: joiners, fillers of Hangul, vowels of Khmer, Mongolian and other
/// variation selectors, controls of musical notation and shorthand. The blank
/// pattern of Braille looks like a space.
fn looks_empty(c: char) -> bool {
    matches!(c,
        '\u{034F}' | '\u{115F}'..='\u{1160}' | '\u{17B4}'..='\u{17B5}' | '\u{180B}'..='\u{180F}'
        | '\u{200B}'..='\u{200F}' | '\u{2800}' | '\u{3164}' | '\u{FE00}'..='\u{FE0F}' | '\u{FFA0}'
        | '\u{FFF0}'..='\u{FFFC}' | '\u{1BCA0}'..='\u{1BCA3}' | '\u{1D159}' | '\u{1D173}'..='\u{1D17A}'
        | '\u{E0000}'..='\u{E0FFF}')
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
    fn texts_of_invisible_characters_are_known() {
        let unseen = "\u{AD}\u{34F}\u{61C}\u{115F}\u{1160}\u{17B4}\u{180B}\u{180E}\u{200B}\u{200C}\u{200D}\u{200E}\
            \u{202A}\u{202E}\u{2060}\u{2063}\u{2066}\u{206F}\u{2800}\u{3000}\u{3164}\u{FE0F}\u{FEFF}\u{FFA0}\u{FFF9}\
            \u{1D173}\u{E0001}\u{E0100} \t\n\u{7}\u{85}\u{A0}";
        for c in unseen.chars() {
            assert!(!is_visible(&c.to_string()), "{c:?}");
            assert!(is_visible(&format!("{c}a")), "{c:?}");
        }
        assert!(!is_visible(unseen) && !is_visible(""));
        for seen in ["a", ".", "\u{2801}", "न\u{200D}", "한", "✂\u{FE0F}", "\u{301}"] {
            assert!(is_visible(seen), "{seen:?}");
        }
    }

    #[test]
    fn lines_stay_where_they_are() {
        assert_eq!(harmless("a\tb\n  c\r\u{1b}[1m\u{2028}\u{202e}é"), "a\tb\n  c??[1m??é");
    }

    #[test]
    fn names_of_files_are_texts_like_others() {
        assert_eq!(path_name(Path::new("a/\u{1b}[31mred\nfile\u{202E}.toml")), "a/ [31mred file.toml");
        assert_eq!(path_name(Path::new(&"a".repeat(9000))).chars().count(), 4096);
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
