//! The files of a crate to start from.
//!
//! The kit is on no registry, so the program contains its sources and writes
//! them into the crate. What it writes depends only on its own version.

use include_dir::{Dir, File, include_dir};
use toml_edit::{DocumentMut, InlineTable, Item, Table, value};

use super::{NAME, TITLE, title};

/// The kit: for each of its crates the folder it goes to, its package name, and
/// its sources.
const KIT: [(&str, &str, Dir<'_>); 2] = [
    ("kit/sdk", "pairwise-sdk", include_dir!("$CARGO_MANIFEST_DIR/../../sdk")),
    ("kit/lace", "pairwise-lace", include_dir!("$CARGO_MANIFEST_DIR/../lace")),
];

/// The manifest of our own workspace, with the dependencies of the kit, and the
/// versions it was tested with.
const HOUSE: &str = include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/../../Cargo.toml"));
const LOCK: &str = include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/../../Cargo.lock"));

/// The crate, with a name and a title that are replaced by the user's.
const MANIFEST: &str = include_str!("crate/Cargo.toml");
const LIBRARY: &str = include_str!("crate/lib.rs");
const README: &str = include_str!("crate/README.md");

/// All files of the crate by their paths in it.
pub fn files(name: &str) -> Vec<(String, Vec<u8>)> {
    let named = |text: &str| text.replace(NAME, name).replace(TITLE, &title(name)).into_bytes();
    let mut files = vec![
        ("Cargo.toml".to_owned(), named(&manifest())),
        // Cargo drops the packages not needed here and keeps the versions.
        ("Cargo.lock".to_owned(), LOCK.as_bytes().to_vec()),
        (".gitignore".to_owned(), b"/target\n".to_vec()),
        ("README.md".to_owned(), named(README)),
        ("src/lib.rs".to_owned(), named(LIBRARY)),
    ];
    for (folder, _, sources) in &KIT {
        // The folder may also hold files that are not part of the crate.
        files.extend(sources.files().filter_map(|file| copied(folder, file)));
        for part in ["src", "wit"].iter().filter_map(|part| sources.get_dir(part)) {
            copy(folder, part, &mut files);
        }
    }
    files
}

/// A file of the kit with its path in the crate, unless an editor left it behind.
fn copied(folder: &str, file: &File<'_>) -> Option<(String, Vec<u8>)> {
    let path = file.path().to_str()?;
    let name = path.rsplit('/').next()?;
    let ours = !name.starts_with('.') && !name.ends_with('~');
    ours.then(|| (format!("{folder}/{path}"), file.contents().to_vec()))
}

/// The files of a folder and its subfolders.
fn copy(folder: &str, sources: &Dir<'_>, files: &mut Vec<(String, Vec<u8>)>) {
    files.extend(sources.files().filter_map(|file| copied(folder, file)));
    for inner in sources.dirs() {
        copy(folder, inner, files);
    }
}

/// The crate's manifest: the template, then whatever the kit inherits from our
/// own workspace.
fn manifest() -> String {
    let read = |text: &str| text.parse::<DocumentMut>().expect("our own manifests are well written");
    let house = read(HOUSE);
    let ours = &house["workspace"];
    let mut dependencies = Table::new();
    for (folder, name, sources) in &KIT {
        let mut place = InlineTable::new();
        place.insert("path", (*folder).into());
        dependencies.insert(name, value(place));
        let kit = sources.get_file("Cargo.toml").and_then(|file| file.contents_utf8());
        inherited(read(kit.expect("a crate has a manifest")).as_item(), &mut |name| {
            if KIT.iter().all(|(_, ours, _)| *ours != name) {
                dependencies.insert(name, ours["dependencies"][name].clone());
            }
        });
    }
    dependencies.sort_values();
    let mut workspace = Table::new();
    workspace.set_implicit(true);
    workspace.insert("package", ours["package"].clone());
    workspace.insert("dependencies", Item::Table(dependencies));
    workspace.insert("lints", ours["lints"].clone());
    in_order(&mut workspace);
    let mut taken_over = DocumentMut::new();
    taken_over.insert("workspace", Item::Table(workspace));
    format!("{MANIFEST}\n{taken_over}")
}

/// Forgets the positions that tables had in the manifest they came from.
fn in_order(table: &mut Table) {
    table.set_position(None);
    for (_, item) in table.iter_mut() {
        if let Some(inner) = item.as_table_mut() {
            in_order(inner);
        }
    }
}

/// Calls back with each dependency that a manifest inherits from its workspace.
fn inherited(manifest: &Item, each: &mut dyn FnMut(&str)) {
    let Some(table) = manifest.as_table_like() else { return };
    for (key, item) in table.iter() {
        if key == "dependencies" || key.ends_with("-dependencies") {
            let dependencies = item.as_table_like().into_iter().flat_map(|table| table.iter());
            dependencies
                .filter(|(_, asked)| asked.get("workspace").is_some())
                .for_each(|(name, _)| each(name));
        } else if key == "target" || manifest.get("package").is_none() {
            inherited(item, each);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_template_has_the_name_that_is_exchanged() {
        for text in [MANIFEST, LIBRARY, README] {
            assert!(text.contains(NAME) && text.contains(TITLE));
        }
        for (path, bytes) in files("ring-of-roses") {
            let text = String::from_utf8(bytes).unwrap();
            if !path.starts_with("kit/") {
                assert!(!text.contains(NAME) && !text.contains(TITLE), "{path}");
            }
        }
        let library = files("ring-of-roses").into_iter().find(|(path, _)| path == "src/lib.rs").unwrap();
        let library = String::from_utf8(library.1).unwrap();
        assert!(library.contains(r#"About::filling("ring-of-roses", "Ring of roses", "torchon")"#));
    }

    /// If a dependency of the kit were not copied, cargo would use its newest
    /// version, or find none.
    #[test]
    fn the_manifest_has_what_the_kit_asks_for_and_no_more() {
        let manifest = manifest().parse::<DocumentMut>().unwrap();
        let workspace = &manifest["workspace"];
        let dependencies = workspace["dependencies"].as_table().unwrap();
        assert_eq!(dependencies["pairwise-sdk"]["path"].as_str(), Some("kit/sdk"));
        assert_eq!(dependencies["pairwise-lace"]["path"].as_str(), Some("kit/lace"));
        assert_eq!(dependencies["nalgebra"]["default-features"].as_bool(), Some(false));
        assert!(dependencies.contains_key("wit-bindgen"), "{manifest}");
        assert!(!dependencies.contains_key("wasmtime"), "{manifest}");
        let paths = dependencies.iter().filter(|(_, asked)| asked.get("path").is_some()).count();
        assert_eq!(paths, 2, "{manifest}");
        assert_eq!(workspace["members"].as_array().map(toml_edit::Array::len), Some(KIT.len()));
        assert_eq!(workspace["package"]["edition"].as_str(), Some("2024"));
        assert_eq!(workspace["lints"]["rust"]["unsafe_code"].as_str(), Some("forbid"));
    }
}
