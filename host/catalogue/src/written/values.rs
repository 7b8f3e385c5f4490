//! Numbers, lists and texts that are not what they should be.

use std::ops::Range;

use lace::quote;

use super::Mistake;

/// What a parser found, in plain words. It may have quoted a part of the text.
pub fn found(words: &str) -> &'static str {
    match words {
        words if words.starts_with("string") => "text in quotation marks",
        words if words.starts_with("integer") || words.starts_with("float") => "a number",
        words if words.starts_with("boolean") => "true or false",
        words if words.starts_with("sequence") => "a list in square brackets",
        words if words.starts_with("map") => "a part with names of its own",
        _ => "something else",
    }
}

/// What a parser expected, in plain words, and what to do; `written` is what stands
/// there.
pub fn needed(expected: &str, written: &str) -> (&'static str, String) {
    let bare = written.trim().trim_matches(['"', '\'']);
    let is_number = number_meant(bare).is_some();
    match expected {
        "f64" | "i64" | "u32" | "usize" if is_number => {
            ("a number", format!("write {} without quotation marks", quote(bare)))
        }
        "f64" | "i64" | "u32" | "usize" => ("a number", "write a number".to_owned()),
        "a string" if is_number => ("text", format!("write \"{}\", in quotation marks", quote(bare))),
        "a string" => ("text", "write one text in quotation marks".to_owned()),
        "an array of length 2" => {
            ("a pair of numbers", "write two numbers in square brackets: [0, 0]".to_owned())
        }
        "a sequence" => ("a list", "write square brackets round it".to_owned()),
        _ => ("a part with names of its own", "write it as { name = value }".to_owned()),
    }
}

/// A list of numbers that is too short or too long.
pub fn wrong_length(text: &str, at: Range<usize>, length: usize) -> Mistake {
    let inner = text.get(at.clone()).unwrap_or_default().trim().trim_start_matches('[').trim_end_matches(']');
    let numbers: Vec<&str> = inner.split(',').map(str::trim).filter(|number| !number.is_empty()).collect();
    let remedy = match numbers.as_slice() {
        [one] if one.contains('.') => {
            let (whole, part) = one.split_once('.').unwrap_or((one, "0"));
            format!("write a comma between the two: [{}, {}]", quote(whole), quote(part))
        }
        [one] => format!("write both, as in [{}, 0]", quote(one)),
        [_, _, _, ..] => "write two; a part of a number follows a point, not a comma: 1.5".to_owned(),
        _ => "write both, as in [0, 0]".to_owned(),
    };
    let are = if length == 1 { "is 1 number".to_owned() } else { format!("are {length} numbers") };
    Mistake::new(at, format!("here {are}, and 2 are needed"), remedy)
}

/// What is wrong with a word that should be a number, and what to do; `None` if it
/// is one.
pub fn no_number(word: &str) -> Option<(String, String)> {
    let plain = |word: &str| word.parse::<f64>().is_ok() && is_toml_number(word);
    if plain(word) || ["true", "false"].contains(&word) {
        return None;
    }
    let sentence = format!("`{}` is no number", quote(word));
    let remedy = match number_meant(word) {
        Some(meant) => format!("write {meant}"),
        None => "write digits, a point for parts, and - before what is less than 0".to_owned(),
    };
    Some((sentence, remedy))
}

/// Whether TOML reads a word that Rust reads as a number: digits on both sides of a
/// point, and no 0 in front.
fn is_toml_number(word: &str) -> bool {
    let digits = word.trim_start_matches(['+', '-']);
    let signs = word.len() - digits.len();
    let whole = digits.split(['.', 'e', 'E']).next().unwrap_or_default();
    let zero_first = whole.len() > 1 && whole.starts_with('0');
    signs <= 1 && !whole.is_empty() && !zero_first && !digits.ends_with('.') && !digits.contains(".e")
}

/// The number that was probably meant.
pub fn number_meant(word: &str) -> Option<String> {
    let word: String = word
        .chars()
        .map(|c| if "\u{2212}\u{2013}\u{2014}\u{2012}\u{2010}\u{2011}".contains(c) { '-' } else { c })
        .collect();
    if let Some((one, other)) = word.split_once('/') {
        let (one, other): (f64, f64) = (one.parse().ok()?, other.parse().ok()?);
        return (other != 0.0).then(|| lace::number(one / other));
    }
    let end = word.trim_end_matches(|c: char| !c.is_ascii_digit());
    let number: f64 = end.parse().ok()?;
    number.is_finite().then(|| lace::number(number))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_number_meant_is_guessed() {
        for (word, meant) in [
            ("-2.", Some("-2")),
            ("\u{2212}3", Some("-3")),
            (".5", Some("0.5")),
            ("1/2", Some("0.5")),
            ("45\u{b0}", Some("45")),
            ("05", Some("5")),
            ("two", None),
            ("1/0", None),
            ("", None),
        ] {
            assert_eq!(number_meant(word).as_deref(), meant, "{word}");
        }
        for good in ["0", "-2", "1.5", "+3", "1e3"] {
            assert_eq!(no_number(good), None, "{good}");
        }
        for bad in ["-2.", ".5", "05", "--2", "1/2", "2x"] {
            assert!(no_number(bad).is_some(), "{bad}");
        }
    }
}
