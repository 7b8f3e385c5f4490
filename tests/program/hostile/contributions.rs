//! The hostile contributions: the files of `tests/hostile`, and generated ones
//! that are not text or too large to commit.
//!
//! A file's first lines are comments: what it does, and the expected outcome.
//! `says` is followed by words of the message that refuses it; `taken` by the id
//! it is listed under, if it is harmless.

use std::path::{Path, PathBuf};

use crate::contribution::{Text, carrying};

/// One hostile contribution.
pub struct Hostile {
    /// Its file name.
    pub file: String,
    pub expected: Expected,
}

/// The expected outcome.
pub enum Expected {
    /// It is refused with all of these words.
    Says(Vec<String>),
    /// It is accepted under this id.
    Taken(String),
}

impl Hostile {
    fn says(file: &str, words: &str) -> Hostile {
        Hostile { file: file.to_owned(), expected: Expected::Says(vec![words.to_owned()]) }
    }
}

/// The folder of the texts.
fn texts() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/hostile")
}

/// Parses the first lines of a text.
fn expected(name: &str, text: &str) -> Expected {
    let lines = |before: &str| -> Vec<String> {
        let heads = text.lines().map_while(|line| line.strip_prefix(";; "));
        heads.filter_map(|line| line.strip_prefix(before)).map(str::to_owned).collect()
    };
    match (lines("says: "), lines("taken: ").as_slice()) {
        (words, []) if !words.is_empty() => Expected::Says(words),
        (words, [id]) if words.is_empty() => Expected::Taken(id.clone()),
        _ => panic!("{name}: its first lines must give the expected outcome"),
    }
}

/// Text as the bytes that a contributor would hand in.
fn bytes(name: &str, text: &str) -> Vec<u8> {
    let bytes = wat::parse_str(text).unwrap_or_else(|why| panic!("{name}: {why}"));
    let is_core = bytes[4..8] == [1, 0, 0, 0];
    if is_core { carrying(&bytes) } else { bytes }
}

/// Writes those of `tests/hostile` into a folder, in the order of their names.
pub fn write_texts(folder: &Path) -> Vec<Hostile> {
    let mut names: Vec<String> = std::fs::read_dir(texts())
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .filter(|name| name.ends_with(".wat"))
        .collect();
    names.sort();
    names
        .iter()
        .map(|name| {
            let text = std::fs::read_to_string(texts().join(name)).unwrap();
            let file = name.replace(".wat", ".wasm");
            std::fs::write(folder.join(&file), bytes(name, &text)).unwrap();
            Hostile { file, expected: expected(name, &text) }
        })
        .collect()
}

/// Writes all of them into a folder.
pub fn write_all(folder: &Path) -> Vec<Hostile> {
    let mut all = write_texts(folder);
    let broken = "is not a contribution this program can run";
    let built =
        std::fs::read(Path::new(env!("CARGO_MANIFEST_DIR")).join("../../plugins/built/rose.wasm")).unwrap();
    let core = Text::plain().core();
    let mut write = |file: &str, bytes: &[u8], words: &str| {
        std::fs::write(folder.join(file), bytes).unwrap();
        all.push(Hostile::says(file, words));
    };
    write("empty.wasm", b"", broken);
    write("cut-component.wasm", &built[..built.len() / 2], broken);
    write("cut-by-a-byte.wasm", &built[..built.len() - 1], broken);
    write("cut-module.wasm", &core[..core.len() / 3], broken);
    write("doubled.wasm", &[&built[..], &built[..]].concat(), broken);
    write("a-text.wasm", b"(component)", broken);
    write("a-page.wasm", b"<!doctype html><script>alert(1)</script>", broken);
    write("too-large.wasm", &vec![0; 2 * 1024 * 1024 + 1], "is larger than 2 MiB");
    let blocks = format!("{}{}", "(block ".repeat(2000), ")".repeat(2000));
    write(
        "deep-blocks.wasm",
        &Text::define(&blocks).core(),
        "it has more than 1000 blocks one inside the other",
    );
    write(
        "many-functions.wasm",
        &Text::fields(&"(func)".repeat(50_001)).core(),
        "it has more than 50000 functions",
    );
    // Its name tries to colour the terminal and to start a new line.
    #[cfg(unix)]
    write("\u{1b}[31mred\nleft out\u{202e}.wasm", b"", "is not a contribution");
    std::fs::create_dir(folder.join("folder.wasm")).unwrap();
    all.push(Hostile::says("folder.wasm", "cannot be read (it is not an ordinary file)"));
    #[cfg(unix)]
    {
        let made = std::process::Command::new("mkfifo").arg(folder.join("pipe.wasm")).status().unwrap();
        assert!(made.success());
        all.push(Hostile::says("pipe.wasm", "cannot be read (it is not an ordinary file)"));
        let link = |to: &str, file: &str| std::os::unix::fs::symlink(to, folder.join(file)).unwrap();
        link("/dev/zero", "endless.wasm");
        all.push(Hostile::says("endless.wasm", "cannot be read (it is not an ordinary file)"));
        link("nowhere", "to-nowhere.wasm");
        all.push(Hostile::says("to-nowhere.wasm", "cannot be read"));
        link("to-itself.wasm", "to-itself.wasm");
        all.push(Hostile::says("to-itself.wasm", "cannot be read"));
    }
    all
}
