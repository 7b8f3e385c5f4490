//! The manual in words, for the terminal.

use lace::{Code, Severity};
use textwrap::{Options, fill, indent};

use super::{Example, HEADINGS, check, examples, gravity, said};

/// Columns of a terminal.
const WIDTH: usize = 80;

/// Words set in from the left, broken into lines.
fn set_in(words: &str, by: &str) -> String {
    fill(words, Options::new(WIDTH).initial_indent(by).subsequent_indent(by))
}

/// All codes with what they mean.
pub fn list() -> String {
    let column = Code::ALL.iter().map(|code| code.word().len()).max().unwrap_or_default() + 2;
    let mut text = String::new();
    for severity in [Severity::Error, Severity::Warning] {
        let first = if severity == Severity::Error { "" } else { "\n" };
        text.push_str(&format!("{first}{}\n", gravity_as_heading(severity)));
        for code in Code::ALL.iter().filter(|code| code.severity() == severity) {
            let name = format!("{:<column$}", code.word());
            let options = Options::new(WIDTH).initial_indent(&name);
            let below = " ".repeat(column);
            text.push_str(&fill(code.means(), options.subsequent_indent(&below)));
            text.push('\n');
        }
    }
    text.push_str("\n`pairwise explain CODE` says more about one of them.\n");
    text
}

/// `Errors: the lace cannot be worked as defined`.
pub fn gravity_as_heading(severity: Severity) -> String {
    let what = gravity(severity).split_once(": ").map_or("", |(_, what)| what);
    let name = if severity == Severity::Error { "Errors" } else { "Warnings" };
    format!("{name}: {what}")
}

/// The long form of one code.
pub fn long(code: Code) -> String {
    let mut text = format!("{}, {}\n", code.word(), gravity(code.severity()));
    let told = [code.means(), code.why(), code.remedy()];
    for (heading, words) in HEADINGS.iter().zip(told) {
        text.push_str(&format!("\n{heading}\n{}\n", set_in(words, "  ")));
    }
    for (heading, example) in HEADINGS[told.len()..].iter().zip(examples(code)) {
        text.push_str(&format!("\n{heading}\n"));
        match example {
            Example::Words(words) => text.push_str(&format!("{}\n", set_in(words, "  "))),
            Example::Chart(chart) => {
                text.push_str(&indent(chart, "    "));
                let said = check(chart).map(|checked| said(&checked)).unwrap_or_default();
                let nothing = vec!["nothing to find fault with".to_owned()];
                for line in if said.is_empty() { nothing } else { said } {
                    text.push_str(&format!("\n{}", set_in(&format!("check says: {line}"), "  ")));
                }
                text.push('\n');
            }
        }
    }
    text
}

#[cfg(test)]
mod tests {
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
    fn the_long_form_has_all_headings_in_order_and_both_examples() {
        for &code in Code::ALL {
            let text = long(code);
            assert!(text.lines().all(|line| line.chars().count() <= WIDTH), "{text}");
            let at: Vec<usize> = HEADINGS
                .iter()
                .map(|h| text.find(&format!("\n{h}\n")).unwrap_or_else(|| panic!("{code}: {h}")))
                .collect();
            assert!(at.is_sorted(), "{text}");
            if let [Example::Chart(bad), Example::Chart(good)] = examples(code) {
                let found = text.find("check says: ").unwrap();
                assert!((at[3]..at[4]).contains(&found) && text.contains(&format!("{code} at ")), "{text}");
                assert!(text[at[4]..].contains("check says: nothing to find fault with"), "{text}");
                for chart in [bad, good] {
                    // As it can be copied: every line, set in by the same.
                    assert!(
                        chart.lines().all(|l| l.is_empty() || text.contains(&format!("\n    {l}\n"))),
                        "{text}"
                    );
                }
            }
        }
    }
}
