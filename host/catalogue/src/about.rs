//! What a contribution says of itself, and the choices it leaves to the
//! lacemaker.
//!
//! Whoever makes an [`About`] sees to it that ids are plain words and unique,
//! texts harmless and no longer than [`limits`] says, and that defaults and
//! varieties lie within what may be chosen.

use std::fmt;

use indexmap::IndexMap;
use thiserror::Error;

use crate::limits;
use crate::near::nearest;
use crate::text::clean_and_cut;

/// Everything about a contribution that does not depend on choices.
#[derive(Clone, Debug, PartialEq)]
pub struct About {
    /// Plain word by which users name it.
    pub id: String,
    /// What the lacemaker reads.
    pub title: String,
    /// Ground or filling.
    pub kind: Kind,
    /// Family in which it is listed, a plain word.
    pub family: String,
    /// Names of the whole family in the trade.
    pub other_names: Vec<OtherName>,
    /// Laces in which it is used.
    pub laces: Vec<String>,
    /// For a filling: id of the ground it is usually set in.
    pub sits_in: Option<String>,
    /// Degrees between the footside and the diagonal lines of pins, 20 to 75.
    pub angle: f64,
    /// What is worth knowing.
    pub notes: String,
    /// Where the stitch order comes from.
    pub source: String,
    /// What may be chosen, by id.
    pub choices: IndexMap<String, Choice>,
    /// Named varieties, by id, the usual one first. At least one.
    pub varieties: IndexMap<String, Variety>,
}

/// What a contribution is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Fills an area of any size.
    Ground,
    /// Is set into a ground.
    Filling,
}

/// Another name the trade uses.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OtherName {
    /// Language as a BCP 47 tag.
    pub language: String,
    /// The name.
    pub name: String,
    /// Where it is found.
    pub source: String,
}

/// Something the lacemaker may choose.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Choice {
    /// What the lacemaker reads.
    pub title: String,
    /// What it may be set to.
    pub range: Range,
    /// What it is when nobody chooses; within the range.
    pub default: Value,
}

/// What a choice may be set to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Range {
    /// One of these options: their titles by id.
    Named(IndexMap<String, String>),
    /// A whole number.
    Count {
        /// The smallest possible.
        least: i32,
        /// The largest possible.
        most: i32,
    },
}

/// The value of a choice.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Value {
    /// Id of an option.
    Named(String),
    /// A number.
    Count(i32),
}

/// A set of choices that the trade knows.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Variety {
    /// What the lacemaker reads.
    pub title: String,
    /// Its names in the trade.
    pub other_names: Vec<OtherName>,
    /// The choices it makes; the others are at their defaults.
    pub settings: Settings,
    /// What is peculiar to it.
    pub notes: String,
    /// Where its stitch order comes from.
    pub source: String,
}

/// Values by the id of their choice.
pub type Settings = IndexMap<String, Value>;

/// A choice made by hand: its id, and the value as it is typed.
pub type Change = (String, String);

/// A variety, choice or value that a contribution does not have. The message
/// says what there is and what may have been meant.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum ResolveError {
    /// A variety that is not there.
    #[error("{contribution} has no variety `{wanted}`{}; there are {}", meant(near), known.join(", "))]
    UnknownVariety {
        /// Id of the contribution.
        contribution: String,
        /// What was asked for.
        wanted: String,
        /// What may have been meant.
        near: Option<String>,
        /// What there is.
        known: Vec<String>,
    },
    /// A choice that is not there.
    #[error("{contribution} has no choice `{wanted}`{}; {}", meant(near), if known.is_empty() { "nothing can be chosen".into() } else { format!("there are {}", known.join(", ")) })]
    UnknownChoice {
        /// Id of the contribution.
        contribution: String,
        /// What was asked for.
        wanted: String,
        /// What may have been meant.
        near: Option<String>,
        /// What there is.
        known: Vec<String>,
    },
    /// A value that a choice does not have.
    #[error("{contribution}: `{choice}` cannot be `{wanted}`{}; it can be {possible}", meant(near))]
    UnknownValue {
        /// Id of the contribution.
        contribution: String,
        /// The choice.
        choice: String,
        /// What was asked for.
        wanted: String,
        /// What may have been meant.
        near: Option<String>,
        /// What it can be.
        possible: String,
    },
}

fn meant(near: &Option<String>) -> String {
    near.as_ref().map_or_else(String::new, |near| format!(" (did you mean `{near}`?)"))
}

