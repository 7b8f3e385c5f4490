//! Data as scripts that assign to a variable.

use serde::Serialize;

/// `NAME = VALUE;`, the value as JSON escaped so that an HTML parser finds no
/// markup in it and an old script engine no line break.
pub fn script(name: &str, value: &impl Serialize) -> Result<String, serde_json::Error> {
    let json = serde_json::to_string(value)?
        .replace('<', "\\u003c")
        .replace('\u{2028}', "\\u2028")
        .replace('\u{2029}', "\\u2029");
    Ok(format!("{name} = {json};\n"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_in_scripts_cannot_end_them() {
        let text = "</script><!-- \u{2028}\u{2029} \" \\ ü";
        let script = script("pairwise.x", &[text]).unwrap();
        assert!(!script.contains(['<', '\u{2028}', '\u{2029}']), "{script}");
        let json = script.strip_prefix("pairwise.x = ").unwrap().strip_suffix(";\n").unwrap();
        assert_eq!(serde_json::from_str::<Vec<String>>(json).unwrap(), [text]);
    }
}
