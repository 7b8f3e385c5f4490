//! The class gallery as a user makes it and a browser reads it.

#[path = "../../host/sandbox/tests/support/mod.rs"]
mod contribution;
mod support;

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Component, Path, PathBuf};
use std::sync::LazyLock;

use contribution::Text;
use serde_json::Value;
use support::{pairwise, text};

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

/// All elements of a page. Attributes must stand in double quotes, as ours do.
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
            attributes.insert(attribute.to_owned(), plain(value));
            rest = more;
        }
        assert_eq!(rest.trim(), "", "<{tag}>");
        all.push(Element { name: name.to_owned(), attributes, after: plain(after) });
    }
    all
}

/// Text without its escapes.
fn plain(text: &str) -> String {
    let mut plain = text.to_owned();
    for (escape, meant) in
        [("&lt;", "<"), ("&gt;", ">"), ("&quot;", "\""), ("&#x27;", "'"), ("&#x2f;", "/"), ("&amp;", "&")]
    {
        plain = plain.replace(escape, meant);
    }
    plain
}

/// A gallery: its pages by their paths inside the folder.
struct Made {
    folder: tempfile::TempDir,
    pages: BTreeMap<PathBuf, String>,
    status: Option<i32>,
}

impl Made {
    fn with(args: &[&str], before: impl FnOnce(&Path)) -> Made {
        let folder = tempfile::tempdir().unwrap();
        before(folder.path());
        // One colour order: tables of many take long and are tested elsewhere.
        let usual = ["gallery", "--out", "class", "--arrangement", "A A B B"];
        let out = pairwise(folder.path(), &[&usual, args].concat());
        assert!(text(&out.stdout).contains("index.html"), "{}", text(&out.stderr));
        let class = folder.path().join("class");
        let mut pages = BTreeMap::new();
        let mut folders = vec![class.clone()];
        while let Some(here) = folders.pop() {
            for entry in std::fs::read_dir(&here).unwrap() {
                let path = entry.unwrap().path();
                if path.is_dir() {
                    folders.push(path);
                } else if path.extension().is_some_and(|e| e == "html") {
                    let name = path.strip_prefix(&class).unwrap().to_owned();
                    pages.insert(name, std::fs::read_to_string(path).unwrap());
                }
            }
        }
        Made { folder, pages, status: out.status.code() }
    }

    fn place(&self) -> PathBuf {
        self.folder.path().join("class")
    }

    fn page(&self, name: &str) -> &str {
        &self.pages[Path::new(name)]
    }
}

/// The built-in grounds.
static CLASS: LazyLock<Made> = LazyLock::new(|| Made::with(&[], |_| {}));

/// What `grounds --json` lists.
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
    let pictures: BTreeSet<&str> = elements.iter().filter_map(|e| e.get("src")).collect();
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

// What HTML asks for (WHATWG HTML, 4.8.4.4 and 4.3.11) and what lets a page stay
// still while pictures come in.
#[test]
fn pages_are_sound_and_need_no_script() {
    for (name, page) in &CLASS.pages {
        let name = name.display();
        let elements = elements(page);
        assert!(page.starts_with("<!doctype html>") && elements[0].get("lang") == Some("en"), "{name}");
        let mut ids = BTreeSet::new();
        let mut level = 0;
        for element in &elements {
            assert!(!["script", "iframe", "object", "form", "base"].contains(&element.name.as_str()));
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
                if !src.contains("tables/") && !src.starts_with("findings/") {
                    assert!(alt.contains("hung A A B B"), "{name}: {alt}");
                    assert!(alt.contains("travel") || alt.contains("stay"), "{name}: {alt}");
                }
            }
        }
        assert_eq!(elements.iter().filter(|e| e.name == "h1").count(), 1, "{name}");
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
            // Those of the manual are drawings; see below.
            if file.extension().is_some_and(|ending| ending == "svg") {
                assert_eq!(name, Path::new("findings.html"));
                continue;
            }
            let reader = png::Decoder::new(std::io::BufReader::new(std::fs::File::open(&file).unwrap()))
                .read_info()
                .unwrap();
            let info = reader.info();
            let said = |what: &str| element.get(what).and_then(|n| n.parse().ok());
            assert_eq!((said("width"), said("height")), (Some(info.width), Some(info.height)), "{file:?}");
            assert_eq!(info.color_type, png::ColorType::Indexed, "{file:?}");
            if name == Path::new("index.html") {
                assert_eq!(element.get("loading"), Some("lazy"));
                // 16 mm of lace, 320 pixels: one scale for all, written into the file.
                assert_eq!((info.width, info.height), (320, 320));
                assert_eq!(info.pixel_dims.map(|d| (d.xppu, d.yppu)), Some((20_000, 20_000)));
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
fn every_other_name_stands_in_the_table_of_names_and_on_its_page() {
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
    // German names stand together, under their language.
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
    for word in ["ground", "half-stitch", "cloth-stitch-and-twist", "pin", "colour-order", "footside", "gimp"]
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
    let made = Made::with(&["--plugins", "mine"], |folder| {
        let mine = folder.join("mine");
        std::fs::create_dir(&mine).unwrap();
        let hostile = Text::said(|said| {
            said.id = b"index".to_vec();
            said.title = "<script>alert('x')</script>\" onload=\"y".to_owned();
            said.family = "names".to_owned();
            said.notes = "</p><img src=\"https://example.org/x.png\">{{ 7 * 7 }} & so on".to_owned();
            said.languages = vec!["nds".to_owned(), "de-AT".to_owned()];
        });
        std::fs::write(mine.join("hostile.wasm"), hostile.core()).unwrap();
        std::fs::write(mine.join("broken.wasm"), b"\0asm but not really").unwrap();
    });
    assert_eq!(made.status, Some(1));
    let mut shown = 0;
    for (name, page) in &made.pages {
        for element in elements(page) {
            let harmless = element.name != "script"
                && element.attributes.keys().all(|a| !a.starts_with("on"))
                && [element.get("src"), element.get("href")].iter().flatten().all(|l| !l.contains("://"));
            assert!(harmless, "{}: {element:?}", name.display());
            shown += usize::from(element.after.contains("<script>alert('x')</script>\" onload=\"y"));
        }
    }
    assert!(shown >= 4, "{shown}");
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
fn the_manual_of_findings_is_among_the_pages_with_its_drawings_as_files() {
    let elements = elements(CLASS.page("findings.html"));
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
        // The page keeps room for it before it has come.
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
        let links = page.matches("findings.html\">Findings</a>").count();
        assert_eq!(links, 1, "{}", name.display());
    }
}