impl fmt::Display for Value {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Value::Named(id) => f.write_str(id),
            Value::Count(count) => write!(f, "{count}"),
        }
    }
}

impl Range {
    /// Whether a value lies in the range.
    pub fn holds(&self, value: &Value) -> bool {
        match (self, value) {
            (Range::Named(options), Value::Named(id)) => options.contains_key(id),
            (Range::Count { least, most }, Value::Count(count)) => (least..=most).contains(&count),
            _ => false,
        }
    }

    /// The value a text stands for, if it lies in the range.
    pub fn read(&self, text: &str) -> Option<Value> {
        let value = match self {
            Range::Named(_) => Value::Named(text.to_owned()),
            Range::Count { .. } => Value::Count(text.parse().ok()?),
        };
        self.holds(&value).then_some(value)
    }

    /// Every value, in order: all options, or all numbers.
    pub fn values(&self) -> Vec<Value> {
        match self {
            Range::Named(options) => options.keys().cloned().map(Value::Named).collect(),
            Range::Count { least, most } => (*least..=*most).map(Value::Count).collect(),
        }
    }

    /// What is possible, in words.
    pub fn in_words(&self) -> String {
        match self {
            Range::Named(options) => options.keys().cloned().collect::<Vec<_>>().join(", "),
            Range::Count { least, most } => format!("a whole number from {least} to {most}"),
        }
    }
}

impl About {
    /// Every choice at its default.
    pub fn defaults(&self) -> Settings {
        self.choices.iter().map(|(id, choice)| (id.clone(), choice.default.clone())).collect()
    }

    /// The variety meant where none is named: the first.
    pub fn usual_variety(&self) -> &str {
        self.varieties.keys().next().map_or("", String::as_str)
    }

    /// The title of a variety; of one that is not there, that of the whole.
    pub fn title_of(&self, variety: &str) -> &str {
        self.varieties.get(variety).map_or(&self.title, |v| &v.title)
    }

    /// Every choice of a variety (without one, of the usual variety), changed
    /// by what the user sets.
    ///
    /// # Errors
    /// A variety, choice or value that is not there; the message says what
    /// there is and what may have been meant.
    pub fn resolve(&self, variety: Option<&str>, changes: &[Change]) -> Result<Settings, ResolveError> {
        let variety = match variety {
            Some(id) => Some(self.varieties.get(id).ok_or_else(|| ResolveError::UnknownVariety {
                contribution: self.id.clone(),
                wanted: clean_and_cut(id, limits::TITLE_CHARS),
                near: nearest(id, self.varieties.keys().map(String::as_str)).map(str::to_owned),
                known: self.varieties.keys().cloned().collect(),
            })?),
            None => self.varieties.values().next(),
        };
        let mut settings = self.defaults();
        settings.extend(variety.into_iter().flat_map(|variety| variety.settings.clone()));
        for (choice, text) in changes {
            let range = &self.choice(choice)?.range;
            let value = range.read(text).ok_or_else(|| self.unknown_value(choice, range, text))?;
            settings.insert(choice.clone(), value);
        }
        Ok(settings)
    }

    /// Every choice once, in the order of the choices: those given, the others
    /// at their defaults.
    ///
    /// # Errors
    /// A choice or value that is not there.
    pub fn complete(&self, settings: &Settings) -> Result<Settings, ResolveError> {
        let mut complete = self.defaults();
        for (choice, value) in settings {
            let range = &self.choice(choice)?.range;
            if !range.holds(value) {
                return Err(self.unknown_value(choice, range, &value.to_string()));
            }
            complete.insert(choice.clone(), value.clone());
        }
        Ok(complete)
    }

    fn choice(&self, id: &str) -> Result<&Choice, ResolveError> {
        self.choices.get(id).ok_or_else(|| ResolveError::UnknownChoice {
            contribution: self.id.clone(),
            wanted: clean_and_cut(id, limits::TITLE_CHARS),
            near: nearest(id, self.choices.keys().map(String::as_str)).map(str::to_owned),
            known: self.choices.keys().cloned().collect(),
        })
    }

    fn unknown_value(&self, choice: &str, range: &Range, wanted: &str) -> ResolveError {
        let near = match range {
            Range::Named(options) => nearest(wanted, options.keys().map(String::as_str)).map(str::to_owned),
            Range::Count { .. } => None,
        };
        ResolveError::UnknownValue {
            contribution: self.id.clone(),
            choice: choice.to_owned(),
            wanted: clean_and_cut(wanted, limits::TITLE_CHARS),
            near,
            possible: range.in_words(),
        }
    }
}
