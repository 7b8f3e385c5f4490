//! The gallery as a user makes it and a browser reads it.

mod browser;
#[path = "../../../host/sandbox/tests/support/mod.rs"]
mod contribution;
#[path = "../../machine.rs"]
mod machine;
#[path = "../../rendered.rs"]
mod rendered;
#[path = "../schema.rs"]
mod schema;
#[path = "../support/mod.rs"]
mod support;
#[path = "../typeface.rs"]
mod typeface;

mod class;

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Component, Path, PathBuf};
use std::sync::LazyLock;

use contribution::Text;
use rendered::{Rendered, runs};
use serde_json::Value;
use support::{corner, files_in, pages_in, pairwise, poppler, text};

/// An element of a page: its name and attributes, in the order of the page.
#[derive(Debug)]
struct Element {
    name: String,
    attributes: BTreeMap<String, String>,
    /// The text up to the next element.
    after: String,
}

impl Element {
    fn get(&self, attribute: &str) -> Option<&str> {
        self.attributes.get(attribute).map(String::as_str)
    }
}

/// Attributes in our pages that have no value.
const BARE: [&str; 4] = ["checked", "download", "hidden", "open"];

/// The scripts of the pages that have some.
const OUR_SCRIPTS: [&str; 4] = [FOR_ALL, "data/grounds.js", "data/pictures.js", "explore.js"];
/// The script of all pages.
const FOR_ALL: &str = "chosen.js";

/// Whether a script is one of ours, as a page names it.
fn is_ours(script: &Element) -> bool {
    script.get("src").is_some_and(|src| OUR_SCRIPTS.contains(&src.trim_start_matches("../")))
}

/// All elements of a page. Attributes must be in double quotes, as ours are.
fn elements(page: &str) -> Vec<Element> {
    let mut all = Vec::new();
    for piece in page.split('<').skip(1) {
        let (tag, after) = piece.split_once('>').unwrap_or_else(|| panic!("no end of <{piece}"));
        if tag.starts_with(['/', '!']) {
            continue;
        }
        let (name, mut rest) = tag.split_once(char::is_whitespace).unwrap_or((tag, ""));
        let mut attributes = BTreeMap::new();
        while let Some((attribute, more)) = rest.trim_start().split_once("=\"") {
            let (value, more) = more.split_once('"').unwrap_or_else(|| panic!("no end of {tag}"));
            let (bare, attribute) = attribute.rsplit_once(' ').unwrap_or(("", attribute));
            for bare in bare.split_whitespace() {
                assert!(BARE.contains(&bare), "<{tag}>");
                attributes.insert(bare.to_owned(), String::new());
            }
            attributes.insert(attribute.to_owned(), plain(value));
            rest = more;
        }
        for bare in rest.split_whitespace() {
            assert!(BARE.contains(&bare), "<{tag}>");
            attributes.insert(bare.to_owned(), String::new());
        }
        all.push(Element { name: name.to_owned(), attributes, after: plain(after) });
    }
    all
}

/// Text with HTML escapes resolved.
fn plain(text: &str) -> String {
    let mut plain = text.to_owned();
    for (escape, meant) in
        [("&lt;", "<"), ("&gt;", ">"), ("&quot;", "\""), ("&#x27;", "'"), ("&#x2f;", "/"), ("&amp;", "&")]
    {
        plain = plain.replace(escape, meant);
    }
    plain
}

/// A gallery, with its pages by their paths in the folder.
struct Made {
    folder: tempfile::TempDir,
    pages: BTreeMap<PathBuf, String>,
    status: Option<i32>,
    /// The text on standard error.
    said: String,
}

impl Made {
    fn with(args: &[&str], before: impl FnOnce(&Path)) -> Made {
        let folder = tempfile::tempdir().unwrap();
        before(folder.path());
        // One arrangement: tables of many take long and are tested elsewhere.
        let usual = ["gallery", "--out", "class", "--arrangement", "A A B B"];
        let out = pairwise(folder.path(), &[&usual, args].concat());
        assert!(text(&out.stdout).contains("index.html"), "{}", text(&out.stderr));
        let pages = pages_in(&folder.path().join("class"));
        Made { folder, pages, status: out.status.code(), said: text(&out.stderr) }
    }

    fn place(&self) -> PathBuf {
        self.folder.path().join("class")
    }

    fn page(&self, name: &str) -> &str {
        &self.pages[Path::new(name)]
    }
}

/// The built-in grounds, with our own recipe.
static CLASS: LazyLock<Made> = LazyLock::new(|| Made::with(&["--recipe", &class::evening_class()], |_| {}));

/// The list from `grounds --json`.
static LIST: LazyLock<Value> = LazyLock::new(|| {
    let folder = tempfile::tempdir().unwrap();
    let out = pairwise(folder.path(), &["grounds", "--json"]);
    assert_eq!(out.status.code(), Some(0), "{}", text(&out.stderr));
    serde_json::from_slice(&out.stdout).unwrap()
});

fn grounds() -> &'static Vec<Value> {
    LIST["grounds"].as_array().unwrap()
}

fn list<'a>(of: &'a Value, what: &str) -> &'a Vec<Value> {
    of[what].as_array().unwrap()
}

