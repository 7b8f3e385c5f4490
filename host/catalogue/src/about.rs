//! A contribution's description of itself, and the choices it offers to the
//! lacemaker.
//!
//! The creator of an [`About`] must ensure that ids are plain words and unique,
//! that texts are harmless and within [`limits`], and that defaults and varieties
//! are within the ranges of their choices.

use std::fmt;

use indexmap::IndexMap;
use thiserror::Error;

use crate::limits;
use crate::near::{listed, nearest};
use crate::text::clean_and_cut;

/// Everything about a contribution that does not depend on choices.
#[derive(Clone, Debug, PartialEq)]
pub struct About {
    /// The plain word that users type.
    pub id: String,
    /// The title that lacemakers read.
    pub title: String,
    /// Ground or filling.
    pub kind: Kind,
    /// The family it is listed in, a plain word.
    pub family: String,
    /// Names in the trade, for all varieties.
    pub other_names: Vec<OtherName>,
    /// Laces that use it.
    pub laces: Vec<String>,
    /// For a filling: id of the ground it is usually set in.
    pub sits_in: Option<String>,
    /// Degrees between the footside and the diagonal lines of pins, 20 to 75.
    pub angle: f64,
    /// The usual distance between two footside pins, in mm, within
    /// [`lace::limits::PIN_SPACING_MM`]; `None` if it names none.
    pub pin_spacing_mm: Option<f64>,
    /// Notes for the lacemaker.
    pub notes: String,
    /// Source of the stitch order.
    pub source: String,
    /// Choices, by id.
    pub choices: IndexMap<String, Choice>,
    /// Named varieties, by id, the usual one first. At least one.
    pub varieties: IndexMap<String, Variety>,
}

/// The purpose of a contribution.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Fills an area of any size.
    Ground,
    /// Set into a ground.
    Filling,
}

/// Another name the trade uses.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OtherName {
    /// Language as a BCP 47 tag.
    pub language: String,
    /// The name.
    pub name: String,
    /// Its source.
    pub source: String,
}

/// A choice for the lacemaker.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Choice {
    /// The title that lacemakers read.
    pub title: String,
    /// The values it can have.
    pub range: Range,
    /// Its default, within the range.
    pub default: Value,
}

/// The values of a choice.
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

/// A set of choices with a name in the trade.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Variety {
    /// The title that lacemakers read.
    pub title: String,
    /// Its names in the trade.
    pub other_names: Vec<OtherName>,
    /// The choices it sets; the others have their defaults.
    pub settings: Settings,
    /// Notes on this variety.
    pub notes: String,
    /// Source of its stitch order.
    pub source: String,
}

/// Values by the ids of their choices.
pub type Settings = IndexMap<String, Value>;

/// A choice changed by the user. It is written as `choice=value`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Change {
    /// The id of the choice.
    pub choice: String,
    /// The value as typed.
    pub value: String,
}

impl Change {
    /// The change of a choice to a value.
    pub fn new(choice: impl Into<String>, value: impl ToString) -> Change {
        Change { choice: choice.into(), value: value.to_string() }
    }
}

impl fmt::Display for Change {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}={}", self.choice, self.value)
    }
}

/// A variety, choice or value that a contribution does not have. The message
/// lists what there is and suggests what was probably meant.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum ResolveError {
    /// An unknown variety.
    #[error("{contribution} has no variety `{wanted}`{}; there are {}", meant(near), listed(known))]
    UnknownVariety {
        /// Id of the contribution.
        contribution: String,
        /// The id or value asked for.
        wanted: String,
        /// The nearest known one, if any is near.
        near: Option<String>,
        /// The known ids.
        known: Vec<String>,
    },
    /// An unknown choice.
    #[error("{contribution} has no choice `{wanted}`{}; {}", meant(near), if known.is_empty() { "nothing can be chosen".into() } else { format!("there are {}", listed(known)) })]
    UnknownChoice {
        /// Id of the contribution.
        contribution: String,
        /// The id or value asked for.
        wanted: String,
        /// The nearest known one, if any is near.
        near: Option<String>,
        /// The known ids.
        known: Vec<String>,
    },
    /// A value that a choice does not have.
    #[error("{contribution}: `{choice}` cannot be `{wanted}`{}; it can be {possible}", meant(near))]
    UnknownValue {
        /// Id of the contribution.
        contribution: String,
        /// The choice.
        choice: String,
        /// The id or value asked for.
        wanted: String,
        /// The nearest known one, if any is near.
        near: Option<String>,
        /// The possible values, in words.
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
    /// Whether a value is in the range.
    pub fn holds(&self, value: &Value) -> bool {
        match (self, value) {
            (Range::Named(options), Value::Named(id)) => options.contains_key(id),
            (Range::Count { least, most }, Value::Count(count)) => (least..=most).contains(&count),
            _ => false,
        }
    }

    /// Parses a value, if it is in the range.
    pub fn read(&self, text: &str) -> Option<Value> {
        let value = match self {
            Range::Named(_) => Value::Named(text.to_owned()),
            Range::Count { .. } => Value::Count(text.parse().ok()?),
        };
        self.holds(&value).then_some(value)
    }

    /// Every value, in order: all options, or all numbers, of which there may be
    /// very many.
    pub fn values(&self) -> impl Iterator<Item = Value> {
        let (options, counts) = match self {
            Range::Named(options) => (Some(options.keys()), None),
            Range::Count { least, most } => (None, Some(*least..=*most)),
        };
        let options = options.into_iter().flatten().cloned().map(Value::Named);
        options.chain(counts.into_iter().flatten().map(Value::Count))
    }

    /// The possible values, in words.
    pub fn in_words(&self) -> String {
        match self {
            Range::Named(options) => listed(options.keys()),
            Range::Count { least, most } => format!("a whole number from {least} to {most}"),
        }
    }
}

impl About {
    /// The pin spacing of a ground that names none, in mm: in torchon footside
    /// pins stand 3 to 5 mm apart (common practice, no source).
    pub const TORCHON_SPACING_MM: f64 = 4.0;

    /// The usual distance between two footside pins, in mm; if the contribution
    /// names none, that of torchon.
    pub fn usual_pin_spacing_mm(&self) -> f64 {
        self.pin_spacing_mm.unwrap_or(About::TORCHON_SPACING_MM)
    }

    /// Every choice with its default.
    pub fn defaults(&self) -> Settings {
        self.choices.iter().map(|(id, choice)| (id.clone(), choice.default.clone())).collect()
    }

    /// The variety used if none is named: the first.
    pub fn usual_variety(&self) -> &str {
        self.varieties.keys().next().map_or("", String::as_str)
    }

    /// The title of a variety; for an unknown one, that of the ground.
    pub fn title_of(&self, variety: &str) -> &str {
        self.varieties.get(variety).map_or(&self.title, |v| &v.title)
    }

    /// Every choice of a variety (of the usual one if none is named), with the
    /// user's changes.
    ///
    /// # Errors
    /// An unknown variety, choice or value; the message lists what there is and
    /// suggests what was probably meant.
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
        for Change { choice, value: text } in changes {
            let range = &self.choice(choice)?.range;
            let value = range.read(text).ok_or_else(|| self.unknown_value(choice, range, text))?;
            settings.insert(choice.clone(), value);
        }
        Ok(settings)
    }

    /// Every choice once, in order: those given, and the others with their
    /// defaults.
    ///
    /// # Errors
    /// An unknown choice or value.
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
