//! Printed text cannot control the terminal: it has no control characters,
//! bidirectional controls or invisible characters.

use std::process::Output;

use super::contributions::write_texts;
use super::run;

/// Checks that printed text is harmless.
#[track_caller]
pub fn harmless(command: &str, out: &Output) {
    for printed in [&out.stdout, &out.stderr] {
        let printed = std::str::from_utf8(printed).expect("text");
        for (n, line) in printed.lines().enumerate() {
            // Bidi_Control and Default_Ignorable of the Unicode Character
            // Database, as far as they are used to deceive.
            let unseen = |c: char| {
                matches!(c, '\u{200b}' | '\u{200e}' | '\u{200f}' | '\u{61c}' | '\u{202a}'..='\u{202e}'
                    | '\u{2060}'..='\u{206f}' | '\u{2028}' | '\u{2029}' | '\u{feff}' | '\u{e0000}'..='\u{e007f}')
            };
            let bad = line.chars().find(|&c| c.is_control() || unseen(c));
            assert_eq!(bad, None, "`{command}` printed it in line {}: {line:?}", n + 1);
        }
    }
}

/// Every command that prints texts of contributions, for all of them.
#[test]
fn no_command_prints_terminal_controls() {
    let folder = tempfile::tempdir().unwrap();
    let mine = folder.path().join("mine");
    std::fs::create_dir(&mine).unwrap();
    let shown = [
        "escapes",
        "markup",
        "turns-the-writing",
        "no-number",
        "stitch-above",
        "id-escape",
        "twin-a",
        "twin-b",
    ];
    for case in write_texts(&mine) {
        if !shown.iter().any(|name| case.file == format!("{name}.wasm")) {
            std::fs::remove_file(mine.join(case.file)).unwrap();
        }
    }
    let escapes = mine.join("escapes.wasm");
    let escapes = escapes.to_str().unwrap();
    for command in [
        &["grounds"][..],
        &["grounds", "escapes", "markup", "turns-the-writing"],
        &["grounds", "--search", "red"],
        &["grounds", "--search", "\u{1b}[31m"],
        &["grounds", "escapes", "--json"],
        &["facts", "escapes"],
        &["facts", "escapes", "--json"],
        &["facts", "escapes/\u{1b}[31m"],
        &["facts", "escapes", "--with", "\u{1b}[31m=1"],
        &["trace", "escapes"],
        &["trace", "turns-the-writing", "--why", "stays", "--pair", "1"],
        &["check", "escapes", "markup", "no-number", "stitch-above"],
        &["check", "escapes", "no-number", "--json"],
        &["check", escapes],
        &["grid", "escapes", "turns-the-writing", "--size", "48", "--arrangement", "A B"],
        &["grid", "escapes", "--group", "--size", "48", "--arrangement-length", "2", "--out", "group.png"],
        &["sheet", "escapes", "--out", "escapes.svg"],
        &["sheet", "no-number", "--out", "no.svg"],
    ] {
        let shown = command.join(" ");
        let out = run(folder.path(), &[command, &["--plugins", "mine"]].concat());
        assert!(out.status.code().is_some_and(|code| code < 3), "`{shown}` ended with {:?}", out.status);
        assert!(!out.stdout.is_empty() || !out.stderr.is_empty(), "{shown}");
        harmless(&shown, &out);
    }
}
