//! The lines around some places in a text, as many and as much of them as people
//! want to see: a stranger's text may be one line of a million characters.

use std::collections::BTreeMap;
use std::ops::Range;
use std::sync::Arc;

use catalogue::text::harmless;
use miette::{MietteError, MietteSpanContents, SourceCode, SourceSpan, SpanContents};

/// Characters shown of a line on either side of a place, and of a place itself.
const CHARS: usize = 100;
/// Most lines of a place; of a longer one, only its first line is marked.
const MOST_LINES: usize = 8;
/// What stands for what is left out of a line.
const CUT: char = '…';

/// A text with the beginnings of its lines.
#[derive(Debug)]
pub(super) struct Lines {
    text: String,
    begins: Vec<usize>,
}

/// Some lines of a text. Every line is cut and harmless, and keeps its number.
#[derive(Clone, Debug)]
pub(super) struct Excerpt {
    name: Arc<str>,
    text: String,
    lines: Vec<ShownLine>,
}

/// A line of an excerpt.
#[derive(Clone, Debug)]
struct ShownLine {
    /// Its number in the whole text, from 0.
    number: usize,
    /// Where it begins in the excerpt.
    begin: usize,
    /// How many more characters were in front of it in the whole text.
    before: usize,
    /// The bytes shown of the whole text.
    window: Range<usize>,
    /// The bytes in front of these in the excerpt's line.
    mark: usize,
}

impl Lines {
    pub(super) fn new(text: &str) -> Lines {
        let ends = text.match_indices('\n').map(|(at, _)| at + 1);
        Lines { text: text.to_owned(), begins: std::iter::once(0).chain(ends).collect() }
    }

    /// The lines around some places, and the places in the excerpt.
    pub(super) fn around(&self, name: &Arc<str>, places: &[SourceSpan]) -> (Excerpt, Vec<SourceSpan>) {
        let places: Vec<Range<usize>> = places.iter().map(|place| self.shortened(place)).collect();
        // Where to look in each line: at the first place in it, or at its beginning.
        let mut shown: BTreeMap<usize, Option<Range<usize>>> = BTreeMap::new();
        for place in &places {
            let (first, last) = (self.line_of(place.start), self.line_of(place.end));
            for line in first.saturating_sub(1)..=(last + 1).min(self.begins.len() - 1) {
                let here = self.line(line);
                let marked = (first..=last).contains(&line);
                let part = place.start.max(here.start)..place.end.min(here.end);
                let seen = shown.entry(line).or_default();
                if marked && seen.as_ref().is_none_or(|seen| part.start < seen.start) {
                    *seen = Some(part);
                }
            }
        }
        let mut excerpt = Excerpt { name: name.clone(), text: String::new(), lines: Vec::new() };
        for (number, place) in shown {
            excerpt.push(self, number, place);
        }
        let found = places.iter().filter_map(|place| excerpt.place(self, place)).collect();
        (excerpt, found)
    }

    /// The line that a byte belongs to.
    fn line_of(&self, at: usize) -> usize {
        self.begins.partition_point(|begin| *begin <= at) - 1
    }

    /// The bytes of a line, without its end.
    fn line(&self, number: usize) -> Range<usize> {
        let begin = self.begins[number];
        let end = self.begins.get(number + 1).map_or(self.text.len(), |next| next - 1);
        let line = &self.text[begin..end];
        begin..begin + line.strip_suffix('\r').unwrap_or(line).len()
    }

    /// A place within the text, between characters. It ends in the line of its last
    /// character, or in its first if it has too many.
    fn shortened(&self, place: &SourceSpan) -> Range<usize> {
        let between = |at: usize| self.text.floor_char_boundary(at.min(self.text.len()));
        let start = between(place.offset());
        let end = between(place.offset().saturating_add(place.len())).max(start);
        let first = self.line_of(start);
        let last = self.line_of(end.saturating_sub(1).max(start));
        let last = if last - first < MOST_LINES { last } else { first };
        let (begin, end) = (start.min(self.line(first).end), end.min(self.line(last).end));
        begin..end.max(begin)
    }

    /// At most so many characters before a byte of a line.
    fn before(&self, at: usize, line: &Range<usize>) -> usize {
        let part = &self.text[line.start..at];
        line.start + part.char_indices().rev().take(CHARS).last().map_or(part.len(), |(k, _)| k)
    }

    /// At most so many characters after a byte of a line.
    fn after(&self, at: usize, line: &Range<usize>) -> usize {
        let part = &self.text[at..line.end];
        at + part.char_indices().nth(CHARS).map_or(part.len(), |(k, _)| k)
    }

