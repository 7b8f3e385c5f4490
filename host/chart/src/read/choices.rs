//! The choices that a chart leaves to the lacemaker.

use std::collections::BTreeSet;

use catalogue::limits::COUNT_VALUES;
use pairwise_chart::{Choice, Range, Work};
use toml::Spanned;

use super::Reader;
use super::text::{ChoiceText, OptionText, Two};

impl<'a> Reader<'a> {
    /// Reads all choices.
    pub(super) fn choices(&mut self) -> Vec<Choice> {
        let file = self.file;
        let mut before = BTreeSet::new();
        let read = |choice: &'a ChoiceText| {
            self.word(&choice.id, "a choice");
            let range = self.range(choice);
            self.once(&choice.id, &mut before, "choices");
            Choice { id: choice.id.get_ref().clone(), title: choice.title.get_ref().clone(), range }
        };
        file.choices.iter().map(read).collect()
    }

    /// The number of the choice with this id.
    pub(super) fn choice_called(&self, id: &str) -> Option<usize> {
        self.numbers.choices.get(id).copied()
    }

    fn range(&mut self, choice: &'a ChoiceText) -> Range {
        match (&choice.options, &choice.count) {
            (Some(options), None) => self.options(options, choice.usual.as_ref()),
            (None, Some(count)) => self.count(count, choice.usual.as_ref()),
            _ => {
                self.fault(
                    choice.id.span(),
                    format!("`{}` must have either `options` or `count`", lace::quote(choice.id.get_ref())),
                    "options = [{ id = ..., work = ... }, ...] for stitches, count = [0, 3] for a number",
                );
                Range::Count { least: 0, most: 0, usual: 0 }
            }
        }
    }

    fn options(&mut self, options: &'a Spanned<Vec<OptionText>>, usual: Option<&Spanned<i64>>) -> Range {
        let (at, options) = (options.span(), options.get_ref());
        if options.is_empty() {
            self.fault(at, "there is nothing to choose from", "write at least one option");
        }
        if let Some(usual) = usual {
            let remedy = "leave it out: the first option is the usual one";
            self.fault(usual.span(), "`usual` belongs to a choice with `count`", remedy);
        }
        let mut before = BTreeSet::new();
        let read = |option: &'a OptionText| {
            self.word(&option.id, "an option");
            self.once(&option.id, &mut before, "options");
            Work {
                id: option.id.get_ref().clone(),
                title: option.title.clone().unwrap_or_else(|| option.work.get_ref().clone()),
                moves: self.named_work_or_moves(&option.work),
            }
        };
        Range::Works(options.iter().map(read).collect())
    }

    fn count(&mut self, count: &Spanned<Two<i64>>, usual: Option<&Spanned<i64>>) -> Range {
        let Two([least, most]) = *count.get_ref();
        let value = usual.map_or(least, |usual| *usual.get_ref());
        if least > most {
            let sentence = format!("from {least} to {most} there is no number");
            self.fault(count.span(), sentence, "write the smaller number first");
        } else if !(least..=most).contains(&value) {
            self.fault(
                usual.map_or(count.span(), Spanned::span),
                format!("{value} is not from {least} to {most}"),
                "choose a `usual` between them",
            );
        }
        let whole = |n: i64| i32::try_from(n).unwrap_or(i32::MAX);
        if most.saturating_sub(least) >= COUNT_VALUES {
            let sentence = format!("from {least} to {most} there are too many numbers");
            self.fault(count.span(), sentence, format!("at most {COUNT_VALUES} are possible"));
        } else if [least, most].iter().any(|&end| i32::try_from(end).is_err()) {
            let sentence = format!("the numbers from {least} to {most} are too large");
            self.fault(count.span(), sentence, "nothing in a chart is counted so far");
        }
        Range::Count { least: whole(least), most: whole(most), usual: whole(value) }
    }
}
