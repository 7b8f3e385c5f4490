//! Ids as users choose them: plain words that can name files.

use catalogue::text::{clean_and_cut, is_device, is_plain_word};

use crate::failure::Failure;

/// Refuses what cannot be an id, and suggests what probably was meant.
pub fn check(id: &str) -> Result<(), Failure> {
    if !is_plain_word(id) {
        return Err(Failure::Value {
            what: format!("`{}` is not a plain word", clean_and_cut(id, 80)),
            help: format!(
                "write the letters a to z, digits and -, a letter or digit first, at most 40 of them{}",
                plain(id).map_or_else(String::new, |word| format!("; for example `{word}`"))
            ),
        });
    }
    if is_device(id) {
        return Err(Failure::Value {
            what: format!("`{id}` is the name of a device on some systems, so no file can have it"),
            help: format!("choose another, for example `my-{id}`"),
        });
    }
    Ok(())
}

/// The plain word that was probably meant.
fn plain(name: &str) -> Option<String> {
    let ascii = deunicode::deunicode(name).to_ascii_lowercase();
    let words = ascii.split(|c: char| !c.is_ascii_alphanumeric()).filter(|word| !word.is_empty());
    let word = words.collect::<Vec<_>>().join("-");
    is_plain_word(&word).then_some(word)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn plain_words_are_suggested() {
        assert_eq!(plain("My Filling").as_deref(), Some("my-filling"));
        assert_eq!(plain("Häkchen / Grund_2").as_deref(), Some("hakchen-grund-2"));
        assert_eq!(plain("../.."), None);
        assert!(check("4-pin-rose").is_ok() && check("Rose").is_err() && check("con").is_err());
    }
}
