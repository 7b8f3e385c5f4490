//! The keys of a chart, with their places in the text.

use std::collections::BTreeMap;

use serde::Deserialize;
use toml::Spanned;

/// Two numbers in square brackets. A list read as two would hide a third.
#[derive(Deserialize)]
#[serde(try_from = "Vec<T>", bound = "T: Deserialize<'de>")]
pub(super) struct Two<T>(pub [T; 2]);

impl<T> TryFrom<Vec<T>> for Two<T> {
    type Error = String;

    fn try_from(list: Vec<T>) -> Result<Two<T>, String> {
        // Worded as the parser does, so that it is told in the same way.
        let two = |list: Vec<T>| format!("invalid length {}, expected an array of length 2", list.len());
        list.try_into().map(Two).map_err(two)
    }
}

/// What is left out.
fn nothing<T: Default>() -> Spanned<T> {
    Spanned::new(0..0, T::default())
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub(super) struct File {
    pub format: Spanned<String>,
    pub about: Spanned<AboutText>,
    pub repeat: Spanned<RepeatText>,
    #[serde(default)]
    pub works: BTreeMap<Spanned<String>, Spanned<String>>,
    #[serde(default, rename = "stitch")]
    pub stitches: Vec<StitchText>,
    #[serde(default, rename = "choice")]
    pub choices: Vec<ChoiceText>,
    #[serde(default, rename = "variety")]
    pub varieties: Vec<VarietyText>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub(super) struct AboutText {
    pub id: Spanned<String>,
    pub title: Spanned<String>,
    #[serde(default)]
    pub sits_in: Option<Spanned<String>>,
    #[serde(default)]
    pub family: Option<Spanned<String>>,
    #[serde(default = "nothing")]
    pub laces: Spanned<Vec<Spanned<String>>>,
    #[serde(default)]
    pub angle: Option<Spanned<f64>>,
    #[serde(default)]
    pub usual_pin_spacing: Option<Spanned<f64>>,
    #[serde(default = "nothing")]
    pub notes: Spanned<String>,
    pub source: Spanned<String>,
    #[serde(default = "nothing")]
    pub names: Spanned<Vec<NameText>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct NameText {
    pub language: Spanned<String>,
    pub name: Spanned<String>,
    pub source: Spanned<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RepeatText {
    pub across: Spanned<Two<f64>>,
    pub down: Spanned<Two<f64>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct StitchText {
    pub id: Spanned<String>,
    pub at: Spanned<Two<f64>>,
    pub work: Spanned<String>,
    pub left: Option<Spanned<ExitText>>,
    pub right: Option<Spanned<ExitText>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ExitText {
    pub to: Option<Spanned<String>>,
    pub enters: Option<Spanned<String>>,
    pub at: Option<Spanned<Two<f64>>>,
    pub twists: Option<Spanned<TwistsText>>,
}

#[derive(Deserialize)]
#[serde(untagged)]
pub(super) enum TwistsText {
    Count(i64),
    Choice(String),
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ChoiceText {
    pub id: Spanned<String>,
    pub title: Spanned<String>,
    pub options: Option<Spanned<Vec<OptionText>>>,
    pub count: Option<Spanned<Two<i64>>>,
    pub usual: Option<Spanned<i64>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct OptionText {
    pub id: Spanned<String>,
    pub title: Option<String>,
    pub work: Spanned<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct VarietyText {
    pub id: Spanned<String>,
    pub title: Spanned<String>,
    #[serde(default = "nothing")]
    pub notes: Spanned<String>,
    #[serde(default = "nothing")]
    pub source: Spanned<String>,
    #[serde(default = "nothing")]
    pub names: Spanned<Vec<NameText>>,
    #[serde(default)]
    pub set: BTreeMap<Spanned<String>, Spanned<SetText>>,
}

#[derive(Deserialize)]
#[serde(untagged)]
pub(super) enum SetText {
    Count(i64),
    Option(String),
}