fn string<'a>(of: &'a Value, what: &str) -> &'a str {
    of[what].as_str().unwrap()
}

#[test]
fn the_index_shows_every_family_and_every_variety_with_its_facts() {
    assert_eq!(CLASS.status, Some(0));
    let elements = elements(CLASS.page("index.html"));
    let ids: BTreeSet<&str> = elements.iter().filter_map(|e| e.get("id")).collect();
    let links: BTreeSet<&str> = elements.iter().filter_map(|e| e.get("href")).collect();
    let images = elements.iter().filter(|e| e.name == "img");
    let pictures: BTreeSet<&str> = images.filter_map(|e| e.get("src")).collect();
    let mut shown = 0;
    for ground in grounds() {
        let (id, family) = (string(ground, "id"), string(ground, "family"));
        assert!(ids.contains(format!("family-{family}").as_str()), "family {family}");
        assert!(links.contains(format!("#family-{family}").as_str()), "link to family {family}");
        assert!(links.contains(format!("grounds/{id}.html").as_str()), "{id}");
        for variety in list(ground, "varieties") {
            let name = string(variety, "id");
            let link = format!("grounds/{id}.html#variety-{name}");
            assert!(links.contains(link.as_str()), "{link}");
            assert!(pictures.contains(format!("small/{id}/{name}.png").as_str()), "{id}/{name}");
            // The line below the picture, from the other command's numbers.
            let count = |what: &str, n: &Value| match n.as_u64().unwrap() {
                1 => format!("1 {what}"),
                n => format!("{n} {what}s"),
            };
            let kind = if ground["kind"] == "ground" { "Ground" } else { "Filling" };
            let line = format!(
                "{kind}; {}, {};",
                count("pair", &variety["pairs_across"]),
                count("pin", &variety["pins"])
            );
            let at = elements.iter().position(|e| e.get("href") == Some(link.as_str())).unwrap();
            let told = elements[at..].iter().find(|e| e.name == "p").unwrap();
            assert!(told.after.starts_with(&line), "{id}/{name}: {} instead of {line}", told.after);
            assert!(told.after.contains("colours"), "{}", told.after);
            shown += 1;
        }
    }
    assert_eq!(pictures.len(), shown, "no picture but those");
}

/// Where a link of a page leads, inside the folder: file and place in it.
fn target(page: &Path, link: &str) -> (PathBuf, Option<String>) {
    let (file, place) = match link.split_once('#') {
        Some((file, place)) => (file, Some(place.to_owned())),
        None => (link, None),
    };
    if file.is_empty() {
        return (page.to_owned(), place);
    }
    let mut at = page.parent().unwrap().to_owned();
    for step in Path::new(file).components() {
        match step {
            Component::ParentDir => assert!(at.pop(), "{link} leads out of the folder"),
            Component::Normal(name) => at.push(name),
            other => panic!("{link}: {other:?}"),
        }
    }
    (at, place)
}

#[test]
fn every_link_and_picture_is_inside_the_folder() {
    let mut followed = 0;
    for (name, page) in &CLASS.pages {
        for element in elements(page) {
            for link in [element.get("href"), element.get("src")].into_iter().flatten() {
                assert!(!link.contains("//") && !link.contains(':'), "{}: {link}", name.display());
                let (file, place) = target(name, link);
                assert!(CLASS.place().join(&file).is_file(), "{}: {link}", name.display());
                if let Some(place) = place {
                    // The visitor's choices, which the script reads.
                    if place.contains('=') {
                        let explores = ["explore.html", "compare.html"].map(Path::new);
                        assert!(explores.contains(&file.as_path()) || file.starts_with("grounds"));
                        for said in place.split('&') {
                            let known = match said.split_once('=').unwrap() {
                                ("search", value) => EXPLORED.contains_key(value),
                                ("at", value) => {
                                    elements(&CLASS.pages[&file]).iter().any(|e| e.get("id") == Some(value))
                                }
                                ("class", value) => value == "1",
                                ("pick", value) => value.split(',').all(|v| EXPLORED.contains_key(v)),
                                // Their effect is tested in a browser.
                                ("arrangement" | "colours", value) => !value.is_empty(),
                                _ => false,
                            };
                            assert!(known, "{}: {link}", name.display());
                        }
                        continue;
                    }
                    let ids: Vec<String> = elements(&CLASS.pages[&file])
                        .iter()
                        .filter_map(|e| e.get("id").map(str::to_owned))
                        .collect();
                    assert_eq!(
                        ids.iter().filter(|id| **id == place).count(),
                        1,
                        "{}: {link}",
                        name.display()
                    );
                }
                followed += 1;
            }
        }
    }
    assert!(followed > 300, "{followed}");
}

