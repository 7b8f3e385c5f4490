//! The page for the class: the grounds of a recipe, its handout, and what is
//! said of a recipe that is at fault.

use std::path::Path;

use super::support::{assert_refused, pairwise, text};
use super::{CLASS, Made, elements, plain};

/// The recipe of the house, an invented evening class.
pub fn evening_class() -> String {
    format!("{}/../../gallery/evening-class.toml", env!("CARGO_MANIFEST_DIR"))
}

/// The words of a page without its elements and breaks.
fn words(page: &str) -> String {
    let text = page.split('<').map(|part| part.split_once('>').map_or(part, |(_, text)| text));
    plain(&text.collect::<Vec<_>>().join(" ")).split_whitespace().collect::<Vec<_>>().join(" ")
}

#[track_caller]
fn assert_says(page: &str, said: &str) {
    assert!(words(page).contains(said), "the page should say `{said}`: {}", words(page));
}

/// The words of one ground of the class, from 1.
fn ground(page: &str, number: usize) -> String {
    let from = page.find(&format!("id=\"ground-{number}\"")).unwrap_or_else(|| panic!("no ground {number}"));
    let end = page[from..].find("</section>").unwrap();
    page[from..from + end].to_owned()
}

#[test]
fn the_class_finds_its_grounds_its_colours_and_its_handout() {
    let page = CLASS.page("class.html");
    for said in [
        "Four samples in two colours",
        "an invented class",
        "One ground an evening",
        "4 mm between two footside pins",
        "30 wraps/cm, 0.33 mm thick",
        // 15 to 25 pins an hour (common practice, no source): what a class can work.
        "Pins in all 162, about 6.5 to 11 hours for a beginner, at 15 to 25 pins an hour",
        "A river blue, B apricot",
        "7 pages to print (PDF, 210 by 297 mm)",
        "Pins, needles and scissors are sharp",
        "What your teacher says and the rules of the place where you work come first.",
    ] {
        assert_says(page, said);
    }
    // Facts of the trade (common practice, no source): torchon ground of half
    // stitches sends its colours along the diagonals, double ground keeps them.
    for (number, said) in [
        (
            1,
            [
                "1. Torchon ground",
                "Find one blue pair",
                "run down to the left along the diagonal until they reach the edge",
            ],
        ),
        (
            2,
            [
                "2. Double torchon ground",
                "now the colours stay",
                "River blue pairs 1, 2, 5, 6 … stay in their own columns",
            ],
        ),
        (3, ["3. Rose ground", "hung A B B A", "16 × 16 mm"]),
        (4, ["4. Spider", "32 × 16 mm", "Two spiders side by side"]),
    ] {
        let ground = ground(page, number);
        said.iter().for_each(|said| assert_says(&ground, said));
        for said in [
            "Where each colour goes",
            "What is needed",
            "on each bobbin",
            "Half a metre is added",
            "Time about 1.5 to 2.5 hours for a beginner",
        ] {
            assert_says(&ground, said);
        }
        let elements = elements(&ground);
        let picture = elements.iter().find(|e| e.name == "img").unwrap();
        assert_eq!(picture.get("src"), Some(format!("class/{number}.png").as_str()));
    }
    // Every page of the gallery leads here, and from here to where the grounds
    // are shown in more detail, in the colours of the class.
    for (name, page) in &CLASS.pages {
        assert!(page.contains("class.html\">For the class"), "{}", name.display());
    }
    let links: Vec<String> = elements(page).iter().filter_map(|e| e.get("href").map(str::to_owned)).collect();
    let colours = "arrangement=AABB&colours=1f3f77-e07b39";
    for link in [
        format!(
            "compare.html#class=1&{colours}&pick=torchon/plain,torchon/double,rose/plain,{}",
            usual("spider")
        ),
        format!("explore.html#{colours}"),
        "explore.html#arrangement=ABBA&colours=1f3f77-e07b39&search=rose/plain".to_owned(),
        "grounds/rose.html#arrangement=ABBA&colours=1f3f77-e07b39&at=variety-plain".to_owned(),
        "class.pdf".to_owned(),
    ] {
        assert!(links.contains(&link), "{link} is not among {links:?}");
    }
    // The handout is the same as from `pairwise handout`.
    let folder = tempfile::tempdir().unwrap();
    let out = pairwise(folder.path(), &["handout", &evening_class(), "-o", "class.pdf"]);
    assert_eq!(out.status.code(), Some(0), "{}", text(&out.stderr));
    let printed = std::fs::read(folder.path().join("class.pdf")).unwrap();
    assert!(printed == std::fs::read(CLASS.place().join("class.pdf")).unwrap(), "another handout");
}

