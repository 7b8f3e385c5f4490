//! The typeface that pages include, so that they look the same on every machine:
//! Source Sans Pro, cut down to European letters and the signs that pages use,
//! under the SIL Open Font License 1.1 and, as that licence requires, under
//! another name. `pages/fonts/subset.py` makes it.

use base64::Engine;
use base64::engine::general_purpose::STANDARD;

/// The files, by the names that `style.css` gives them, and their licence.
pub const FILES: [(&str, &[u8]); 3] = [
    ("fonts/pairwise-sans-regular.woff", include_bytes!("../pages/fonts/pairwise-sans-regular.woff")),
    ("fonts/pairwise-sans-semibold.woff", include_bytes!("../pages/fonts/pairwise-sans-semibold.woff")),
    ("fonts/licence.txt", include_bytes!("../pages/fonts/licence.txt")),
];

/// A style sheet for a page in a single file, with the typeface inside it. (The
/// copyright and the licence are in the font files themselves.)
pub fn inlined(style: &str) -> String {
    let faces = FILES.iter().filter(|(name, _)| name.ends_with(".woff"));
    faces.fold(style.to_owned(), |style, (name, bytes)| {
        style.replace(name, &format!("data:font/woff;base64,{}", STANDARD.encode(bytes)))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_style_sheet_that_stands_alone_names_no_file() {
        let style = crate::sources::STYLE;
        assert_eq!(style.matches("url(\"fonts/").count(), 2);
        let inlined = inlined(style);
        assert_eq!(inlined.matches("url(").count(), 2);
        assert_eq!(inlined.matches("url(\"data:font/woff;base64,d09GR").count(), 2);
    }
}
