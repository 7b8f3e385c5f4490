//! The sources of the pages, embedded from `pages/`: templates, styles, script.

/// The templates by name. Those that end in `.html` escape their values.
pub const TEMPLATES: &[(&str, &str)] = &[
    ("frame.html", include_str!("../pages/frame.html")),
    ("colours.html", include_str!("../pages/colours.html")),
    ("index.html", include_str!("../pages/index.html")),
    ("explore.html", include_str!("../pages/explore.html")),
    ("hanging.html", include_str!("../pages/hanging.html")),
    ("compare.html", include_str!("../pages/compare.html")),
    ("class.html", include_str!("../pages/class.html")),
    ("table.html", include_str!("../pages/table.html")),
    ("side-by-side.html", include_str!("../pages/side-by-side.html")),
    ("names.html", include_str!("../pages/names.html")),
    ("glossary.html", include_str!("../pages/glossary.html")),
    ("faults.html", include_str!("../pages/faults.html")),
    ("alone.html", include_str!("../pages/alone.html")),
    ("ground.html", include_str!("../pages/ground.html")),
];

/// The style sheet of all pages.
pub const STYLE: &str = include_str!("../pages/style.css");

/// The additional style sheet of the pages with a script.
pub const EXPLORE_STYLE: &str = include_str!("../pages/explore.css");

/// The script of all pages.
pub const CHOSEN_SCRIPT: &str = include_str!("../pages/chosen.js");

macro_rules! script {
    ($($file:literal),* $(,)?) => {
        concat!(
            "// Explores and recolours the varieties of the gallery: what is shown on\n",
            "// explore.html, compare.html and the pages of grounds. Works on the data that the program wrote into data/,\n",
            "// opened from disk, without a network.\n",
            "\"use strict\";\n\n(function () {\n",
            $("\n", include_str!(concat!("../pages/script/", $file, ".js"))),*,
            "})();\n"
        )
    };
}

/// The script of `explore.html`, `compare.html` and the pages of grounds: its parts
/// in one file, since browsers load no modules from disk.
pub const SCRIPT: &str = script![
    "data",
    "arrangement",
    "address",
    "colour",
    "elements",
    "stencil",
    "repeat",
    "large",
    "hanging",
    "keyboard",
    "explore/seen",
    "explore/waves",
    "explore/pattern",
    "explore/cards",
    "explore/finding",
    "explore/page",
    "compare/sides",
    "compare/facts",
    "compare/page",
    "ground/page",
    "start",
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_part_of_the_script_says_what_it_holds_and_is_in_it_once() {
        let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/pages/script");
        let mut parts = 0;
        for folder in ["", "explore", "compare", "ground"].map(|below| format!("{folder}/{below}")) {
            let files = std::fs::read_dir(&folder).unwrap().map(|file| file.unwrap().path());
            for file in files.filter(|file| file.is_file()) {
                let part = std::fs::read_to_string(&file).unwrap();
                assert!(part.starts_with("// "), "{file:?}");
                assert_eq!(SCRIPT.matches(&part).count(), 1, "{file:?}");
                parts += 1;
            }
        }
        assert_eq!(parts, 21);
    }
}
