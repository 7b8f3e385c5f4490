//! Mistakes in texts that people write in TOML (toml.io): charts, recipes, palettes.
//! The parser says where it stopped and why, in words for programmers. Here the
//! cause is looked for, and told in plain words; nothing the parser says is passed
//! on.

mod brackets;
mod line;
mod values;

use std::ops::Range;

use lace::quote;

use crate::near::{listed, near_names};
use brackets::unclosed;
use line::Line;

/// What a kind of text looks like.
#[derive(Clone, Copy, Debug)]
pub struct Form<'a> {
    /// What it is, for example `a chart`.
    pub what: &'a str,
    /// Headings with two brackets, which may come several times: `[[stitch]]`.
    pub several: &'a [&'a str],
    /// Headings with one bracket, which come once: `[about]`.
    pub once: &'a [&'a str],
    /// Keys, each with a line for an example.
    pub examples: &'a [(&'a str, &'a str)],
    /// Where more is said.
    pub more: &'a str,
}

/// A mistake in a text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mistake {
    /// Its byte range in the text.
    pub at: Range<usize>,
    /// What is wrong, in one sentence.
    pub sentence: String,
    /// What to do about it.
    pub remedy: String,
}

impl Mistake {
    fn new(at: Range<usize>, sentence: impl Into<String>, remedy: impl Into<String>) -> Mistake {
        Mistake { at, sentence: sentence.into(), remedy: remedy.into() }
    }
}

/// The mistake for which a parser refused a text, given what it said and where.
pub fn mistake(text: &str, message: &str, span: Option<Range<usize>>, form: &Form<'_>) -> Mistake {
    let span = span.unwrap_or(0..0);
    let last = text.trim_end().len();
    let at = span.start.min(last);
    let refused = || told(text, message, &span, form);
    let line = Line::around(text, at);
    // What spoils the lines after it comes first.
    heading(text, form)
        .or_else(|| {
            Line::all(text).take_while(|line| line.start() <= at).find_map(|line| line.curly_quotes())
        })
        .or_else(|| line.missing_quote())
        .or_else(|| unclosed(text))
        .or_else(refused)
        .or_else(|| line.mistake(form))
        .unwrap_or_else(|| {
            let remedy = format!(
                "compare it with the lines around it; {} says how {} is written",
                form.more, form.what
            );
            Mistake::new(line.shown(), "this line cannot be read", remedy)
        })
}

/// A heading with too few or too many brackets. Parsers report it at another line.
fn heading(text: &str, form: &Form<'_>) -> Option<Mistake> {
    Line::all(text).find_map(|line| {
        let words = line.words();
        let single = || words.strip_prefix('[')?.strip_suffix(']').map(str::trim);
        let double = || words.strip_prefix("[[")?.strip_suffix("]]").map(str::trim);
        if let Some(name) = double() {
            return form.once.contains(&name).then(|| {
                let sentence =
                    format!("there can be only one `{name}`, and two brackets begin one of several");
                Mistake::new(line.shown(), sentence, format!("write [{name}]"))
            });
        }
        let name = single()?;
        form.several.contains(&name).then(|| {
            let sentence = format!("each {name} begins with two brackets, and here is one");
            Mistake::new(line.shown(), sentence, format!("write [[{name}]], for every {name}"))
        })
    })
}

