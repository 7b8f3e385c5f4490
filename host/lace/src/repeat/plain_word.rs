//! Plain words: the form of names for stitches, grounds and choices in files and
//! options.

use crate::limits::MAX_WORD;

/// Whether a text is a plain word: 1 to [`MAX_WORD`] characters from `a-z`,
/// `0-9` and `-`, beginning with a letter or digit.
pub fn is_plain_word(text: &str) -> bool {
    let plain = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit();
    (1..=MAX_WORD).contains(&text.len())
        && text.starts_with(plain)
        && text.chars().all(|c| plain(c) || c == '-')
}