// What HTML requires (WHATWG HTML, 4.8.4.4 and 4.3.11), and what keeps a page
// still while pictures load.
#[test]
fn pages_are_sound_and_only_two_need_a_script() {
    for (name, page) in &CLASS.pages {
        let explores = ["explore.html", "compare.html"].map(Path::new).contains(&name.as_path());
        let of_ground = name.starts_with("grounds");
        let name = name.display();
        let elements = elements(page);
        assert!(page.starts_with("<!doctype html>") && elements[0].get("lang") == Some("en"), "{name}");
        let mut ids = BTreeSet::new();
        let mut level = 0;
        for element in &elements {
            assert!(!["iframe", "object", "form", "base"].contains(&element.name.as_str()));
            let for_all = element.get("src").is_some_and(|src| src.trim_start_matches("../") == FOR_ALL);
            let has_script = explores || of_ground || for_all;
            assert!(element.name != "script" || has_script && is_ours(element), "{name}: {element:?}");
            assert!(element.attributes.keys().all(|a| !a.starts_with("on")), "{name}: {element:?}");
            if let Some(id) = element.get("id") {
                assert!(ids.insert(id), "{name}: two places are called {id}");
            }
            if let Some(n) = element.name.strip_prefix('h').and_then(|n| n.parse::<usize>().ok()) {
                assert!(n <= level + 1, "{name}: h{n} after h{level}");
                level = n;
            }
            if element.name == "img" {
                let alt = element.get("alt").unwrap_or_default();
                assert!(alt.len() > 20, "{name}: {alt}");
                let src = element.get("src").unwrap();
                let folder = src.trim_start_matches("../").split('/').next().unwrap();
                let tells = |words: &[&str]| words.iter().any(|word| alt.contains(word));
                let good = match folder {
                    "faults" => true,
                    "keys" => tells(&["Key of the working diagram"]),
                    "prickings" => tells(&["a dot for every pin"]),
                    "diagrams" => tells(&["travel", "stay"]) && alt.starts_with("Working diagram of"),
                    "class" => tells(&["travel", "stay"]) && tells(&["hung A A B B", "hung A B B A"]),
                    // Only one arrangement is shown, and every colour is in it.
                    "rows" => tells(&["columns", "diagonals", "checks", "zigzags", "spots", "mix", "rows"]),
                    "small" | "large" | "choices" => tells(&["travel", "stay"]) && tells(&["hung A A B B"]),
                    _ => false,
                };
                assert!(good, "{name}: {src}: {alt}");
            }
        }
        assert_eq!(elements.iter().filter(|e| e.name == "h1").count(), 1, "{name}");
        // Without the script such a page says so and hides what would not work.
        let hidden = elements.iter().any(|e| e.name == "main" && e.get("hidden").is_some());
        assert_eq!((hidden, page.contains("<noscript>")), (explores, explores), "{name}");
    }
}

#[test]
fn pictures_have_the_size_and_scale_that_pages_say_and_the_index_stays_light() {
    let index = CLASS.page("index.html");
    let style = std::fs::metadata(CLASS.place().join("style.css")).unwrap().len();
    let (mut bytes, mut varieties) = (0, 0);
    for (name, page) in &CLASS.pages {
        for element in elements(page).iter().filter(|e| e.name == "img") {
            let file = CLASS.place().join(target(name, element.get("src").unwrap()).0);
            // Those of the findings are tested below.
            if name == Path::new("faults.html") {
                continue;
            }
            let said = |what: &str| element.get(what).and_then(|n| n.parse::<u32>().ok());
            // Drawings are shown in their own proportions.
            if file.extension().is_some_and(|ending| ending == "svg") {
                let text = std::fs::read_to_string(&file).unwrap();
                let tree = roxmltree::Document::parse(&text).unwrap();
                let size = |what: &str| -> f64 {
                    let size = tree.root_element().attribute(what).unwrap();
                    size.trim_end_matches("mm").parse().unwrap()
                };
                let (wide, high) = (f64::from(said("width").unwrap()), f64::from(said("height").unwrap()));
                assert!((wide / high / (size("width") / size("height")) - 1.0).abs() < 0.02, "{file:?}");
                continue;
            }
            let reader = png::Decoder::new(std::io::BufReader::new(std::fs::File::open(&file).unwrap()))
                .read_info()
                .unwrap();
            let info = reader.info();
            assert_eq!((said("width"), said("height")), (Some(info.width), Some(info.height)), "{file:?}");
            assert_eq!(info.color_type, png::ColorType::Indexed, "{file:?}");
            if name == Path::new("index.html") {
                assert_eq!(element.get("loading"), Some("lazy"));
                // 16 mm of lace in 320 pixels, or more where a repeat is larger: the
                // scale is recorded in the file.
                assert_eq!((info.width, info.height), (320, 320));
                let name = file.strip_prefix(CLASS.place().join("small")).unwrap().with_extension("");
                let mm = EXPLORED[&name.to_str().unwrap().replace('\\', "/")]["small_mm"].as_f64().unwrap();
                let per_metre = (320_000.0 / mm).round() as u32;
                assert_eq!(info.pixel_dims.map(|d| (d.xppu, d.yppu)), Some((per_metre, per_metre)));
                bytes += std::fs::metadata(&file).unwrap().len();
                varieties += 1;
            }
        }
    }
    // The whole page with its pictures for 75 varieties.
    let whole = style + (bytes + index.len() as u64) * 75 / varieties;
    assert!(whole < 3_000_000, "{whole} bytes for 75 varieties as heavy as these {varieties}");
}

