//! The varieties: choices set together under a name.

use std::collections::BTreeSet;

use pairwise_chart::{Named, Set};
use toml::Spanned;

use super::text::{ChoiceText, SetText, Two, VarietyText};
use super::{Reader, list, names};

impl<'a> Reader<'a> {
    /// Reads all varieties; a chart without any has one, named after the ground.
    pub(super) fn varieties(&mut self) -> Vec<Named> {
        let file = self.file;
        if file.varieties.is_empty() {
            return vec![plain(file.about.get_ref().title.get_ref())];
        }
        let mut before = BTreeSet::new();
        let read = |variety: &'a VarietyText| {
            let named = self.variety(variety);
            self.once(&variety.id, &mut before, "varieties");
            named
        };
        file.varieties.iter().map(read).collect()
    }

    fn variety(&mut self, variety: &VarietyText) -> Named {
        self.word(&variety.id, "a variety");
        let set = variety.set.iter().filter_map(|(choice, value)| {
            let set = self.set(choice, value)?;
            Some((choice.get_ref().clone(), set))
        });
        Named {
            set: set.collect(),
            id: variety.id.get_ref().clone(),
            title: variety.title.get_ref().clone(),
            names: names(variety.names.get_ref()),
            notes: variety.notes.get_ref().clone(),
            source: variety.source.get_ref().clone(),
        }
    }

    /// The value to which a variety sets a choice, if it can be set so.
    fn set(&mut self, choice: &Spanned<String>, value: &Spanned<SetText>) -> Option<Set> {
        let Some(found) = self.choice_called(choice.get_ref()) else {
            let known = self.file.choices.iter().map(|c| c.id.get_ref().as_str());
            let sentence = format!("there is no choice `{}`", lace::quote(choice.get_ref()));
            let all = || match list(known.clone()) {
                none if none.is_empty() => "the chart has no choices yet: [[choice]] begins one".to_owned(),
                choices => format!("the choices are {choices}"),
            };
            self.unknown(choice.span(), sentence, choice.get_ref(), known.clone(), all);
            return None;
        };
        let found = &self.file.choices[found];
        match value.get_ref() {
            SetText::Option(option) => self.option(found, option, value),
            SetText::Count(number) => self.number(found, *number, value),
        }
    }

    fn option(&mut self, choice: &ChoiceText, option: &str, value: &Spanned<SetText>) -> Option<Set> {
        let id = lace::quote(choice.id.get_ref());
        let Some(options) = &choice.options else {
            let sentence = format!("`{id}` is set to a word");
            self.fault(value.span(), sentence, "give a number without quotation marks");
            return None;
        };
        let known = options.get_ref().iter().map(|o| o.id.get_ref().as_str());
        if !known.clone().any(|known| known == option) {
            let sentence = format!("`{id}` has no option `{}`", lace::quote(option));
            let all = || format!("the options are {}", list(known.clone()));
            self.unknown(value.span(), sentence, option, known.clone(), all);
        }
        Some(Set::Option(option.to_owned()))
    }

    fn number(&mut self, choice: &ChoiceText, number: i64, value: &Spanned<SetText>) -> Option<Set> {
        let id = lace::quote(choice.id.get_ref());
        let Some(range) = &choice.count else {
            let sentence = format!("`{id}` is set to a number");
            self.fault(value.span(), sentence, "give the id of one of its options, in quotation marks");
            return None;
        };
        let Two([least, most]) = *range.get_ref();
        if !(least..=most).contains(&number) {
            let remedy = format!("give a number from {least} to {most}");
            self.fault(value.span(), format!("`{id}` cannot be {number}"), remedy);
        }
        Some(Set::Count(i32::try_from(number).unwrap_or(i32::MAX)))
    }
}

/// The variety of a chart that names none.
fn plain(title: &str) -> Named {
    Named {
        id: "plain".to_owned(),
        title: title.to_owned(),
        names: Vec::new(),
        notes: String::new(),
        source: String::new(),
        set: Vec::new(),
    }
}
