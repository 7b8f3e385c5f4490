//! The fields of a recipe file, with their places in the text.

use std::collections::BTreeMap;

use serde::Deserialize;
use toml::{Spanned, Value};

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub(super) struct File {
    pub format: Spanned<String>,
    pub title: Spanned<String>,
    pub class: Option<String>,
    pub notes: Option<Spanned<String>>,
    pub paper: Option<Spanned<String>>,
    pub pin_spacing: Option<Spanned<f64>>,
    pub thread: Option<Spanned<String>>,
    pub colours: Option<Spanned<Vec<Spanned<Value>>>>,
    pub arrangement: Option<Spanned<String>>,
    #[serde(default, rename = "ground")]
    pub grounds: Vec<Spanned<GroundText>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub(super) struct GroundText {
    pub name: Spanned<String>,
    #[serde(default)]
    pub with: BTreeMap<Spanned<String>, Spanned<Value>>,
    pub arrangement: Option<Spanned<String>>,
    pub area: Option<Spanned<String>>,
    pub pin_spacing: Option<Spanned<f64>>,
    pub notes: Option<Spanned<String>>,
}