#[test]
fn every_other_name_is_in_the_table_of_names_and_on_its_page() {
    let page = CLASS.page("names.html");
    let rows: Vec<Vec<Element>> = page.split("<tr>").skip(1).map(elements).collect();
    let mut names = 0;
    for ground in grounds() {
        let id = string(ground, "id");
        let own = list(ground, "other_names").iter().map(|n| (n, format!("grounds/{id}.html")));
        let of_varieties = list(ground, "varieties").iter().flat_map(|v| {
            let link = format!("grounds/{id}.html#variety-{}", string(v, "id"));
            list(v, "other_names").iter().map(move |n| (n, link.clone()))
        });
        for (name, link) in own.chain(of_varieties) {
            let called = string(name, "name");
            let is_it = |row: &&Vec<Element>| {
                row.iter().any(|e| e.get("lang") == name["language"].as_str() && e.after == called)
                    && row.iter().any(|e| e.get("href") == Some(link.as_str()))
                    && row.iter().any(|e| e.after == string(name, "source"))
            };
            // Once with its language, once from A to Z.
            assert_eq!(rows.iter().filter(is_it).count(), 2, "{called} of {link}");
            let shown = elements(CLASS.page(&format!("grounds/{id}.html")));
            assert!(shown.iter().any(|e| e.name == "td" && e.after == called), "{called} on {link}");
            names += 1;
        }
    }
    assert!(names >= 18, "{names}");
    // German names are together, under their language.
    let german = page.split("<section").find(|s| s.starts_with(" id=\"language-de\"")).unwrap();
    assert!(german.contains("<h2>German</h2>") && german.contains("Rosengrund"));
    assert!(!german.contains("fond"), "{german}");
}

#[test]
fn the_glossary_has_its_words_in_order_and_pages_lead_to_it() {
    let elements_of_glossary = elements(CLASS.page("glossary.html"));
    let words: Vec<&str> =
        elements_of_glossary.iter().filter(|e| e.name == "dfn").map(|e| e.after.as_str()).collect();
    let mut sorted = words.clone();
    sorted.sort_unstable();
    assert_eq!(words, sorted);
    let ids: BTreeSet<&str> = elements_of_glossary.iter().filter_map(|e| e.get("id")).collect();
    for word in ["ground", "half-stitch", "cloth-stitch-and-twist", "pin", "arrangement", "footside", "gimp"]
    {
        assert!(ids.contains(word), "{word}");
    }
    for (name, page) in &CLASS.pages {
        let linked = elements(page)
            .iter()
            .filter(|e| e.get("class") == Some("word"))
            .inspect(|e| assert!(e.get("href").unwrap().contains("glossary.html#"), "{e:?}"))
            .count();
        assert!(linked > 0, "{}", name.display());
    }
}

#[test]
fn a_contributions_text_is_text_and_its_id_meets_no_page_of_ours() {
    let made = Made::with(&["--plugins", "mine", "--recipe", "faulty.toml"], |folder| {
        std::fs::write(folder.join("faulty.toml"), class::FAULTY).unwrap();
        let mine = folder.join("mine");
        std::fs::create_dir(&mine).unwrap();
        let hostile = Text::describing(|about| {
            about.id = b"index".to_vec();
            about.title = "<script>alert('x')</script>\" onload=\"y".to_owned();
            about.family = "names".to_owned();
            about.notes = "</p><img src=\"https://example.org/x.png\">{{ 7 * 7 }} & so on".to_owned();
            about.languages = vec!["nds".to_owned(), "de-AT".to_owned()];
        });
        std::fs::write(mine.join("hostile.wasm"), hostile.core()).unwrap();
        std::fs::write(mine.join("broken.wasm"), b"\0asm but not really").unwrap();
    });
    assert_eq!(made.status, Some(1));
    class::faults_are_told(&made);
    let mut shown = 0;
    for (name, page) in &made.pages {
        for element in elements(page) {
            let harmless = (element.name != "script" || is_ours(&element))
                && element.attributes.keys().all(|a| !a.starts_with("on"))
                && [element.get("src"), element.get("href")].iter().flatten().all(|l| !l.contains("://"));
            assert!(harmless, "{}: {element:?}", name.display());
            shown += usize::from(element.after.contains("<script>alert('x')</script>\" onload=\"y"));
        }
    }
    assert!(shown >= 4, "{shown}");
    // In scripts, too, it is text and nothing else.
    let data = std::fs::read_to_string(made.place().join("data/grounds.js")).unwrap();
    assert!(!data.contains('<'));
    let data = assigned("data/grounds.js", &data, "var pairwise");
    let all = list(&data, "varieties").iter();
    let hostile: Vec<&Value> = all.filter(|v| string(v, "name").starts_with("index/")).collect();
    assert!(!hostile.is_empty());
    assert!(hostile.iter().all(|v| string(v, "ground") == "<script>alert('x')</script>\" onload=\"y"));
    // Its page is one among the grounds, and the index is still the index.
    assert!(made.page("index.html").contains("<h1>Grounds and fillings</h1>"));
    let index = elements(made.page("index.html"));
    assert!(index.iter().any(|e| e.after.starts_with("Left out: ") && e.after.contains("broken.wasm")));
    assert!(made.page("grounds/index.html").contains("{{ 7 * 7 }} &amp; so on"), "text is no template");
    for language in ["nds", "German (de-AT)"] {
        assert!(made.page("names.html").contains(&format!("<h2>{language}</h2>")), "{language}");
    }
}

