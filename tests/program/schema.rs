//! The program's JSON, validated against the schema of its format.

use std::path::Path;

use serde_json::Value;

/// Reads JSON and validates it against the schema of the format it names.
///
/// # Panics
/// Lists every place that does not match the schema, or has a key that the schema
/// does not name.
pub fn read(json: &[u8]) -> Value {
    let value: Value = serde_json::from_slice(json).unwrap();
    let format = value["format"].as_str().expect("it names its format").to_owned();
    hold(&value, &format, "");
    value
}

/// Validates a value against the schema of a format, or a part of it such as
/// `/$defs/Cell`.
///
/// # Panics
/// Like [`read`].
pub fn hold(value: &Value, format: &str, part: &str) {
    let name = format.strip_prefix("pairwise-").unwrap().replace('/', "-");
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../report/schemas");
    let text = std::fs::read_to_string(folder.join(format!("{name}.schema.json"))).unwrap();
    let mut schema: Value = serde_json::from_str(&text).unwrap();
    only_what_is_named(&mut schema);
    if !part.is_empty() {
        let definitions = schema["$defs"].clone();
        schema = serde_json::json!({ "$schema": schema["$schema"], "$ref": format!("#{part}"), "$defs": definitions });
    }
    let validator = jsonschema::validator_for(&schema).unwrap();
    let faults: Vec<String> =
        validator.iter_errors(value).map(|why| format!("{}: {why}", why.instance_path())).collect();
    assert!(faults.is_empty(), "{format} is not as its schema says:\n{}", faults.join("\n"));
}

/// Readers ignore unknown keys, but the program writes none.
fn only_what_is_named(schema: &mut Value) {
    match schema {
        Value::Object(keys) => {
            keys.values_mut().for_each(only_what_is_named);
            if keys.get("type").is_some_and(|kind| kind == "object") && keys.contains_key("properties") {
                keys.insert("additionalProperties".to_owned(), false.into());
            }
        }
        Value::Array(all) => all.iter_mut().for_each(only_what_is_named),
        _ => {}
    }
}