/// A ground with its usual variety.
fn usual(ground: &str) -> String {
    let listed = super::grounds().iter().find(|g| super::string(g, "id") == ground).unwrap();
    format!("{ground}/{}", super::string(&super::list(listed, "varieties")[0], "id"))
}

/// A recipe with faults of many kinds.
pub const FAULTY: &str = "format = \"pairwise-recipe/1\"
title = \"Six <b>bookmarks</b>\"
colours = [\"navy\", \"nawy\"]
pin-spacing = 0

[[ground]]
name = \"rosse/plain\"
notes = \"Mind the <i>corners</i>.\"

[[ground]]
name = \"torchon/plain\"
area = \"9000x9000\"

[[ground]]
name = \"torchon\"
with = { twists = 99 }

[[ground]]
name = \"broken\"
";

/// The page of a gallery made with [`FAULTY`], and with a file `broken.wasm` that
/// is not a contribution.
pub fn faults_are_told(made: &Made) {
    let page = made.page("class.html");
    assert_says(page, "Six <b>bookmarks</b>");
    assert_says(page, "The recipe faulty.toml has 5 faults. What can be shown is shown");
    assert_says(page, "Line 3: the colour `nawy` is not known. What to do: did you mean `navy`");
    assert_says(page, "Line 4: ");
    assert_says(page, "torchon is often pricked at 3 to 5 mm: pin-spacing = 4");
    let missing = ground(page, 1);
    assert_says(&missing, "rosse/plain This ground is missing. Line 7: the ground `rosse` is not known.");
    assert_says(&missing, "did you mean `rose`");
    assert_says(&missing, "Mind the <i>corners</i>.");
    // A faulty value is replaced by the usual one, and the fault is beside the ground.
    let worked = ground(page, 2);
    assert_says(&worked, "2. Torchon ground");
    assert_says(&worked, "Line 12: ");
    assert_says(&worked, "40 × 60 mm");
    assert_says(&ground(page, 3), "Line 16: ");
    let broken = ground(page, 4);
    assert_says(
        &broken,
        "broken This ground is missing. The contribution mine/broken.wasm could not be used:",
    );
    assert!(!page.contains("class.pdf") && !made.place().join("class.pdf").exists());
    let pictures: Vec<String> = elements(page)
        .iter()
        .filter(|e| e.name == "img")
        .filter_map(|e| e.get("src").map(str::to_owned))
        .collect();
    assert_eq!(pictures, ["class/2.png", "class/3.png"]);
    // In the terminal each fault is shown at its line.
    for said in [
        "faulty.toml:3",
        "nawy",
        "faulty.toml:7",
        "rosse",
        "The gallery is made all the same",
        "missing from the class",
    ] {
        assert!(made.said.contains(said), "{said}: {}", made.said);
    }
}

#[test]
fn an_empty_recipe_is_reported_and_a_missing_one_is_refused() {
    assert_refused(&["gallery", "--recipe", "evening.toml"], &["evening.toml", "check that it exists"]);
    let made = Made::with(&["--recipe", "empty.toml"], |folder| {
        let empty = "format = \"pairwise-recipe/1\"\ntitle = \"A class of its own\"\n";
        std::fs::write(folder.join("empty.toml"), empty).unwrap();
    });
    assert_eq!(made.status, Some(1));
    let page = made.page("class.html");
    assert_says(
        page,
        "A class of its own The recipe empty.toml has a fault. The handout is made once everything is put right.",
    );
    assert_says(page, "Line 2: no ground is chosen. What to do: for each ground write [[ground]]");
    assert!(made.said.contains("empty.toml:2"), "{}", made.said);
    assert!(!Path::new(&made.place().join("class.pdf")).exists());
    // The rest is complete.
    assert!(made.page("index.html").contains("grounds/torchon.html"));
    // Not a recipe at all: the page has the one fault and nothing else.
    let folder = made.folder.path();
    std::fs::write(folder.join("empty.toml"), "format = \"pairwise-recipe/1\"\ntitel = \"x\"\n").unwrap();
    let out =
        pairwise(folder, &["gallery", "--out", "class", "--arrangement", "A", "--recipe", "empty.toml"]);
    assert_eq!(out.status.code(), Some(1), "{}", text(&out.stderr));
    let page = std::fs::read_to_string(made.place().join("class.html")).unwrap();
    assert_says(&page, "For the class The recipe empty.toml has a fault.");
    assert_says(&page, "Line 2: `titel` means nothing here");
}