#[test]
fn the_page_of_findings_has_its_drawings_as_files() {
    let elements = elements(CLASS.page("faults.html"));
    let list = pairwise(CLASS.folder.path(), &["explain"]);
    let list = text(&list.stdout);
    let mut codes = 0;
    for entry in elements.iter().filter(|e| e.get("class") == Some("finding")) {
        let code = entry.get("id").unwrap();
        assert!(list.contains(&format!("\n{code} ")), "{code}");
        codes += 1;
    }
    assert!(codes >= 22, "{codes}");
    let mut drawings = 0;
    for picture in elements.iter().filter(|e| e.name == "img") {
        let file = CLASS.place().join(picture.get("src").unwrap());
        let drawing = std::fs::read_to_string(&file).unwrap();
        let drawing = roxmltree::Document::parse(&drawing).unwrap_or_else(|why| panic!("{file:?}: {why}"));
        let title = drawing.descendants().find(|n| n.tag_name().name() == "title").and_then(|n| n.text());
        assert_eq!(title, picture.get("alt"), "{file:?}");
        // The page reserves space for it before it has loaded.
        let size = |what: &str| -> f64 { picture.get(what).unwrap().parse().unwrap() };
        let mm = |what: &str| -> f64 {
            drawing.root_element().attribute(what).unwrap().strip_suffix("mm").unwrap().parse().unwrap()
        };
        assert!((size("width") - mm("width") * 96.0 / 25.4).abs() <= 0.5);
        assert!((size("height") - mm("height") * 96.0 / 25.4).abs() <= 0.5);
        drawings += 1;
    }
    assert_eq!(drawings, 3 * (codes - 3));
    for (name, page) in &CLASS.pages {
        let links = page.matches("faults.html\">Faults and remedies</a>").count();
        assert_eq!(links, 1, "{}", name.display());
    }
}

/// The value that a data script assigns: JSON, and nothing else in the file.
fn assigned(file: &str, text: &str, name: &str) -> Value {
    let json =
        text.strip_prefix(name).and_then(|t| t.strip_prefix(" = ")).and_then(|t| t.strip_suffix(";\n"));
    let json = json.unwrap_or_else(|| panic!("{file} does not give {name} a value"));
    serde_json::from_str(json).unwrap_or_else(|why| panic!("{file}: {why}"))
}

fn script(file: &str, name: &str) -> Value {
    assigned(file, &std::fs::read_to_string(CLASS.place().join(file)).unwrap(), name)
}

/// The script's data on each variety, by name.
static EXPLORED: LazyLock<BTreeMap<String, Value>> = LazyLock::new(|| {
    let data = script("data/grounds.js", "var pairwise");
    assert_eq!(data["format"], "pairwise-explore/2");
    list(&data, "varieties").iter().map(|v| (string(v, "name").to_owned(), v.clone())).collect()
});

#[test]
fn data_and_mark_match_their_schemas() {
    schema::hold(&script("data/grounds.js", "var pairwise"), "pairwise-explore/2", "");
    for name in EXPLORED.keys() {
        let large = script(&format!("data/{name}.js"), &format!("pairwise.large[\"{name}\"]"));
        schema::hold(&large, "pairwise-explore/2", "/$defs/Large");
    }
    schema::read(&std::fs::read(CLASS.place().join("pairwise-gallery.json")).unwrap());
}

#[test]
fn every_variety_can_be_explored_with_its_names_and_measures() {
    let pictures = script("data/pictures.js", "pairwise.pictures");
    let mut names = BTreeSet::new();
    for ground in grounds() {
        for variety in list(ground, "varieties") {
            let name = format!("{}/{}", string(ground, "id"), string(variety, "id"));
            let explored = EXPLORED.get(&name).unwrap_or_else(|| panic!("{name} cannot be explored"));
            for (key, other) in [("kind", "kind"), ("family", "family")] {
                assert_eq!(explored[key], ground[other], "{name}");
            }
            assert_eq!(explored["goes"], variety["colours_go"], "{name}");
            assert_eq!(explored["title"], variety["title"], "{name}");
            assert_eq!(explored["pairs"], variety["pairs_across"], "{name}");
            assert_eq!(explored["pins"], variety["pins"], "{name}");
            assert_eq!(explored["works"], list(variety, "works").len(), "{name}");
            for measure in ["pairs_per_cm", "pins_per_cm2", "moves_per_cm2"] {
                assert_eq!(explored[measure], variety["measures"][measure], "{name}");
            }
            let called = list(ground, "other_names").iter().chain(list(variety, "other_names"));
            for other in called.map(|n| &n["name"]).chain([&ground["title"], &variety["title"]]) {
                assert!(list(explored, "names").contains(other), "{name}: {other}");
            }
            assert_eq!(list(explored, "names").len(), list(explored, "folded").len());
            // Facts are in the same rows for all varieties.
            let rows = |v: &Value| list(v, "facts").iter().map(|f| f[0].clone()).collect::<Vec<_>>();
            assert_eq!(rows(explored), rows(&EXPLORED["torchon/plain"]), "{name}");
            let large = script(&format!("data/{name}.js"), &format!("pairwise.large[\"{name}\"]"));
            assert!(large["picture"].is_string());
            assert_eq!(list(&large, "ways").len(), 24, "{name}");
            assert!(pictures[&name].is_string(), "{name}");
            names.insert(name);
        }
    }
    assert_eq!(EXPLORED.keys().cloned().collect::<BTreeSet<_>>(), names);
    // Found without its accents, since the script folds what is typed.
    assert!(EXPLORED["point/plain"]["folded"].as_array().unwrap().contains(&"tullgrund".into()));
}

