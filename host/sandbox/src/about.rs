//! What a contribution says about itself, checked on its way in: ids are unique
//! plain words, texts are harmless and of bounded length, defaults and varieties
//! set only what can be chosen.

use catalogue::near::listed;
use catalogue::text::{clean, clean_and_cut, is_device, is_plain_word, is_visible};
use catalogue::{About, Choice, Kind, OtherName, Range, Settings, Value, Variety, nearest};
use indexmap::IndexMap;

use crate::error::{Result, SandboxError};
use crate::limits;
use crate::versions::wire;

/// Checks the description of the contribution in `file`.
pub(crate) fn about_in(file: &str, raw: wire::Description) -> Result<About> {
    read(raw).map_err(|what| SandboxError::BadAbout { file: file.to_owned(), what })
}

/// The value read, or what is wrong with it and the rule it breaks.
type Read<T> = std::result::Result<T, String>;

fn read(raw: wire::Description) -> Read<About> {
    let choices =
        keyed("choice", "choices", 0..=limits::CHOICES, raw.choices, |c| (c.id.clone(), c), read_choice)?;
    let mut read_variety = |id: &str, v: wire::Variety| read_variety(&choices, id, v);
    let varieties = keyed(
        "variety",
        "varieties",
        1..=limits::VARIETIES,
        raw.varieties,
        |v| (v.id.clone(), v),
        &mut read_variety,
    )?;
    let [least, most] = lace::limits::GRID_ANGLE_DEG;
    if !(least..=most).contains(&raw.angle) {
        return Err(format!("the angle is {} degrees; it lies between {least} and {most}", raw.angle));
    }
    let [least, most] = lace::limits::PIN_SPACING_MM;
    if let Some(spacing) = raw.pin_spacing.filter(|spacing| !(least..=most).contains(spacing)) {
        return Err(format!("the pin spacing is {spacing} mm; it lies between {least} and {most}"));
    }
    Ok(About {
        id: file_word("the id", word("the id", raw.id)?)?,
        title: title("the title", &raw.title)?,
        kind: match raw.kind {
            wire::Kind::Ground => Kind::Ground,
            wire::Kind::Filling => Kind::Filling,
        },
        family: word("the family", raw.family)?,
        other_names: other_names("", raw.other_names)?,
        laces: list("laces", limits::NAMES, raw.laces)?
            .iter()
            .map(|lace| title("the name of a lace", lace))
            .collect::<Read<_>>()?,
        sits_in: raw.sits_in.map(|id| word("the ground it sits in", id)).transpose()?,
        angle: raw.angle,
        pin_spacing_mm: raw.pin_spacing,
        notes: text("the notes", &raw.notes, limits::NOTES_CHARS)?,
        source: text("the source", &raw.source, limits::SENTENCE_CHARS)?,
        varieties,
        choices,
    })
}

fn read_choice(id: &str, raw: wire::Choice) -> Read<Choice> {
    let range = match raw.range {
        wire::Range::Named(options) => {
            let (one, many) = (format!("option of `{id}`"), format!("options of `{id}`"));
            let read = |option: &str, o: wire::OptionOf| {
                title(&format!("the title of option `{option}` of `{id}`"), &o.title)
            };
            Range::Named(keyed(&one, &many, 1..=limits::OPTIONS, options, |o| (o.id.clone(), o), read)?)
        }
        wire::Range::Count((least, most)) if least <= most => {
            let values = i64::from(most) - i64::from(least) + 1;
            if values > limits::COUNT_VALUES {
                return Err(format!(
                    "choice `{id}` has {values} values, from {least} to {most}; at most {} are possible",
                    limits::COUNT_VALUES
                ));
            }
            Range::Count { least, most }
        }
        wire::Range::Count((least, most)) => {
            return Err(format!("choice `{id}` runs from {least} to {most}; the smaller number comes first"));
        }
    };
    let default = value(raw.default);
    if !range.holds(&default) {
        let default = clean_and_cut(&default.to_string(), limits::TITLE_CHARS);
        return Err(format!("choice `{id}` is `{default}` by default; it can be {}", range.in_words()));
    }
    Ok(Choice { title: title(&format!("the title of choice `{id}`"), &raw.title)?, range, default })
}

