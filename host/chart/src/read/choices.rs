//! The choices that a chart leaves to the lacemaker.

use pairwise_chart::{Choice, Range, Work};
use toml::Spanned;

use super::Reader;
use super::text::{ChoiceText, OptionText};

impl Reader<'_> {
    /// Reads all choices.
    pub(super) fn choices(&mut self) -> Vec<Choice> {
        let file = self.file;
        let read = |(k, choice): (usize, &ChoiceText)| {
            self.word(&choice.id, "a choice");
            let range = self.range(choice);
            self.once(&choice.id, file.choices[..k].iter().map(|c| &c.id), "choices");
            Choice { id: choice.id.get_ref().clone(), title: choice.title.clone(), range }
        };
        file.choices.iter().enumerate().map(read).collect()
    }

    /// The number of the choice with this id.
    pub(super) fn choice_called(&self, id: &str) -> Option<usize> {
        self.file.choices.iter().position(|choice| choice.id.get_ref() == id)
    }

    fn range(&mut self, choice: &ChoiceText) -> Range {
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

    fn options(&mut self, options: &Spanned<Vec<OptionText>>, usual: Option<&Spanned<i64>>) -> Range {
        let (at, options) = (options.span(), options.get_ref());
        if options.is_empty() {
            self.fault(at, "there is nothing to choose from", "write at least one option");
        }
        if let Some(usual) = usual {
            let remedy = "leave it out: the first option is the usual one";
            self.fault(usual.span(), "`usual` belongs to a choice with `count`", remedy);
        }
        let read = |(k, option): (usize, &OptionText)| {
            self.word(&option.id, "an option");
            self.once(&option.id, options[..k].iter().map(|o| &o.id), "options");
            Work {
                id: option.id.get_ref().clone(),
                title: option.title.clone().unwrap_or_else(|| option.work.get_ref().clone()),
                moves: self.named_work_or_moves(&option.work),
            }
        };
        Range::Works(options.iter().enumerate().map(read).collect())
    }

    fn count(&mut self, count: &Spanned<[i64; 2]>, usual: Option<&Spanned<i64>>) -> Range {
        let [least, most] = *count.get_ref();
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
        Range::Count { least: whole(least), most: whole(most), usual: whole(value) }
    }
}
