//! What a contribution says about itself, checked: ids are plain words and
//! unique, texts harmless and of bounded length, defaults and varieties within
//! what may be chosen.

use std::fmt;

use indexmap::IndexMap;
use serde::Serialize;

use crate::error::{Result, SandboxError};
use crate::limits;
use crate::text::{clean, clean_and_cut, is_device, is_plain_word, nearest};
use crate::versions::wire;

/// Everything about a contribution that does not depend on choices.
#[derive(Clone, Debug, PartialEq, Serialize)]
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
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Kind {
    /// Fills an area of any size.
    Ground,
    /// Is set into a ground.
    Filling,
}

/// Another name the trade uses.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct OtherName {
    /// Language as a BCP 47 tag.
    pub language: String,
    /// The name.
    pub name: String,
    /// Where it is found.
    pub source: String,
}

/// Something the lacemaker may choose.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Choice {
    /// What the lacemaker reads.
    pub title: String,
    /// What it may be set to.
    pub range: Range,
    /// What it is when nobody chooses; within the range.
    pub default: Value,
}

/// What a choice may be set to.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
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
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize)]
#[serde(untagged)]
pub enum Value {
    /// Id of an option.
    Named(String),
    /// A number.
    Count(i32),
}

/// A set of choices that the trade knows.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
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

    /// Every choice of a variety (without one, of the usual variety), changed
    /// by what the user sets: pairs of a choice and a value as text.
    ///
    /// # Errors
    /// A variety, choice or value that is not there; the message says what
    /// there is and what may have been meant.
    pub fn resolve(&self, variety: Option<&str>, with: &[(String, String)]) -> Result<Settings> {
        let variety = match variety {
            Some(id) => self.varieties.get(id).ok_or_else(|| SandboxError::UnknownVariety {
                plugin: self.id.clone(),
                wanted: clean_and_cut(id, limits::TITLE_CHARS),
                near: nearest(id, self.varieties.keys().map(String::as_str)).map(str::to_owned),
                known: self.varieties.keys().cloned().collect(),
            })?,
            None => &self.varieties[0],
        };
        let mut settings = self.defaults();
        settings.extend(variety.settings.clone());
        for (choice, text) in with {
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
    pub fn complete(&self, settings: &Settings) -> Result<Settings> {
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

    fn choice(&self, id: &str) -> Result<&Choice> {
        self.choices.get(id).ok_or_else(|| SandboxError::UnknownChoice {
            plugin: self.id.clone(),
            wanted: clean_and_cut(id, limits::TITLE_CHARS),
            near: nearest(id, self.choices.keys().map(String::as_str)).map(str::to_owned),
            known: self.choices.keys().cloned().collect(),
        })
    }

    fn unknown_value(&self, choice: &str, range: &Range, wanted: &str) -> SandboxError {
        let near = match range {
            Range::Named(options) => nearest(wanted, options.keys().map(String::as_str)).map(str::to_owned),
            Range::Count { .. } => None,
        };
        SandboxError::UnknownValue {
            plugin: self.id.clone(),
            choice: choice.to_owned(),
            wanted: clean_and_cut(wanted, limits::TITLE_CHARS),
            near,
            possible: range.in_words(),
        }
    }

    /// What the contribution in `file` said, checked.
    pub(crate) fn read(file: &str, said: wire::Description) -> Result<About> {
        read(said).map_err(|what| SandboxError::BadAbout { file: file.to_owned(), what })
    }
}

/// What is wrong, with the rule.
type Checked<T> = std::result::Result<T, String>;

fn read(said: wire::Description) -> Checked<About> {
    let choices =
        keyed("choice", "choices", 0..=limits::CHOICES, said.choices, |c| (c.id.clone(), c), read_choice)?;
    let mut read_variety = |id: &str, v: wire::Variety| read_variety(&choices, id, v);
    let varieties = keyed(
        "variety",
        "varieties",
        1..=limits::VARIETIES,
        said.varieties,
        |v| (v.id.clone(), v),
        &mut read_variety,
    )?;
    if !(20.0..=75.0).contains(&said.angle) {
        return Err(format!("the angle is {} degrees; it lies between 20 and 75", said.angle));
    }
    Ok(About {
        id: file_word("the id", word("the id", said.id)?)?,
        title: title("the title", &said.title)?,
        kind: match said.kind {
            wire::Kind::Ground => Kind::Ground,
            wire::Kind::Filling => Kind::Filling,
        },
        family: word("the family", said.family)?,
        other_names: other_names("", said.other_names)?,
        laces: list("laces", limits::NAMES, said.laces)?
            .iter()
            .map(|lace| title("the name of a lace", lace))
            .collect::<Checked<_>>()?,
        sits_in: said.sits_in.map(|id| word("the ground it sits in", id)).transpose()?,
        angle: said.angle,
        notes: text("the notes", &said.notes, limits::NOTES_CHARS)?,
        source: text("the source", &said.source, limits::SENTENCE_CHARS)?,
        varieties,
        choices,
    })
}

fn read_choice(id: &str, said: wire::Choice) -> Checked<Choice> {
    let range = match said.range {
        wire::Range::Named(options) => {
            let (one, many) = (format!("option of `{id}`"), format!("options of `{id}`"));
            let read = |option: &str, o: wire::OptionOf| {
                title(&format!("the title of option `{option}` of `{id}`"), &o.title)
            };
            Range::Named(keyed(&one, &many, 1..=limits::OPTIONS, options, |o| (o.id.clone(), o), read)?)
        }
        wire::Range::Count((least, most)) if least <= most => Range::Count { least, most },
        wire::Range::Count((least, most)) => {
            return Err(format!("choice `{id}` runs from {least} to {most}; the smaller number comes first"));
        }
    };
    let default = value(said.default);
    if !range.holds(&default) {
        let default = clean_and_cut(&default.to_string(), limits::TITLE_CHARS);
        return Err(format!("choice `{id}` is `{default}` by default; it can be {}", range.in_words()));
    }
    Ok(Choice { title: title(&format!("the title of choice `{id}`"), &said.title)?, range, default })
}

fn read_variety(choices: &IndexMap<String, Choice>, id: &str, said: wire::Variety) -> Checked<Variety> {
    file_word("the id of a variety", id.to_owned())?;
    let mut settings = Settings::new();
    for (n, setting) in list("settings", limits::CHOICES, said.settings)?.into_iter().enumerate() {
        let name = clean_and_cut(&setting.choice, limits::TITLE_CHARS);
        let Some(choice) = choices.get(&setting.choice) else {
            return Err(format!(
                "variety `{id}` sets `{name}`, which is no choice; {}",
                there_are(choices, &name)
            ));
        };
        let value = value(setting.value);
        if !choice.range.holds(&value) {
            let value = clean_and_cut(&value.to_string(), limits::TITLE_CHARS);
            return Err(format!(
                "variety `{id}` sets `{name}` to `{value}`; it can be {}",
                choice.range.in_words()
            ));
        }
        if let (first, Some(_)) = settings.insert_full(setting.choice, value) {
            // Every setting before was taken, so places in the map are places
            // in the list.
            return Err(format!(
                "variety `{id}` sets `{name}` twice, in its {} and its {} setting",
                ordinal(first + 1),
                ordinal(n + 1)
            ));
        }
    }
    let of = |what: &str| format!("{what} of variety `{id}`");
    Ok(Variety {
        title: title(&of("the title"), &said.title)?,
        other_names: other_names(&of(""), said.other_names)?,
        settings,
        notes: text(&of("the notes"), &said.notes, limits::NOTES_CHARS)?,
        source: text(&of("the source"), &said.source, limits::SENTENCE_CHARS)?,
    })
}

/// Which choices there are, and which may have been meant.
fn there_are(choices: &IndexMap<String, Choice>, wanted: &str) -> String {
    if choices.is_empty() {
        return "there are no choices".to_owned();
    }
    let ids: Vec<&str> = choices.keys().map(String::as_str).collect();
    let meant = nearest(wanted, ids.iter().copied());
    let meant = meant.map_or_else(String::new, |near| format!(" (did you mean `{near}`?)"));
    format!("the choices are {}{meant}", ids.join(", "))
}

fn value(said: wire::Value) -> Value {
    match said {
        wire::Value::Named(id) => Value::Named(id),
        wire::Value::Count(count) => Value::Count(count),
    }
}

fn other_names(of: &str, said: Vec<wire::OtherName>) -> Checked<Vec<OtherName>> {
    let read = |n: wire::OtherName| {
        let language = clean_and_cut(&n.language, limits::WORD_CHARS);
        let tag = |c: char| c.is_ascii_alphanumeric() || c == '-';
        if language.is_empty() || !n.language.chars().all(tag) || n.language.len() > limits::WORD_CHARS {
            return Err(format!("`{language}` is no language; write a tag such as `en`"));
        }
        Ok(OtherName {
            language,
            name: title(&format!("another name{of}"), &n.name)?,
            source: text(&format!("the source of a name{of}"), &n.source, limits::SENTENCE_CHARS)?,
        })
    };
    list("other names", limits::NAMES, said)?.into_iter().map(read).collect()
}

/// A list with ids as a map, ids checked and unique, its length in range.
fn keyed<W, T>(
    one: &str,
    many: &str,
    count: std::ops::RangeInclusive<usize>,
    said: Vec<W>,
    id: impl Fn(W) -> (String, W),
    mut read: impl FnMut(&str, W) -> Checked<T>,
) -> Checked<IndexMap<String, T>> {
    if !count.contains(&said.len()) {
        return Err(format!(
            "there are {} {many}; {} to {} are possible",
            said.len(),
            count.start(),
            count.end()
        ));
    }
    let mut map = IndexMap::new();
    for (n, item) in said.into_iter().enumerate() {
        let (id, item) = id(item);
        let id = word(&format!("the id of the {} {one}", ordinal(n + 1)), id)?;
        // What came before was taken, so places in the map are places in the list.
        if let Some(first) = map.get_index_of(&id) {
            return Err(format!(
                "there are two {many} called `{id}`, the {} and the {}; rename one of them",
                ordinal(first + 1),
                ordinal(n + 1)
            ));
        }
        let item = read(&id, item)?;
        map.insert(id, item);
    }
    Ok(map)
}

/// `1st`, `2nd`, `3rd`, `4th`, `11th`, `21st`.
fn ordinal(n: usize) -> String {
    let ending = match (n % 10, n % 100) {
        (_, 11..=13) => "th",
        (1, _) => "st",
        (2, _) => "nd",
        (3, _) => "rd",
        _ => "th",
    };
    format!("{n}{ending}")
}

fn list<T>(what: &str, most: usize, said: Vec<T>) -> Checked<Vec<T>> {
    if said.len() > most {
        return Err(format!("there are {} {what}; at most {most} are possible", said.len()));
    }
    Ok(said)
}

fn word(what: &str, said: String) -> Checked<String> {
    if is_plain_word(&said) {
        return Ok(said);
    }
    let shown = clean_and_cut(&said, limits::TITLE_CHARS);
    Err(format!(
        "{what} is `{shown}`; it must be a plain word: a to z, 0 to 9 and -, a letter or digit first, at most 40 characters"
    ))
}

/// A plain word by which files are called: on every system.
fn file_word(what: &str, word: String) -> Checked<String> {
    if is_device(&word) {
        return Err(format!(
            "{what} is `{word}`, the name of a device on some systems, where no file can be called so; choose another"
        ));
    }
    Ok(word)
}

fn title(what: &str, said: &str) -> Checked<String> {
    let cleaned = text(what, said, limits::TITLE_CHARS)?;
    if cleaned.is_empty() { Err(format!("{what} is empty")) } else { Ok(cleaned) }
}

fn text(what: &str, said: &str, most: usize) -> Checked<String> {
    let length = said.chars().count();
    if length > most {
        return Err(format!("{what} is {length} characters long; at most {most} are possible"));
    }
    Ok(clean(said))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_are_counted_as_people_count_them() {
        let said: Vec<String> = [1, 2, 3, 4, 11, 12, 13, 21, 22, 33, 64, 101, 112].map(ordinal).into();
        assert_eq!(
            said,
            [
                "1st", "2nd", "3rd", "4th", "11th", "12th", "13th", "21st", "22nd", "33rd", "64th", "101st",
                "112th"
            ]
        );
    }
}
