//! Faults and charts explained in the terminal.

use lace::{Code, Severity};
use manual::charts::{Part, parts};
use manual::findings::{Example, Explanation, check, severity_as_heading, severity_in_words};
use textwrap::{Options, WordSeparator, WordSplitter, fill, indent};

/// Width of the text, in columns of a terminal.
const WIDTH: usize = 80;

/// Text indented and broken into lines.
fn indented(text: &str) -> String {
    fill(text, Options::new(WIDTH).initial_indent("  ").subsequent_indent("  "))
}

/// All codes with their meanings.
pub fn list() -> String {
    let column = Code::ALL.iter().map(|code| code.word().len()).max().unwrap_or_default() + 2;
    let below = " ".repeat(column);
    let mut text = String::new();
    for severity in [Severity::Error, Severity::Warning] {
        text.push_str(&format!("{}\n", severity_as_heading(severity)));
        for code in Code::ALL.iter().filter(|code| code.severity() == severity) {
            let name = format!("{:<column$}", code.word());
            let options = Options::new(WIDTH).initial_indent(&name).subsequent_indent(&below);
            text.push_str(&format!("{}\n", fill(code.means(), options)));
        }
        text.push('\n');
    }
    text.push_str("`pairwise explain CODE` says more about one of them.\n");
    text.push_str("`pairwise explain charts` says how a chart is written, line by line.\n");
    text
}

/// The page on charts.
pub fn charts() -> String {
    let mut text = String::new();
    for part in parts() {
        text.push_str(&match part {
            Part::Heading(heading) => format!("\n{heading}\n"),
            Part::Words(words) => format!("\n{}\n", wrapped(words, "  ", "  ")),
            Part::Item(words) => format!("\n{}\n", wrapped(words, "  - ", "    ")),
            Part::Copied(lines) => format!("\n{}", indent(lines, "    ")),
        });
    }
    text.trim_start().to_owned()
}

/// Text broken into lines between words, so that what is to be typed stays whole.
fn wrapped(text: &str, first: &str, next: &str) -> String {
    let options = Options::new(WIDTH).initial_indent(first).subsequent_indent(next);
    fill(text, options.word_separator(WordSeparator::AsciiSpace).word_splitter(WordSplitter::NoHyphenation))
}

/// One code in full.
pub fn long(explained: &Explanation) -> String {
    let code = explained.code;
    let mut text = format!("{code}, {}\n", severity_in_words(code.severity()));
    for section in explained.sections {
        text.push_str(&format!("\n{}\n{}\n", section.heading, indented(section.text)));
    }
    for section in explained.examples {
        text.push_str(&format!("\n{}\n", section.heading));
        match section.example {
            Example::Words(words) => text.push_str(&format!("{}\n", indented(words))),
            Example::Chart(chart) => {
                text.push_str(&indent(chart, "    "));
                for sentence in check_says(chart) {
                    text.push_str(&format!("\n{}", indented(&format!("check says: {sentence}"))));
                }
                text.push('\n');
            }
        }
    }
    text
}

/// What `check` says about a chart.
fn check_says(chart: &str) -> Vec<String> {
    let mut sentences = check(chart).map(|checked| checked.sentences()).unwrap_or_default();
    if sentences.is_empty() {
        sentences.push("nothing to find fault with".to_owned());
    }
    sentences
}

#[cfg(test)]
mod tests {
    use manual::findings::explain_all;

    use super::*;

    #[test]
    fn the_list_has_every_code_on_a_line_of_its_own_and_fits_the_terminal() {
        let list = list();
        assert!(list.lines().all(|line| line.chars().count() <= WIDTH), "{list}");
        for code in Code::ALL {
            let start = format!("{} ", code.word());
            assert_eq!(list.lines().filter(|line| line.starts_with(&start)).count(), 1, "{code}");
        }
        assert!(list.starts_with("Errors: the lace cannot be worked as defined\n"), "{list}");
    }

    #[test]
    fn the_page_on_charts_fits_the_terminal_and_its_charts_can_be_copied() {
        let text = charts();
        for line in text.lines() {
            // What is copied is never broken.
            assert!(line.starts_with("    ") || line.chars().count() <= WIDTH, "{line}");
        }
        let copied =
            parts().filter_map(|part| if let Part::Copied(lines) = part { Some(lines) } else { None });
        for line in copied.flat_map(str::lines).filter(|line| !line.is_empty()) {
            assert!(text.contains(&format!("\n    {line}\n")), "{line}");
        }
        assert!(text.starts_with("Charts") && !text.contains("```") && !text.contains("\n#"), "{text}");
    }

    #[test]
    fn the_long_form_has_all_headings_in_order_and_both_examples() {
        for explained in explain_all() {
            let (code, text) = (explained.code, long(&explained));
            assert!(text.lines().all(|line| line.chars().count() <= WIDTH), "{text}");
            let headings = explained.sections.map(|s| s.heading).into_iter();
            let headings = headings.chain(explained.examples.map(|e| e.heading));
            let at: Vec<usize> = headings
                .map(|h| text.find(&format!("\n{h}\n")).unwrap_or_else(|| panic!("{code}: {h}")))
                .collect();
            assert!(at.is_sorted() && at.len() == 5, "{text}");
            if let [Example::Chart(bad), Example::Chart(good)] = explained.examples.map(|e| e.example) {
                let found = text.find("check says: ").unwrap();
                assert!((at[3]..at[4]).contains(&found) && text.contains(&format!("{code} at ")), "{text}");
                assert!(text[at[4]..].contains("check says: nothing to find fault with"), "{text}");
                for chart in [bad, good] {
                    // Every line has the same indent, so that the chart can be copied.
                    assert!(
                        chart.lines().all(|l| l.is_empty() || text.contains(&format!("\n    {l}\n"))),
                        "{text}"
                    );
                }
            }
        }
    }
}