// Size of what the page loads before a picture is opened, and of the whole folder
// that is handed to a class.
#[test]
fn the_page_to_explore_and_the_whole_folder_stay_light() {
    let size = |file: &str| std::fs::metadata(CLASS.place().join(file)).unwrap().len();
    let page = ["explore.html", "style.css", "explore.css"].into_iter().chain(OUR_SCRIPTS).map(size);
    let page: u64 = page.sum();
    assert!(page < 3_000_000, "{page} bytes");
    let all = files_in(&CLASS.place());
    let whole: u64 = all.iter().map(|file| std::fs::metadata(CLASS.place().join(file)).unwrap().len()).sum();
    assert!(whole < 60_000_000, "{whole} bytes");
}

// Outside check: poppler reads the text, the size of the paper (ISO 216) and, at 300
// dots to the inch, the line of 50 mm beside the pricking: 590.55 pixels.
#[test]
fn every_variety_has_a_page_to_print() {
    let at = CLASS.place();
    let mut count = 0;
    for ground in grounds() {
        let id = string(ground, "id");
        let links = elements(CLASS.page(&format!("grounds/{id}.html")));
        for variety in list(ground, "varieties") {
            let pdf = format!("sheets/{id}/{}.pdf", string(variety, "id"));
            assert!(links.iter().any(|e| e.get("href") == Some(&format!("../{pdf}"))), "{pdf} is not linked");
            let size = std::fs::metadata(at.join(&pdf)).unwrap().len();
            // The largest is the half stitch diamond, whose threads part at every stitch.
            assert!(size < 640_000, "{pdf}: {size} bytes");
            let Some(info) = poppler("pdfinfo", &at, &[&pdf]) else { return };
            let info = text(&info);
            assert!(info.contains("595.276 x 841.89 pts (A4)"), "{pdf}: {info}");
            let words = text(&poppler("pdftotext", &at, &["-raw", "-l", "1", &pdf, "-"]).unwrap());
            let words = words.split_whitespace().collect::<Vec<_>>().join(" ");
            for said in [string(variety, "title"), "Pricking, actual size", "Order of working"] {
                assert!(words.contains(said), "{pdf}: {said}: {words}");
            }
            count += 1;
        }
    }
    assert_eq!(count, EXPLORED.len());
    for pdf in ["sheets/torchon/plain.pdf", "sheets/rose/plain.pdf"] {
        let args = ["-r", "300", "-gray", "-singlefile", pdf];
        let page = Rendered::read(&poppler("pdftoppm", &at, &args).unwrap());
        let (left, base) = corner(&page);
        // 2 mm beside each line there are only its end ticks.
        for ends in [
            runs(page.across(base - 24, left - 6..left + 614)),
            runs(page.down(left + 24, base - 610..base + 8)),
        ] {
            assert_eq!(ends.len(), 2, "{pdf}: {ends:?}");
            assert!((ends[1] - ends[0] - 590.55).abs() <= 1.0, "{pdf}: {ends:?}");
        }
    }
    // It is the page that `pairwise sheet` makes.
    let folder = tempfile::tempdir().unwrap();
    let out = pairwise(folder.path(), &["sheet", "torchon/plain", "--out", "a.pdf"]);
    assert_eq!(out.status.code(), Some(0), "{}", text(&out.stderr));
    let made = std::fs::read(folder.path().join("a.pdf")).unwrap();
    assert!(made == std::fs::read(at.join("sheets/torchon/plain.pdf")).unwrap(), "another page");
}

// Scripts use no network, never insert text as markup, and load only files beside
// them.
#[test]
fn the_script_is_alone_and_takes_text_for_text() {
    let script = std::fs::read_to_string(CLASS.place().join("explore.js")).unwrap();
    let harmful = [
        "innerHTML",
        "outerHTML",
        "insertAdjacentHTML",
        "document.write",
        "eval(",
        "Function(",
        "fetch(",
        "XMLHttpRequest",
        "WebSocket",
        "sendBeacon",
        "import ",
        "import(",
        "http:",
        "https:",
        "localStorage",
    ];
    for word in harmful {
        assert!(!script.contains(word), "{word}");
    }
    for style in ["style.css", "explore.css"] {
        let style = std::fs::read_to_string(CLASS.place().join(style)).unwrap();
        assert!(!style.contains("@import"));
        for address in style.split("url(").skip(1) {
            let file = address.strip_prefix("\"fonts/").unwrap().split('"').next().unwrap();
            assert!(CLASS.place().join("fonts").join(file).is_file(), "{file}");
        }
    }
}

