//! The JSON Schema of every format, generated from the structs.
//!
//! The same schemas lie in the folder `schemas` of this crate, for programs in
//! other languages.

use schemars::generate::SchemaSettings;
use schemars::transform::{Transform, transform_subschemas};
use schemars::{JsonSchema, Schema, SchemaGenerator};

use crate::{check, explore, facts, gallery, grid, grounds, piece, trace};

/// A format.
#[derive(Clone, Copy, Debug)]
pub struct Format {
    /// Name and number, such as `pairwise-facts/1`.
    pub name: &'static str,
    /// Where it is met.
    pub written_by: &'static str,
    root: fn(SchemaGenerator) -> Schema,
}

/// Every format, in the order of the alphabet.
pub const FORMATS: [Format; 8] = [
    Format { name: check::FORMAT, written_by: "`pairwise check --json`", root: root::<check::Check> },
    Format {
        name: explore::FORMAT,
        written_by: "`pairwise gallery`, in `data/grounds.js` behind `var pairwise = `",
        root: explore_root,
    },
    Format { name: facts::FORMAT, written_by: "`pairwise facts GROUND --json`", root: root::<facts::Facts> },
    Format {
        name: gallery::FORMAT,
        written_by: "`pairwise gallery`, in `pairwise-gallery.json`",
        root: root::<gallery::Mark>,
    },
    Format { name: grid::FORMAT, written_by: "`pairwise grid --index FILE`", root: root::<grid::Grid> },
    Format { name: grounds::FORMAT, written_by: "`pairwise grounds --json`", root: root::<grounds::Grounds> },
    Format { name: piece::FORMAT, written_by: "`pairwise piece FILE --json`", root: root::<piece::Piece> },
    Format { name: trace::FORMAT, written_by: "`pairwise trace GROUND --json`", root: root::<trace::Trace> },
];

impl Format {
    /// The schema (JSON Schema 2020-12) of what is written.
    pub fn schema(&self) -> Schema {
        let settings = SchemaSettings::draft2020_12().for_serialize().with_transform(InOneLine);
        (self.root)(settings.into_generator())
    }

    /// The file of the schema: `facts-1.schema.json` for `pairwise-facts/1`.
    pub fn file(&self) -> String {
        let name = self.name.trim_start_matches("pairwise-").replace('/', "-");
        format!("{name}.schema.json")
    }
}

/// With what other files of a gallery hold.
fn explore_root(mut generator: SchemaGenerator) -> Schema {
    generator.subschema_for::<explore::Large>();
    root::<explore::Explore>(generator)
}

fn root<T: JsonSchema>(generator: SchemaGenerator) -> Schema {
    generator.into_root_schema_for::<T>()
}

/// Undoes the line breaks of comments, which mean nothing in a description.
#[derive(Clone, Debug)]
struct InOneLine;

impl Transform for InOneLine {
    fn transform(&mut self, schema: &mut Schema) {
        if let Some(text) = schema.get("description").and_then(|d| d.as_str()) {
            let paragraphs = text.split("\n\n").map(|part| part.replace('\n', " "));
            let joined = paragraphs.collect::<Vec<_>>().join("\n\n");
            schema.insert("description".to_owned(), joined.into());
        }
        transform_subschemas(self, schema);
    }
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use super::*;

    const FOLDER: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/schemas");

    /// What programs in other languages read is what the structs say.
    /// `PAIRWISE_BLESS=1` writes the schemas anew and fails, so that a changed
    /// format can never pass unseen.
    #[test]
    fn the_schemas_in_the_folder_are_those_of_the_structs() {
        let bless = std::env::var_os("PAIRWISE_BLESS").is_some();
        let mut differ = Vec::new();
        for format in FORMATS {
            let text = crate::pretty(&format.schema()).unwrap();
            let path = Path::new(FOLDER).join(format.file());
            if std::fs::read_to_string(&path).ok().as_deref() != Some(&text) {
                differ.push(format.file());
                if bless {
                    std::fs::write(&path, text).unwrap();
                }
            }
        }
        let names: Vec<String> = std::fs::read_dir(FOLDER)
            .unwrap()
            .map(|file| file.unwrap().file_name().into_string().unwrap())
            .filter(|name| FORMATS.iter().all(|format| format.file() != *name))
            .collect();
        assert!(names.is_empty(), "schemas of no format: {names:?}");
        assert!(differ.is_empty(), "not as the structs say (PAIRWISE_BLESS=1 writes them): {differ:?}");
    }

    #[test]
    fn every_key_says_what_it_holds() {
        for format in FORMATS {
            let schema = format.schema().to_value();
            assert_eq!(schema["title"], format.name);
            assert_eq!(schema["properties"]["format"]["const"], format.name);
            let mut silent = Vec::new();
            list_silent(&schema, "", &mut silent);
            assert!(silent.is_empty(), "{}: without description: {silent:?}", format.name);
        }
    }

    /// Lists the keys that have no description, by their places.
    fn list_silent(schema: &serde_json::Value, place: &str, silent: &mut Vec<String>) {
        let Some(object) = schema.as_object() else { return };
        for (key, inner) in object {
            let place = format!("{place}/{key}");
            if key == "properties" {
                let properties = inner.as_object().unwrap();
                // One key alone says which kind of thing it is, and the description is
                // that of the whole.
                let described = properties.len() == 1 && object.contains_key("description");
                for (name, property) in properties {
                    let text = property["description"].as_str().unwrap_or_default();
                    if text.trim().is_empty() && !described {
                        silent.push(format!("{place}/{name}"));
                    }
                    list_silent(property, &format!("{place}/{name}"), silent);
                }
            } else {
                match inner {
                    serde_json::Value::Array(all) => all.iter().for_each(|i| list_silent(i, &place, silent)),
                    inner => list_silent(inner, &place, silent),
                }
            }
        }
    }

    #[test]
    fn the_read_me_names_every_format() {
        let text = include_str!("../README.md");
        for Format { name, written_by, .. } in FORMATS {
            assert!(text.contains(&format!("| `{name}` | {written_by} |")), "{name}");
        }
    }
}
