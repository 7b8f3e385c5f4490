//! Folding names for comparison: names that differ only in case, accents, spaces
//! and hyphens are the same.

/// The name in lower-case letters and digits without accents, and nothing else:
/// `Tønder` becomes `tonder`, `fond à la vierge` becomes `fondalavierge`.
pub fn fold(name: &str) -> String {
    deunicode::deunicode(name)
        .chars()
        .filter(char::is_ascii_alphanumeric)
        .map(|c| c.to_ascii_lowercase())
        .collect()
}

/// Whether two names are the same after folding.
pub fn same(one: &str, other: &str) -> bool {
    fold(one) == fold(other)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn case_accents_and_hyphens_fall_away() {
        for (name, folded) in [
            ("Tüllgrund", "tullgrund"),
            ("Tu\u{308}llgrund", "tullgrund"),
            ("Tønder", "tonder"),
            ("fond à la Vierge", "fondalavierge"),
            ("half-stitch 2", "halfstitch2"),
            ("Großer Grund", "grossergrund"),
            (" - ", ""),
        ] {
            assert_eq!(fold(name), folded, "{name}");
        }
        assert!(same("ROSE", "rosé") && !same("rose", "roses"));
    }
}