// The characters of all pages and scripts, including the texts of our
// contributions.
#[test]
fn pages_carry_a_letter_for_every_character() {
    let read = |file: &str| std::fs::read_to_string(CLASS.place().join(file)).unwrap();
    let mut texts: String = CLASS.pages.values().map(String::as_str).collect();
    texts.extend(["explore.js", "data/grounds.js"].map(read));
    assert!(texts.contains('é') && texts.contains('…'));
    for face in ["fonts/pairwise-sans-regular.woff", "fonts/pairwise-sans-semibold.woff"] {
        let bytes = std::fs::read(CLASS.place().join(face)).unwrap();
        assert!(bytes.len() < 25_000, "{face}: {} bytes", bytes.len());
        assert_eq!(typeface::lacking(&bytes, &texts), BTreeSet::new(), "{face}");
    }
    assert!(read("fonts/licence.txt").contains("SIL OPEN FONT LICENSE Version 1.1"));
}

/// A reader of stencils, written from the description of the bytes in
/// `picture::export::stencil::packed`, independent of the pages' own reader.
struct Bytes<'a>(&'a [u8]);

impl<'a> Bytes<'a> {
    fn byte(&mut self) -> usize {
        let (first, rest) = self.0.split_first().unwrap();
        self.0 = rest;
        usize::from(*first)
    }

    fn number(&mut self) -> usize {
        let mut value = 0;
        for shift in (0..).step_by(7) {
            let byte = self.byte();
            value |= (byte & 127) << shift;
            if byte < 128 {
                break;
            }
        }
        value
    }

    fn signed(&mut self) -> i64 {
        let n = self.number() as i64;
        if n % 2 == 0 { n / 2 } else { -(n + 1) / 2 }
    }

    fn section(&mut self) -> Bytes<'a> {
        let length = self.number();
        let (section, rest) = self.0.split_at(length);
        self.0 = rest;
        Bytes(section)
    }
}

/// Paints the stencil in a script: its width and its pixels, in the repeating
/// colours of its threads, on a cloth.
fn painted(letters: &str, colours: &[[u8; 3]], cloth: [u8; 3]) -> (usize, Vec<[u8; 3]>) {
    use base64::Engine;
    use std::io::Read;
    let small = base64::engine::general_purpose::STANDARD.decode(letters).unwrap();
    let mut all = Vec::new();
    flate2::read::DeflateDecoder::new(&small[..]).read_to_end(&mut all).unwrap();
    let mut bytes = Bytes(&all);
    let [width, height, recipes] = [0; 3].map(|_| bytes.number());
    let first = bytes.signed();
    let [mut parts, mut back_high, mut back_low] = [0; 3].map(|_| bytes.section());
    let [mut fixed, mut high, mut low] = [0; 3].map(|_| bytes.section());
    let mut red = 0;
    let table: Vec<([i64; 3], Vec<i64>)> = (0..recipes)
        .map(|_| {
            red += fixed.signed();
            let fixed = [red, red + fixed.signed(), red + fixed.signed()];
            let back = (back_high.byte() * 256 + back_low.byte()) as i64;
            let colour = [0, 1, 2].map(|k| fixed[k] + back * i64::from(cloth[k]));
            (colour, (0..parts.byte()).map(|_| (high.byte() * 256 + low.byte()) as i64).collect())
        })
        .collect();
    let [mut pixels, mut more, mut threads, mut new] = [0; 4].map(|_| bytes.section());
    let mut met: Vec<usize> = Vec::new();
    let pixel = |_| {
        let recipe = match pixels.byte() {
            k if k < 128 => k,
            255 => more.byte() << 16 | more.byte() << 8 | more.byte(),
            k => 128 + 256 * (k - 128) + more.byte(),
        };
        let (mut sum, weights) = table[recipe].clone();
        for weight in weights {
            let place = threads.byte();
            let thread = if place == 255 { new.number() } else { met.remove(place) };
            met.insert(0, thread);
            met.truncate(255);
            let hung = (first + thread as i64).rem_euclid(colours.len() as i64) as usize;
            for (sum, value) in sum.iter_mut().zip(colours[hung]) {
                *sum += weight * i64::from(value);
            }
        }
        sum.map(|v| ((v + 16_384) / 32_768).min(255) as u8)
    };
    (width, (0..width * height).map(pixel).collect())
}

/// The stencil of a variety that shows so much lace.
fn stencil_of(name: &str, mm: f64) -> String {
    let (file, variable) = match EXPLORED[name]["small_mm"].as_f64() == Some(mm) {
        true => ("data/pictures.js".to_owned(), "pairwise.pictures".to_owned()),
        false => (format!("data/window-{mm}.js"), format!("pairwise.wider[\"{mm}\"]")),
    };
    string(&script(&file, &variable), name).to_owned()
}

