//! Languages by their English names.

/// Tags of languages (ISO 639-1, as BCP 47 uses them) with their English names:
/// those of Europe, the home of bobbin lace, and some others it is taught in.
/// Names from memory, as in the IANA language subtag registry.
#[rustfmt::skip]
const LANGUAGES: &[(&str, &str)] = &[
    ("bg", "Bulgarian"), ("br", "Breton"), ("ca", "Catalan"), ("cs", "Czech"), ("cy", "Welsh"),
    ("da", "Danish"), ("de", "German"), ("el", "Greek"), ("en", "English"), ("es", "Spanish"),
    ("et", "Estonian"), ("eu", "Basque"), ("fi", "Finnish"), ("fr", "French"), ("fy", "Western Frisian"),
    ("ga", "Irish"), ("gl", "Galician"), ("hr", "Croatian"), ("hu", "Hungarian"), ("is", "Icelandic"),
    ("it", "Italian"), ("ja", "Japanese"), ("la", "Latin"), ("lb", "Luxembourgish"), ("lt", "Lithuanian"),
    ("lv", "Latvian"), ("mk", "Macedonian"), ("mt", "Maltese"), ("nb", "Norwegian Bokmål"), ("nl", "Dutch"),
    ("nn", "Norwegian Nynorsk"), ("no", "Norwegian"), ("pl", "Polish"), ("pt", "Portuguese"),
    ("ro", "Romanian"), ("ru", "Russian"), ("sk", "Slovak"), ("sl", "Slovenian"), ("sq", "Albanian"),
    ("sr", "Serbian"), ("sv", "Swedish"), ("tr", "Turkish"), ("uk", "Ukrainian"), ("zh", "Chinese"),
];

/// A language tag in words: `German`, or `German (de-AT)` for a longer tag; the
/// tag itself if its name is unknown.
pub fn in_words(tag: &str) -> String {
    let (first, more) = tag.split_once('-').map_or((tag, false), |(first, _)| (first, true));
    let found = LANGUAGES.iter().find(|(language, _)| language.eq_ignore_ascii_case(first));
    match found {
        Some((_, name)) if more => format!("{name} ({tag})"),
        Some((_, name)) => (*name).to_owned(),
        None => tag.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn languages_have_their_english_names_or_stay_tags() {
        assert_eq!(in_words("de"), "German");
        assert_eq!(in_words("FR"), "French");
        assert_eq!(in_words("de-AT"), "German (de-AT)");
        assert_eq!(in_words("nds"), "nds");
        assert_eq!(in_words("deutsch"), "deutsch");
        assert!(LANGUAGES.windows(2).all(|two| two[0].0 < two[1].0), "in order, each once");
    }
}
