//! What a contribution says about itself, checked on its way in: ids are plain
//! words and unique, texts harmless and of bounded length, defaults and
//! varieties within what may be chosen.

use catalogue::text::{clean, clean_and_cut, is_device, is_plain_word};
use catalogue::{About, Choice, Kind, OtherName, Range, Settings, Value, Variety, nearest};
use indexmap::IndexMap;

use crate::error::{Result, SandboxError};
use crate::limits;
use crate::versions::wire;

/// What the contribution in `file` said, checked.
pub(crate) fn about_in(file: &str, said: wire::Description) -> Result<About> {
    read(said).map_err(|what| SandboxError::BadAbout { file: file.to_owned(), what })
}

/// What has been read, or what is wrong, with the rule.
type Read<T> = std::result::Result<T, String>;

fn read(said: wire::Description) -> Read<About> {
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
    let [least, most] = lace::limits::GRID_ANGLE_DEG;
    if !(least..=most).contains(&said.angle) {
        return Err(format!("the angle is {} degrees; it lies between {least} and {most}", said.angle));
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
            .collect::<Read<_>>()?,
        sits_in: said.sits_in.map(|id| word("the ground it sits in", id)).transpose()?,
        angle: said.angle,
        notes: text("the notes", &said.notes, limits::NOTES_CHARS)?,
        source: text("the source", &said.source, limits::SENTENCE_CHARS)?,
        varieties,
        choices,
    })
}

fn read_choice(id: &str, said: wire::Choice) -> Read<Choice> {
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

fn read_variety(choices: &IndexMap<String, Choice>, id: &str, said: wire::Variety) -> Read<Variety> {
    file_word("the id of a variety", id.to_owned())?;
    let mut settings = Settings::new();
    for (n, setting) in list("settings", limits::CHOICES, said.settings)?.into_iter().enumerate() {
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

fn other_names(of: &str, said: Vec<wire::OtherName>) -> Read<Vec<OtherName>> {
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
    mut read: impl FnMut(&str, W) -> Read<T>,
) -> Read<IndexMap<String, T>> {
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

fn list<T>(what: &str, most: usize, said: Vec<T>) -> Read<Vec<T>> {
    if said.len() > most {
        return Err(format!("there are {} {what}; at most {most} are possible", said.len()));
    }
    Ok(said)
}

fn word(what: &str, said: String) -> Read<String> {
    if is_plain_word(&said) {
        return Ok(said);
    }
    let shown = clean_and_cut(&said, limits::TITLE_CHARS);
    Err(format!(
        "{what} is `{shown}`; it must be a plain word: a to z, 0 to 9 and -, a letter or digit first, at most {} characters",
        limits::WORD_CHARS
    ))
}

/// A plain word by which files are called: on every system.
fn file_word(what: &str, word: String) -> Read<String> {
    if is_device(&word) {
        return Err(format!(
            "{what} is `{word}`, a name that some systems keep for a device, so no file can have it; choose another"
        ));
    }
    Ok(word)
}

fn title(what: &str, said: &str) -> Read<String> {
    let cleaned = text(what, said, limits::TITLE_CHARS)?;
    if cleaned.is_empty() { Err(format!("{what} is empty")) } else { Ok(cleaned) }
}

fn text(what: &str, said: &str, most: usize) -> Read<String> {
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
