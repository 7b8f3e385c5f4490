//! Numbers formatted for people.

/// A number with at most two decimals and no trailing zeros: `3`, `1.5`, `0.33`.
pub fn number(value: f64) -> String {
    number_to(value, 2)
}

/// A number with at most `decimals` decimals and no trailing zeros.
pub fn number_to(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    let short = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    if short == "-0" { "0".to_owned() } else { short.to_owned() }
}

/// A number with the word for what it counts: `1 stitch`, `4 stitches`.
pub fn count(n: usize, one: &str, many: &str) -> String {
    format!("{n} {}", if n == 1 { one } else { many })
}

/// `once`, `twice`, `three times`.
pub(crate) fn times(n: usize) -> String {
    match n {
        1 => "once".to_owned(),
        2 => "twice".to_owned(),
        n => format!("{} times", spelt(n)),
    }
}

/// The numbers that are written as words, from one up.
const SPELT: [&str; 12] =
    ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];

/// A whole number, as a word up to twelve.
pub(crate) fn spelt(n: usize) -> String {
    n.checked_sub(1).and_then(|k| SPELT.get(k)).map_or_else(|| n.to_string(), ToString::to_string)
}

/// Parses a whole number, in digits or as a word: `3`, `three`, `a`.
pub(crate) fn read_spelt(word: &str) -> Option<usize> {
    let spelt = SPELT.iter().position(|w| *w == word).map(|k| k + 1);
    spelt.or_else(|| (word == "a").then_some(1)).or_else(|| word.parse().ok())
}

/// `3`, `3 and 7`, `1, 3 and 7`.
pub(crate) fn listed(words: &[String]) -> String {
    match words {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

/// Numbers in rising order, three or more that follow each other as `4 to 6`.
pub(crate) fn in_runs(numbers: &[usize]) -> Vec<String> {
    let runs = numbers.chunk_by(|a, b| a + 1 == *b);
    runs.flat_map(|run| match run {
        [first, _, .., last] => vec![format!("{first} to {last}")],
        few => few.iter().map(ToString::to_string).collect(),
    })
    .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_short() {
        for (value, text) in
            [(3.0, "3"), (1.5, "1.5"), (1.0 / 3.0, "0.33"), (100.0, "100"), (-0.001, "0"), (-2.5, "-2.5")]
        {
            assert_eq!(number(value), text);
        }
        assert_eq!(number_to(100.0, 0), "100");
        assert_eq!(number_to(0.0625, 3), "0.062");
    }

    #[test]
    fn small_numbers_are_words() {
        assert_eq!([0, 1, 12, 13].map(spelt), ["0", "one", "twelve", "13"]);
        assert_eq!(
            [1, 2, 3, 12, 13].map(times),
            ["once", "twice", "three times", "twelve times", "13 times"]
        );
        assert_eq!(["a", "four", "40", "many"].map(read_spelt), [Some(1), Some(4), Some(40), None]);
    }

    #[test]
    fn long_lists_are_cut_into_runs() {
        assert_eq!(in_runs(&[1, 3, 4, 6, 7, 8, 9]), ["1", "3", "4", "6 to 9"]);
        assert_eq!(listed(&in_runs(&[1, 3, 7])), "1, 3 and 7");
        assert_eq!(listed(&in_runs(&[1, 2])), "1 and 2");
        assert_eq!(listed(&in_runs(&[5, 6, 7])), "5 to 7");
        assert_eq!(listed(&[]), "");
    }
}
