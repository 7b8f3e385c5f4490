//! Reference values from other sources, in `tests/data`; its README names the
//! sources.

use std::fs;

use serde::de::DeserializeOwned;

/// The text of a file in `tests/data`.
pub fn text(name: &str) -> String {
    let path = format!("{}/data/{name}", env!("CARGO_MANIFEST_DIR"));
    fs::read_to_string(&path).unwrap_or_else(|error| panic!("{path}: {error}"))
}

/// A JSON file in `tests/data`.
pub fn json<T: DeserializeOwned>(name: &str) -> T {
    serde_json::from_str(&text(name)).unwrap_or_else(|error| panic!("{name}: {error}"))
}

/// The rows of a CSV file in `tests/data`, by the names in its first line.
pub fn rows<T: DeserializeOwned>(name: &str) -> Vec<T> {
    csv::Reader::from_reader(text(name).as_bytes())
        .into_deserialize()
        .map(|row| row.unwrap_or_else(|error| panic!("{name}: {error}")))
        .collect()
}