    /// What is shown of a line.
    fn window(&self, line: &Range<usize>, place: Option<Range<usize>>) -> Range<usize> {
        let Some(place) = place else { return line.start..self.after(line.start, line) };
        let end = place.end.min(self.after(place.start, line));
        self.before(place.start, line)..self.after(end, line)
    }
}

impl Excerpt {
    /// Adds a line, cut around a place.
    fn push(&mut self, lines: &Lines, number: usize, place: Option<Range<usize>>) {
        let line = lines.line(number);
        let window = lines.window(&line, place);
        let begin = self.text.len();
        let mut before = lines.text[line.start..window.start].chars().count();
        if before > 0 {
            self.text.push(CUT);
            before -= 1;
        }
        let mark = self.text.len() - begin;
        self.text.push_str(&harmless(&lines.text[window.clone()]));
        if window.end < line.end {
            self.text.push(CUT);
        }
        self.text.push('\n');
        self.lines.push(ShownLine { number, begin, before, window, mark });
    }

    /// A place in the excerpt; `None` if that part of its line is left out.
    fn place(&self, lines: &Lines, place: &Range<usize>) -> Option<SourceSpan> {
        let shown = |at: usize| {
            let number = lines.line_of(at);
            let line = &self.lines[self.lines.binary_search_by_key(&number, |line| line.number).ok()?];
            let at = at.clamp(line.window.start, line.window.end);
            Some(line.begin + line.mark + harmless(&lines.text[line.window.start..at]).len())
        };
        let window = &self.lines.iter().find(|line| line.number == lines.line_of(place.start))?.window;
        if !(window.start..=window.end).contains(&place.start) {
            return None;
        }
        let (start, end) = (shown(place.start)?, shown(place.end)?);
        Some((start..end.max(start)).into())
    }

    /// The number in this excerpt of the line that a byte belongs to.
    fn line_of(&self, at: usize) -> usize {
        self.lines.partition_point(|line| line.begin <= at).saturating_sub(1)
    }

    /// Whether a line follows the one before it in the whole text too.
    fn follows(&self, line: usize) -> bool {
        line > 0 && self.lines.get(line).is_some_and(|l| l.number == self.lines[line - 1].number + 1)
    }
}

impl SourceCode for Excerpt {
    fn read_span<'a>(
        &'a self,
        span: &SourceSpan,
        lines_before: usize,
        lines_after: usize,
    ) -> Result<Box<dyn SpanContents<'a> + 'a>, MietteError> {
        let end = span.offset() + span.len();
        if end > self.text.len() || self.lines.is_empty() {
            return Err(MietteError::OutOfBounds);
        }
        let (mut first, mut last) =
            (self.line_of(span.offset()), self.line_of(end.saturating_sub(1).max(span.offset())));
        if (first + 1..=last).any(|line| !self.follows(line)) {
            return Err(MietteError::OutOfBounds);
        }
        for _ in 0..lines_before {
            first -= usize::from(self.follows(first));
        }
        for _ in 0..lines_after {
            last += usize::from(self.follows(last + 1));
        }
        let line = &self.lines[first];
        let (begin, column) = match lines_before {
            0 => (span.offset(), line.before + self.text[line.begin..span.offset()].chars().count()),
            _ => (line.begin, 0),
        };
        let stop = self.lines.get(last + 1).map_or(self.text.len(), |next| next.begin);
        Ok(Box::new(MietteSpanContents::new_named(
            self.name.to_string(),
            &self.text.as_bytes()[begin..stop],
            (begin..stop).into(),
            line.number,
            column,
            last + 1 - first,
        )))
    }
}