/// Compares the stencils in the scripts with the pictures that `grid` draws of
/// these grounds in an arrangement and colours, on a cloth. Returns the number
/// compared.
fn compared(
    grounds: &[&str],
    order: &str,
    colours: &[(&str, [u8; 3])],
    cloth: [u8; 3],
    more: &[&str],
) -> usize {
    let folder = tempfile::tempdir().unwrap();
    let names: Vec<&str> = colours.iter().map(|(name, _)| *name).collect();
    let names = names.join(",");
    let usual = ["--varieties", "--size", "160", "--page", "20000", "--index", "grid.json"];
    let own = ["grid", "--arrangement", order, "--colours", &names];
    let out = pairwise(folder.path(), &[&own, grounds, &usual, more].concat());
    assert_eq!(out.status.code(), Some(0), "{}", text(&out.stderr));
    let index = std::fs::read(folder.path().join("grid.json")).unwrap();
    let index: Value = serde_json::from_slice(&index).unwrap();
    let file = std::io::BufReader::new(std::fs::File::open(folder.path().join("grid.png")).unwrap());
    let mut decoder = png::Decoder::new(file);
    decoder.set_transformations(png::Transformations::EXPAND);
    let mut reader = decoder.read_info().unwrap();
    let mut page = vec![0; reader.output_buffer_size().unwrap()];
    let info = reader.next_frame(&mut page).unwrap();
    let hung: Vec<[u8; 3]> = order
        .split(' ')
        .flat_map(|pair| [pair.as_bytes()[0], pair.as_bytes()[pair.len() - 1]])
        .map(|letter| colours[usize::from(letter - b'A')].1)
        .collect();
    for cell in list(&index, "cells") {
        let name = format!("{}/{}", string(cell, "ground"), string(cell, "variety"));
        let stencil = stencil_of(&name, cell["window_mm"].as_f64().unwrap());
        let (width, pixels) = painted(&stencil, &hung, cloth);
        let [x, y, wide] = ["x", "y", "width"].map(|what| cell[what].as_u64().unwrap() as usize);
        assert_eq!((wide, pixels.len()), (width, width * width), "{name}");
        for (at, pixel) in pixels.iter().enumerate() {
            let there = 3 * ((y + at / width) * info.width as usize + x + at % width);
            assert_eq!(page[there..there + 3], *pixel, "{name} at {}, {}", at % width, at / width);
        }
    }
    list(&index, "cells").len()
}

// Every picture that a browser can paint is, pixel for pixel, the one that the
// program paints in the same arrangement and colours.
#[test]
fn what_the_browser_paints_is_what_the_program_paints() {
    let [navy, gold] = [("navy", [0, 0, 128]), ("gold", [255, 215, 0])];
    let [linen, slate, night] = [[232, 224, 208], [0x6b, 0x7a, 0x8c], [0x1d, 0x2a, 0x3a]];
    let orange = ("darkorange", [255, 140, 0]);
    assert_eq!(compared(&[], "A A B B", &[navy, orange], linen, &[]), EXPLORED.len());
    // Gold is too pale for linen, and teal too much like the grey-blue cloth.
    let three = [gold, ("teal", [0, 128, 128]), orange];
    assert!(compared(&["rose", "point"], "A/B C B C/A B A", &three, night, &[]) > 10);
    assert!(compared(&["torchon"], "A A A A A A A B B B B B B B", &[navy, gold], slate, &[]) > 1);
    // As seen with a colour deficiency: colours are converted, then painted.
    let data = script("data/grounds.js", "var pairwise");
    let sights = list(&data, "sights");
    assert_eq!(sights.len(), 4);
    for sight in sights {
        let matrix: [[f64; 3]; 3] = serde_json::from_value(sight["matrix"].clone()).unwrap();
        let seen = [navy, gold].map(|(name, rgb)| (name, seen(rgb, matrix)));
        compared(&["torchon/plain"], "A B", &seen, slate, &["--seen-by", string(sight, "id")]);
    }
}

/// A colour as seen with a colour deficiency: to linear light (IEC 61966-2-1),
/// the matrix, and back.
fn seen(rgb: [u8; 3], matrix: [[f64; 3]; 3]) -> [u8; 3] {
    let light = rgb.map(|v| {
        let v = f64::from(v) / 255.0;
        if v <= 0.04045 { v / 12.92 } else { libm::pow((v + 0.055) / 1.055, 2.4) }
    });
    matrix.map(|row| {
        let sum: f64 = row.iter().zip(light).map(|(m, v)| m * v).sum();
        let v = sum.clamp(0.0, 1.0);
        let v = if v <= 0.003_130_8 { 12.92 * v } else { 1.055 * libm::pow(v, 1.0 / 2.4) - 0.055 };
        (v * 255.0).round() as u8
    })
}

// A chart from the gallery can be packed unchanged.
#[test]
fn charts_to_take_away_are_sound() {
    let folder = tempfile::tempdir().unwrap();
    for name in ["rose/plain", "spider/three", "point/plain"] {
        let chart = CLASS.place().join(format!("charts/{name}.toml"));
        let out = pairwise(folder.path(), &["check", chart.to_str().unwrap()]);
        assert_eq!(out.status.code(), Some(0), "{name}: {}", text(&out.stdout));
    }
}