fn read_variety(choices: &IndexMap<String, Choice>, id: &str, raw: wire::Variety) -> Read<Variety> {
    let mut settings = Settings::new();
    for (n, setting) in list("settings", limits::CHOICES, raw.settings)?.into_iter().enumerate() {
        let name = clean_and_cut(&setting.choice, limits::TITLE_CHARS);
        let Some(choice) = choices.get(&setting.choice) else {
            return Err(format!(
                "variety `{id}` sets `{name}`, which is not one of its choices; {}",
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
            // All earlier settings were accepted, so positions in the map are
            // positions in the list.
            return Err(format!(
                "variety `{id}` sets `{name}` twice, in its {} and its {} setting",
                ordinal(first + 1),
                ordinal(n + 1)
            ));
        }
    }
    let of = |what: &str| format!("{what} of variety `{id}`");
    Ok(Variety {
        title: title(&of("the title"), &raw.title)?,
        other_names: other_names(&of(""), raw.other_names)?,
        settings,
        notes: text(&of("the notes"), &raw.notes, limits::NOTES_CHARS)?,
        source: text(&of("the source"), &raw.source, limits::SENTENCE_CHARS)?,
    })
}

/// Lists the choices, and suggests the one that may have been meant.
fn there_are(choices: &IndexMap<String, Choice>, name: &str) -> String {
    if choices.is_empty() {
        return "there are no choices".to_owned();
    }
    let ids: Vec<&str> = choices.keys().map(String::as_str).collect();
    let meant = nearest(name, ids.iter().copied());
    let meant = meant.map_or_else(String::new, |near| format!(" (did you mean `{near}`?)"));
    format!("the choices are {}{meant}", listed(&ids))
}

fn value(raw: wire::Value) -> Value {
    match raw {
        wire::Value::Named(id) => Value::Named(id),
        wire::Value::Count(count) => Value::Count(count),
    }
}

fn other_names(of: &str, raw: Vec<wire::OtherName>) -> Read<Vec<OtherName>> {
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
    list("other names", limits::NAMES, raw)?.into_iter().map(read).collect()
}

/// Turns a list with ids into a map; checks its length and that the ids are
/// unique plain words that can name files: pages and pictures are named after
/// them.
fn keyed<W, T>(
    one: &str,
    many: &str,
    count: std::ops::RangeInclusive<usize>,
    raw: Vec<W>,
    id: impl Fn(W) -> (String, W),
    mut read: impl FnMut(&str, W) -> Read<T>,
) -> Read<IndexMap<String, T>> {
    if !count.contains(&raw.len()) {
        return Err(format!(
            "there are {} {many}; {} to {} are possible",
            raw.len(),
            count.start(),
            count.end()
        ));
    }
    let mut map = IndexMap::new();
    for (n, item) in raw.into_iter().enumerate() {
        let (id, item) = id(item);
        let what = format!("the id of the {} {one}", ordinal(n + 1));
        let id = file_word(&what, word(&what, id)?)?;
        // All earlier items were accepted, so positions in the map are positions in the list.
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

fn list<T>(what: &str, most: usize, raw: Vec<T>) -> Read<Vec<T>> {
    if raw.len() > most {
        return Err(format!("there are {} {what}; at most {most} are possible", raw.len()));
    }
    Ok(raw)
}

fn word(what: &str, raw: String) -> Read<String> {
    if is_plain_word(&raw) {
        return Ok(raw);
    }
    let shown = clean_and_cut(&raw, limits::TITLE_CHARS);
    Err(format!(
        "{what} is `{shown}`; it must be a plain word: a to z, 0 to 9 and -, a letter or digit first, at most {} characters",
        limits::WORD_CHARS
    ))
}

/// A plain word that can name a file on every system.
fn file_word(what: &str, word: String) -> Read<String> {
    if is_device(&word) {
        return Err(format!(
            "{what} is `{word}`, a name that some systems keep for a device, so no file can have it; choose another"
        ));
    }
    Ok(word)
}

fn title(what: &str, raw: &str) -> Read<String> {
    let cleaned = text(what, raw, limits::TITLE_CHARS)?;
    if cleaned.is_empty() {
        return Err(format!("{what} is empty"));
    }
    if !is_visible(&cleaned) {
        return Err(format!("{what} has only characters that cannot be seen; write letters or digits"));
    }
    Ok(cleaned)
}

fn text(what: &str, raw: &str, most: usize) -> Read<String> {
    let length = raw.chars().count();
    if length > most {
        return Err(format!("{what} is {length} characters long; at most {most} are possible"));
    }
    Ok(clean(raw))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn positions_are_written_as_english_ordinals() {
        let raw: Vec<String> = [1, 2, 3, 4, 11, 12, 13, 21, 22, 33, 64, 101, 112].map(ordinal).into();
        assert_eq!(
            raw,
            [
                "1st", "2nd", "3rd", "4th", "11th", "12th", "13th", "21st", "22nd", "33rd", "64th", "101st",
                "112th"
            ]
        );
    }
}
