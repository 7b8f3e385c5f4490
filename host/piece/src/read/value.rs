//! Single values of the text: words, numbers, places, and what is said when something
//! else stands there.

use std::ops::{Range, RangeInclusive};

use lace::{Point, Stitch, number, point, quote};
use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::Reader;

/// A value with its place.
pub(super) type Value<'t> = Spanned<DeValue<'t>>;

/// The keys of a part of the text, as they are asked for.
pub(super) struct Fields<'t> {
    table: &'t DeTable<'t>,
    /// Where the part stands.
    pub at: Range<usize>,
    known: Vec<&'static str>,
}

impl<'t> Fields<'t> {
    pub fn new(table: &'t DeTable<'t>, at: Range<usize>) -> Fields<'t> {
        Fields { table, at, known: Vec::new() }
    }

    /// The value of a key.
    pub fn get(&mut self, key: &'static str) -> Option<&'t Value<'t>> {
        self.known.push(key);
        self.table.iter().find(|(name, _)| name.get_ref() == key).map(|(_, value)| value)
    }
}

/// What stands in the place of what was wanted.
fn kind(value: &DeValue<'_>) -> &'static str {
    match value {
        DeValue::String(_) => "words",
        DeValue::Integer(_) => "a whole number",
        DeValue::Float(_) => "a number",
        DeValue::Boolean(_) => "true or false",
        DeValue::Datetime(_) => "a date",
        DeValue::Array(_) => "a list",
        DeValue::Table(_) => "a part with keys of its own",
    }
}

impl Reader<'_> {
    fn other(&mut self, value: &Value<'_>, wanted: &str, example: &str) {
        let sentence = format!("here stands {}, and {wanted} needed", kind(value.get_ref()));
        self.fault(value.span(), sentence, format!("for example {example}"));
    }

    /// Reports the keys that nothing asked for.
    pub(super) fn leave(&mut self, fields: &Fields<'_>) {
        for (key, _) in fields.table {
            if !fields.known.contains(&key.get_ref().as_ref()) {
                let known = catalogue::near::listed(&fields.known);
                let all = format!("here can stand {known}");
                let sentence = format!("`{}` means nothing here", quote(key.get_ref()));
                self.fault(
                    key.span(),
                    sentence,
                    catalogue::suggest(key.get_ref(), fields.known.iter().copied(), &all),
                );
            }
        }
    }

    /// Words in quotation marks.
    pub(super) fn words<'t>(&mut self, value: &'t Value<'_>, example: &str) -> Option<&'t str> {
        let words = value.get_ref().as_str();
        if words.is_none() {
            self.other(value, "words in quotation marks are", example);
        }
        words
    }

    /// One of several words.
    pub(super) fn one_of<T: Copy>(
        &mut self,
        value: &Value<'_>,
        all: &[(&str, T)],
        example: &str,
    ) -> Option<T> {
        let words = self.words(value, example)?;
        let found = all.iter().find(|(word, _)| word.eq_ignore_ascii_case(words.trim())).map(|(_, one)| *one);
        if found.is_none() {
            let names: Vec<String> = all.iter().map(|(word, _)| format!("\"{word}\"")).collect();
            let sentence = format!("`{}` cannot stand here", quote(words));
            self.fault(value.span(), sentence, format!("write {}", names.join(" or ")));
        }
        found
    }

    /// A number, whole or not.
    pub(super) fn number(&mut self, value: &Value<'_>, example: &str) -> Option<f64> {
        let read = match value.get_ref() {
            DeValue::Integer(whole) => {
                i64::from_str_radix(whole.as_str(), whole.radix()).ok().map(|n| n as f64)
            }
            DeValue::Float(float) => float.as_str().parse().ok(),
            _ => {
                self.other(value, "a number is", example);
                return None;
            }
        };
        let finite = read.filter(|number: &f64| number.is_finite() && number.abs() <= 1e9);
        if finite.is_none() {
            self.fault(value.span(), "this number cannot be meant", format!("for example {example}"));
        }
        finite
    }

    /// A whole number within bounds; `beyond` says what is wrong with others.
    pub(super) fn whole(
        &mut self,
        value: &Value<'_>,
        bounds: RangeInclusive<usize>,
        beyond: impl Fn(&str) -> String,
        example: &str,
    ) -> Option<usize> {
        let DeValue::Integer(whole) = value.get_ref() else {
            self.other(value, "a whole number is", example);
            return None;
        };
        let read = i64::from_str_radix(whole.as_str(), whole.radix());
        let within = read.as_ref().ok().and_then(|&n| usize::try_from(n).ok()).filter(|n| bounds.contains(n));
        if within.is_none() {
            let written = read.map_or_else(|_| quote(whole.as_str()), |n| n.to_string());
            let remedy = format!(
                "write a whole number from {} to {}, for example {example}",
                bounds.start(),
                bounds.end()
            );
            self.fault(value.span(), beyond(&written), remedy);
        }
        within
    }

    /// The entries of a list, if there are as many as wanted.
    pub(super) fn list<'t>(
        &mut self,
        value: &'t Value<'t>,
        wanted: usize,
        what: &str,
        example: &str,
    ) -> Option<&'t [Value<'t>]> {
        let Some(list) = value.get_ref().as_array() else {
            self.other(value, what, example);
            return None;
        };
        if list.len() != wanted {
            let sentence = format!(
                "here {}, and {wanted} are needed",
                match list.len() {
                    0 => "stands nothing".to_owned(),
                    1 => "stands one value".to_owned(),
                    n => format!("stand {n} values"),
                }
            );
            self.fault(value.span(), sentence, format!("for example {example}"));
            return None;
        }
        Some(&list[..])
    }

    /// A place in grid steps.
    pub(super) fn place(&mut self, value: &Value<'_>) -> Option<Point> {
        const EXAMPLE: &str =
            "at = [-1, 5]: steps to the right of the first pin (with - to the left), then rows down";
        let [x, y] = self.list(value, 2, "a place of two numbers is", EXAMPLE)? else { return None };
        let [x, y] = [x, y].map(|one| self.number(one, EXAMPLE));
        Some(point(x?, y?))
    }

    /// A stitch in words or letters.
    pub(super) fn stitch(&mut self, value: &Value<'_>, example: &str) -> Option<Stitch> {
        let words = self.words(value, example)?;
        match Stitch::from_words(words) {
            Ok(stitch) if stitch.moves().is_empty() => {
                let sentence = "this stitch has no moves, so its pairs would not meet";
                self.fault(value.span(), sentence, format!("for example {example}"));
                None
            }
            Ok(stitch) => Some(stitch),
            Err(why) => {
                let remedy = format!("for example {example}; understood are {}", lace::STITCH_PHRASES);
                self.fault(value.span(), why.to_string(), remedy);
                None
            }
        }
    }

    /// A row, counted from the first pin.
    pub(super) fn row(&mut self, value: &Value<'_>, example: &str) -> Option<f64> {
        let row = self.number(value, example)?;
        let most = lace::MAX_PIECE_ROWS as f64;
        if !(0.0..=most).contains(&row) {
            let sentence = format!("no piece has a row {}", number(row));
            let remedy =
                format!("rows are counted from the first pin, which is row 0, to {most} at most: {example}");
            self.fault(value.span(), sentence, remedy);
            return None;
        }
        Some(row)
    }
}
