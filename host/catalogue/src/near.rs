//! Suggestions for mistyped names.

use crate::fold::fold;

/// The known word nearest to a mistyped one, if any is near enough.
pub fn nearest<'a>(word: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let distance = |k: &str| strsim::damerau_levenshtein(word, k);
    let (distance, best) = known.into_iter().map(|k| (distance(k), k)).min()?;
    (distance <= (word.chars().count().max(best.chars().count()) / 3).max(1)).then_some(best)
}

/// The names nearest to a misspelt one, nearest first, at most three. Case and
/// accents make no difference.
pub fn near_names<'a>(name: &str, known: impl IntoIterator<Item = &'a str>) -> Vec<&'a str> {
    let typed = fold(name);
    let mut near: Vec<(f64, &str)> = known
        .into_iter()
        .map(|k| (strsim::jaro_winkler(&typed, &fold(k)), k))
        .filter(|(likeness, _)| *likeness > 0.75)
        .collect();
    near.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(b.1)));
    near.into_iter().take(3).map(|(_, name)| name).collect()
}

/// A remedy as a sentence: the names nearest to a misspelt one, and where to find
/// a list of all.
pub fn suggest<'a>(name: &str, known: impl IntoIterator<Item = &'a str>, all: &str) -> String {
    did_you_mean(&near_names(name, known), all)
}

/// A remedy as a sentence: the names probably meant, and where to find a list of
/// all.
pub fn did_you_mean<N: AsRef<str>>(near: &[N], all: &str) -> String {
    if near.is_empty() {
        return all.to_owned();
    }
    let names: Vec<String> = near.iter().map(|name| format!("`{}`", name.as_ref())).collect();
    format!("did you mean {}? {all}", names.join(" or "))
}

/// Most names in a list in a message.
pub const MOST_NAMES: usize = 12;

/// Names in a list, separated by commas: the first of them, and how many more there
/// are.
pub fn listed<N: AsRef<str>>(names: impl IntoIterator<Item = N>) -> String {
    let mut names = names.into_iter();
    let mut list = String::new();
    for name in names.by_ref().take(MOST_NAMES) {
        if !list.is_empty() {
            list.push_str(", ");
        }
        list.push_str(name.as_ref());
    }
    match names.count() {
        0 => list,
        more => format!("{list} and {more} more"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn near_misses_are_found_and_far_ones_not() {
        assert_eq!(nearest("torchn", ["rose", "torchon"]), Some("torchon"));
        assert_eq!(nearest("stich", ["stitch", "twists"]), Some("stitch"));
        assert_eq!(nearest("xyzzy", ["stitch", "twists"]), None);
        assert_eq!(nearest("a", []), None);
    }

    #[test]
    fn long_lists_are_cut_and_the_rest_is_counted() {
        let names: Vec<String> = (1..=42).map(|n| n.to_string()).collect();
        assert_eq!(listed(&names[..0]), "");
        assert_eq!(listed(&names[..2]), "1, 2");
        assert_eq!(listed(&names[..12]), "1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12");
        assert_eq!(listed(&names), "1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12 and 30 more");
    }

    #[test]
    fn names_are_near_whatever_their_case_and_accents() {
        assert_eq!(near_names("TÖRCHON", ["rose", "torchon"]), ["torchon"]);
        assert_eq!(suggest("xyzzy", ["rose", "torchon"], "see the list"), "see the list");
        assert_eq!(suggest("roze", ["rose", "torchon"], "see the list"), "did you mean `rose`? see the list");
    }
}