#[cfg(test)]
mod tests {
    use miette::{GraphicalReportHandler, GraphicalTheme};
    use proptest::prelude::*;
    use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};

    use crate::faults::{MOST_SHOWN, ShownText, TextFaults};

    fn shown(faults: &TextFaults) -> String {
        let mut text = String::new();
        let handler = GraphicalReportHandler::new_themed(GraphicalTheme::unicode_nocolor()).with_width(400);
        handler.render_report(&mut text, faults).unwrap();
        text
    }

    fn fault_at(text: &str, at: &[(usize, usize)]) -> String {
        let lines = ShownText::new("chart.toml", text);
        let at = at.iter().map(|&place| place.into()).collect();
        shown(&lines.report([lines.fault(at, "wrong".to_owned(), "mend it".to_owned())]))
    }

    #[test]
    fn a_fault_is_shown_between_the_lines_around_it() {
        let text = "one\ntwo\nthree = 3\nfour\nfive\n";
        let said = fault_at(text, &[(8, 5)]);
        for line in ["[chart.toml:3:1]", "2 │ two", "3 │ three = 3", "· ─────", "4 │ four"] {
            assert!(said.contains(line), "{line}: {said}");
        }
        assert!(!said.contains("one") && !said.contains("five"), "{said}");
        // Two places far apart, and one of several lines.
        let far: String = (1..=40).map(|n| format!("line {n}\n")).collect();
        let said = fault_at(&far, &[(7, 4), (far.find("line 30").unwrap(), 7)]);
        for line in ["1 │ line 1", "3 │ line 3", "29 │ line 29", "31 │ line 31"] {
            assert!(said.contains(line), "{line}: {said}");
        }
        assert!(!said.contains("line 4\n") && !said.contains("line 28"), "{said}");
        let said = fault_at(text, &[(4, 13)]);
        assert!(said.contains("[chart.toml:2:1]") && said.contains("4 │     four"), "{said}");
        // At the end, and in nothing.
        assert!(
            fault_at(text, &[(text.len(), 0)]).contains("5 │ five"),
            "{}",
            fault_at(text, &[(text.len(), 0)])
        );
        assert!(fault_at("", &[(0, 0)]).contains("wrong"));
        assert!(fault_at("", &[(7, 7)]).contains("wrong"));
    }

    #[test]
    fn a_long_line_is_cut_around_the_place_whose_column_is_true() {
        for at in [0, 99, 101, 65_534, 65_535, 70_000, 899_995] {
            let text = format!("first\n{}wrong{}\nlast", "<".repeat(at), ">".repeat(900_000 - at));
            let said = fault_at(&text, &[(6 + at, 5)]);
            assert!(said.contains(&format!("[chart.toml:2:{}]", at + 1)), "{said}");
            assert_eq!(said.matches('<').count(), at.min(100), "{said}");
            assert_eq!(said.matches('>').count(), (900_000 - at).min(100), "{said}");
            assert!(
                said.contains("─────") && said.contains("1 │ first") && said.contains("3 │ last"),
                "{said}"
            );
        }
        // A place that is long itself.
        let said = fault_at(&"y".repeat(900_000), &[(300, 800_000)]);
        assert_eq!(said.matches('y').count(), 300 + "mend it, wrong".matches('y').count(), "{said}");
    }

    #[test]
    fn of_very_many_faults_the_first_are_shown_and_the_others_counted() {
        let text = "wrong ".repeat(10_000);
        let lines = ShownText::new("chart.toml", &text);
        let one =
            |k: usize| lines.fault(vec![(6 * k, 5).into()], format!("sentence {k} is wrong"), String::new());
        let said = shown(&lines.report((0..10_000).map(one)));
        assert!(said.contains("chart.toml: 10000 faults found; the first 50 are shown"), "{said}");
        assert_eq!(said.matches("sentence").count(), MOST_SHOWN);
        assert!(said.len() < 60_000, "{}", said.len());
        let said = shown(&lines.report((0..2).map(one)));
        assert!(said.contains("chart.toml: 2 faults found\n"), "{said}");
    }

    /// Any text with any places is shown, in few characters, without a panic.
    #[test]
    fn whatever_the_text_little_is_shown_and_all_of_it_harmless() {
        let pieces = prop::sample::select(vec![
            "a",
            "é",
            "\n",
            "\r\n",
            "\t",
            " ",
            "\r",
            "\u{1b}[31m",
            "\u{202e}",
            "漢",
            "x = [[1]]",
        ]);
        let line = (pieces, prop::sample::select(vec![1usize, 2, 3, 90, 101, 70_000]));
        let texts = prop::collection::vec(line, 0..12);
        let places = prop::collection::vec((any::<prop::sample::Index>(), 0..200_000usize), 0..5);
        let config = Config { cases: 96, failure_persistence: None, ..Config::default() };
        let mut runner = TestRunner::new_with_rng(config, TestRng::from_seed(RngAlgorithm::ChaCha, &[3; 32]));
        type Pieces = Vec<(&'static str, usize)>;
        type Places = Vec<(prop::sample::Index, usize)>;
        let run = |(pieces, places): (Pieces, Places)| {
            let text: String = pieces.iter().map(|(piece, times)| piece.repeat(*times)).collect();
            // Somewhere, not always between two characters.
            let at: Vec<(usize, usize)> =
                places.iter().map(|(at, len)| (at.index(text.len() + 2), len % (text.len() + 3))).collect();
            let said = fault_at(&text, &at);
            prop_assert!(said.chars().count() < 400_000, "{}", said.len());
            let bad = said.chars().find(|&c| (c.is_control() && c != '\n') || c == '\u{202e}');
            prop_assert_eq!(bad, None);
            for line in said.lines() {
                prop_assert!(line.chars().count() < 1400, "{}", line);
            }
            Ok(())
        };
        runner.run(&(texts, places), run).unwrap();
    }
}