/// What a text that can be read, but has other things in it than it should, is
/// refused for.
fn told(text: &str, message: &str, span: &Range<usize>, form: &Form<'_>) -> Option<Mistake> {
    let line = Line::around(text, span.start);
    let mut names = message.split('`').skip(1).step_by(2);
    if message.starts_with("unknown field") {
        let unknown = names.next().unwrap_or_default();
        let known: Vec<&str> = names.collect();
        let remedy = match near_names(unknown, known.iter().copied()).first() {
            Some(near) => format!("did you mean `{near}`? Here can stand {}", listed(&known)),
            None => format!("here can stand {}", listed(&known)),
        };
        return Some(Mistake::new(span.clone(), format!("`{}` means nothing here", quote(unknown)), remedy));
    }
    if message.starts_with("missing field") {
        let missing = names.next().unwrap_or_default();
        return Some(Mistake::new(line.shown(), format!("`{missing}` is missing here"), add(missing, form)));
    }
    if message.starts_with("duplicate key") {
        let sentence = format!("`{}` is given twice", quote(text.get(span.clone()).unwrap_or_default()));
        return Some(Mistake::new(span.clone(), sentence, "leave one of them out"));
    }
    if message.starts_with("data did not match") {
        let sentence = "this is neither a whole number nor a name";
        return Some(Mistake::new(
            span.clone(),
            sentence,
            "write a whole number, or a name in quotation marks",
        ));
    }
    let expected = message.rsplit_once(", expected ").map(|(_, expected)| expected)?;
    if let Some(length) = message.strip_prefix("invalid length ") {
        let length = length.split(',').next().and_then(|n| n.parse().ok())?;
        return Some(values::wrong_length(text, span.clone(), length));
    }
    let found = message.strip_prefix("invalid type: ").or_else(|| message.strip_prefix("invalid value: "))?;
    let (needed, remedy) = values::needed(expected, text.get(span.clone()).unwrap_or_default());
    let sentence = format!("here stands {}, and {needed} is needed", values::found(found));
    let at = if span.end > line.range().end { line.shown() } else { span.clone() };
    Some(Mistake::new(at, sentence, remedy))
}

/// How to add what is missing.
fn add(missing: &str, form: &Form<'_>) -> String {
    match form.examples.iter().find(|(key, _)| *key == missing) {
        Some((_, example)) => format!("add a line, for example {example}"),
        None if form.once.contains(&missing) => format!("add the part that begins with [{missing}]"),
        None => format!("add it; {} says how", form.more),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const FORM: Form<'_> = Form {
        what: "a chart",
        several: &["stitch"],
        once: &["about"],
        examples: &[("id", "id = \"pin\"")],
        more: "the page on charts",
    };

    /// What is marked, and the sentence and remedy.
    fn said(text: &str, message: &str, span: Range<usize>) -> (String, String) {
        let Mistake { at, sentence, remedy } = mistake(text, message, Some(span), &FORM);
        (text[at].to_owned(), format!("{sentence}: {remedy}"))
    }

    #[test]
    fn words_of_the_parser_are_not_passed_on() {
        // Where it stopped is all that is known.
        for message in [
            "invalid float literal",
            "recursion limit",
            "radix must be lowercase, expected `0x`",
            "unexpected key or value, expected newline, `#`",
            "anything else",
        ] {
            let (at, said) = said("id = \"a\"\n\u{7}?\nid = \"b\"\n", message, 9..10);
            assert_eq!(at, "\u{7}?");
            assert!(said.starts_with("this line says nothing:"), "{said}");
        }
        let (_, said) = said("id = 0x\u{7}1\n", "radix must be lowercase", 5..8);
        assert!(said.contains("0x") && !said.contains("radix"), "{said}");
    }

    #[test]
    fn what_is_missing_unknown_or_double_is_named() {
        let text = "[about]\ntitel = \"x\"\n";
        let (at, words) = said(text, "unknown field `titel`, expected one of `id`, `title`", 8..13);
        assert_eq!(at, "titel");
        assert_eq!(words, "`titel` means nothing here: did you mean `title`? Here can stand id, title");
        let (at, words) = said(text, "missing field `id`", 0..7);
        assert_eq!(
            (at.as_str(), words.as_str()),
            ("[about]", "`id` is missing here: add a line, for example id = \"pin\"")
        );
        let (_, words) = said(text, "missing field `about`", 0..0);
        assert!(words.ends_with("add the part that begins with [about]"), "{words}");
        let (_, words) = said(text, "duplicate key", 8..13);
        assert_eq!(words, "`titel` is given twice: leave one of them out");
    }

    #[test]
    fn a_heading_with_the_wrong_brackets_is_found_where_it_stands() {
        let text = "[[about]]\nid = \"a\"\n";
        assert_eq!(said(text, "invalid type: sequence, expected struct AboutText", 0..9).0, "[[about]]");
        let text = "id = \"a\"\n[stitch] # the first\nid = \"b\"\n";
        let (at, words) = said(text, "invalid type: map, expected a sequence", 30..32);
        assert_eq!(at, "[stitch]");
        assert!(words.ends_with("write [[stitch]], for every stitch"), "{words}");
    }
}
