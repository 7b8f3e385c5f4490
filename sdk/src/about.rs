//! Writing [`About`] in few lines.

use std::ops::RangeInclusive;

use crate::{About, Choice, Kind, OptionOf, OtherName, Range, Setting, Value, Variety};

impl About {
    /// A ground, which fills an area of any size, from its id (a plain word)
    /// and title.
    pub fn ground(id: &str, title: &str) -> About {
        About {
            id: id.to_owned(),
            title: title.to_owned(),
            kind: Kind::Ground,
            family: id.to_owned(),
            other_names: Vec::new(),
            laces: Vec::new(),
            sits_in: None,
            angle: 45.0,
            notes: String::new(),
            source: String::new(),
            choices: Vec::new(),
            varieties: Vec::new(),
        }
    }

    /// A filling, which is set into the ground with the id `sits_in`.
    pub fn filling(id: &str, title: &str, sits_in: &str) -> About {
        About { kind: Kind::Filling, sits_in: Some(sits_in.to_owned()), ..About::ground(id, title) }
    }

    /// The family in which it is listed, a plain word; without it, its own id.
    #[must_use]
    pub fn family(mut self, family: &str) -> About {
        family.clone_into(&mut self.family);
        self
    }

    /// Adds a name of the trade: language as a BCP 47 tag, name, where the name
    /// is found (a book, or `common practice`).
    #[must_use]
    pub fn also_called(mut self, language: &str, name: &str, source: &str) -> About {
        self.other_names.push(other_name(language, name, source));
        self
    }

    /// The laces in which it is used.
    #[must_use]
    pub fn used_in<const N: usize>(mut self, laces: [&str; N]) -> About {
        self.laces.extend(laces.map(str::to_owned));
        self
    }

    /// Degrees between the footside and the diagonal lines of pins, as usually
    /// pricked; without it, 45.
    #[must_use]
    pub fn angle(mut self, degrees: f64) -> About {
        self.angle = degrees;
        self
    }

    /// What is worth knowing: how it is worked, how it looks.
    #[must_use]
    pub fn notes(mut self, notes: &str) -> About {
        notes.clone_into(&mut self.notes);
        self
    }

    /// Where the stitch order comes from: a book and page, or
    /// `common practice, from memory`. Varieties added later inherit it.
    #[must_use]
    pub fn source(mut self, source: &str) -> About {
        source.clone_into(&mut self.source);
        self
    }

    /// Adds a choice among named options, each an id, a title and whatever the
    /// option stands for (get that back with [`crate::Settings::pick`]). The
    /// first option is the default.
    #[must_use]
    pub fn choose<T>(mut self, id: &str, title: &str, options: &[(&str, &str, T)]) -> About {
        let default = options.first().map_or("", |(id, ..)| *id);
        self.choices.push(Choice {
            id: id.to_owned(),
            title: title.to_owned(),
            default: Value::Named(default.to_owned()),
            range: Range::Named(
                options
                    .iter()
                    .map(|(id, title, _)| OptionOf { id: (*id).to_owned(), title: (*title).to_owned() })
                    .collect(),
            ),
        });
        self
    }

    /// Adds a choice of a whole number in a range, with its default.
    #[must_use]
    pub fn choose_count(mut self, id: &str, title: &str, range: RangeInclusive<i32>, default: i32) -> About {
        self.choices.push(Choice {
            id: id.to_owned(),
            title: title.to_owned(),
            range: Range::Count(range.into_inner()),
            default: Value::Count(default),
        });
        self
    }

    /// Adds a named variety; the first one is the usual one. Without a source
    /// of its own it has that of the whole.
    #[must_use]
    pub fn variety(mut self, mut variety: Variety) -> About {
        if variety.source.is_empty() {
            variety.source.clone_from(&self.source);
        }
        self.varieties.push(variety);
        self
    }
}

impl Variety {
    /// A variety from its id (a plain word) and title, every choice at its
    /// default.
    pub fn new(id: &str, title: &str) -> Variety {
        Variety {
            id: id.to_owned(),
            title: title.to_owned(),
            other_names: Vec::new(),
            settings: Vec::new(),
            notes: String::new(),
            source: String::new(),
        }
    }

    /// Sets a choice: the id of an option, or a number.
    #[must_use]
    pub fn set(mut self, choice: &str, value: impl Into<Value>) -> Variety {
        self.settings.push(Setting { choice: choice.to_owned(), value: value.into() });
        self
    }

    /// Adds a name of the trade: language as a BCP 47 tag, name, where the name
    /// is found.
    #[must_use]
    pub fn also_called(mut self, language: &str, name: &str, source: &str) -> Variety {
        self.other_names.push(other_name(language, name, source));
        self
    }

    /// What is peculiar to it: how it looks, what its colours do.
    #[must_use]
    pub fn notes(mut self, notes: &str) -> Variety {
        notes.clone_into(&mut self.notes);
        self
    }

    /// Where its stitch order comes from.
    #[must_use]
    pub fn source(mut self, source: &str) -> Variety {
        source.clone_into(&mut self.source);
        self
    }
}

impl From<&str> for Value {
    fn from(option: &str) -> Value {
        Value::Named(option.to_owned())
    }
}

impl From<i32> for Value {
    fn from(count: i32) -> Value {
        Value::Count(count)
    }
}

fn other_name(language: &str, name: &str, source: &str) -> OtherName {
    OtherName { language: language.to_owned(), name: name.to_owned(), source: source.to_owned() }
}
