//! Pages, pictures and documents made from hostile texts contain no live markup.

use std::collections::BTreeMap;
use std::path::Path;
use std::process::Command;

use scraper::{Html, Node};

use super::contributions::{Expected, write_texts};
use super::run;
use crate::contribution::{Options, Set, Text};
use crate::machine;
use crate::support::{pages_in, text};

/// One gallery with all hostile contributions that are quick, for all checks,
/// since making it takes longer than checking it.
#[test]
fn a_gallery_of_hostile_contributions_is_harmless() {
    let folder = tempfile::tempdir().unwrap();
    let mine = folder.path().join("mine");
    std::fs::create_dir(&mine).unwrap();
    for case in write_texts(&mine) {
        if case.file.contains("spins") || case.file.contains("eats") {
            std::fs::remove_file(mine.join(case.file)).unwrap();
        }
    }
    std::fs::write(mine.join("moody.wasm"), moody()).unwrap();
    let live = r#"<script>document.title="caught"</script><img src=x onerror=document.title="caught">"#;
    let recipe = format!(
        "format = 'pairwise-recipe/1'\ntitle = '{live}'\nclass = '{live}'\nnotes = '{live}'\n\
         colours = [{{ name = '{live}', rgb = 'navy' }}, 'gold']\n\
         [[ground]]\nname = 'torchon/plain'\nnotes = '{live}'\n[[ground]]\nname = '{live}'\n"
    );
    // Its name is shown on the page of the class.
    let recipe_file = if cfg!(unix) { "\u{1b}[31mcla\nss\u{202e}.toml" } else { "class.toml" };
    std::fs::write(folder.path().join(recipe_file), recipe).unwrap();
    let args = [
        "gallery",
        "--plugins",
        "mine",
        "--out",
        "class",
        "--arrangement",
        "A B",
        "--arrangement-length",
        "2",
    ];
    let args = [&args[..], &["--recipe", recipe_file]].concat();
    let out = run(folder.path(), &args);
    assert_eq!(out.status.code(), Some(1), "{}", text(&out.stderr));
    super::terminal::harmless("gallery", &out);
    let beside = std::fs::read_dir(folder.path()).unwrap().count();
    assert_eq!(beside, 3, "something stands beside the contributions, the recipe and the gallery");
    let class = folder.path().join("class");
    let page = std::fs::read_to_string(class.join("grounds/moody.html")).unwrap();
    assert!(page.contains("gave up"), "the page says which choice cannot be shown: {page}");
    files_are_called_plainly(&class);
    texts_are_texts(&class);
    what_is_live_would_be_noticed(&class);
    super::browser::title_and_address_stay(&class);
}

/// A contribution that works until one of its choices is made.
fn moody() -> Vec<u8> {
    let mut text = Text::define("(if (i32.load offset=12 (local.get 0)) (then unreachable))");
    text.description.id = b"moody".to_vec();
    text.description.choices = vec![("mood".to_owned(), Options::Count(0, 1, Set::Count(0)))];
    text.core()
}

/// Ids that are device names, or paths to elsewhere, never become files.
fn files_are_called_plainly(class: &Path) {
    let mut pages = 0;
    let mut folders = vec![class.to_owned()];
    while let Some(here) = folders.pop() {
        for entry in std::fs::read_dir(&here).unwrap() {
            let path = entry.unwrap().path();
            let name = path.file_name().unwrap().to_str().unwrap();
            let plain = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-' || c == '.';
            assert!(name.chars().all(plain), "{path:?}");
            assert!(!catalogue::text::is_device(name.split('.').next().unwrap()), "{path:?}");
            pages += usize::from(name == "markup.html");
            if path.is_dir() {
                folders.push(path);
            }
        }
    }
    assert_eq!(pages, 1);
}

/// Whether a reference stays inside: a path or a place in the page, no scheme,
/// no host, nothing that a browser would leave out on reading.
fn stays(reference: &str) -> bool {
    !reference.contains(':') && !reference.starts_with("//") && !reference.contains(['\\', '\t', '\n'])
}

/// Attributes that a browser follows (WHATWG HTML, index of attributes: those
/// whose value is a URL or holds some).
const FOLLOWED: [&str; 13] = [
    "href",
    "src",
    "srcset",
    "action",
    "formaction",
    "data",
    "poster",
    "background",
    "cite",
    "manifest",
    "ping",
    "codebase",
    "srcdoc",
];

/// The elements allowed in our pages.
const ELEMENTS: &str = "html head meta title link body header nav main footer section article aside h1 h2 h3 h4 p \
    a ul ol li dl dt dd dfn table caption thead tbody tr th td img figure figcaption span div code pre em strong b \
    i small br details summary form fieldset legend label input select option optgroup button output canvas \
    dialog noscript script";

/// Our own scripts, also from a folder within; nothing else may run.
const SCRIPTS: [&str; 4] = ["chosen.js", "explore.js", "data/grounds.js", "data/pictures.js"];

/// Checks with an HTML parser that a page contains nothing live. Returns its
/// text.
pub fn lifeless(name: &str, page: &str) -> String {
    let html = Html::parse_document(page);
    let mut text = String::new();
    for node in html.tree.nodes() {
        match node.value() {
            Node::Element(element) => {
                let tag = element.name();
                assert!(ELEMENTS.split_whitespace().any(|known| known == tag), "{name}: <{tag}>");
                if tag == "script" {
                    let own = element
                        .attr("src")
                        .is_some_and(|src| SCRIPTS.contains(&src.strip_prefix("../").unwrap_or(src)));
                    assert!(own && !node.has_children(), "{name}: {element:?}");
                }
                for (attribute, value) in element.attrs() {
                    assert!(!attribute.starts_with("on"), "{name}: {element:?}");
                    if FOLLOWED.contains(&attribute) {
                        assert!(stays(value), "{name}: {attribute}=\"{value}\"");
                    }
                    if attribute == "style" {
                        assert!(!value.contains("url"), "{name}: {value}");
                    }
                    assert!(attribute != "http-equiv", "{name}: {element:?}");
                }
            }
            Node::Text(words) => text.push_str(words),
            Node::Comment(comment) => panic!("{name}: our pages have no comments: {comment:?}"),
            _ => {}
        }
    }
    text
}

/// Checks pages and style sheets with an HTML parser.
fn texts_are_texts(class: &Path) {
    let mut shown =
        BTreeMap::from([("<script>document.title=\"caught\"</script>", 0), ("{{ 7 * 7 }} {% raw %}", 0)]);
    shown.insert("\" onload=\"document.title='caught'\" x=\"' onerror='document.title=1' `", 0);
    let pages = pages_in(class);
    assert!(pages.len() > 25, "{}", pages.len());
    for (name, page) in &pages {
        let text = lifeless(&name.display().to_string(), page);
        let bad = text.chars().find(|&c| {
            (c.is_control() && c != '\n') || matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
        });
        assert_eq!(bad, None, "{}", name.display());
        for (words, times) in &mut shown {
            *times += usize::from(text.contains(words));
        }
    }
    // In the index, among the names, on its own page.
    assert!(shown.values().all(|&times| times >= 1) && shown.values().any(|&times| times >= 3), "{shown:?}");
    for style in ["style.css", "explore.css"] {
        let style = std::fs::read_to_string(class.join(style)).unwrap();
        assert!(!style.contains("@import"));
        assert!(style.split("url(").skip(1).all(|address| address.starts_with("\"fonts/pairwise")));
    }
    // The script is ours; its data contain texts only as strings, none of which
    // could end the script element.
    let script = std::fs::read_to_string(class.join("explore.js")).unwrap();
    assert_eq!(script, gallery::sources::SCRIPT);
    for how in ["innerHTML", "outerHTML", "insertAdjacentHTML", "document.write", "eval(", "Function("] {
        assert!(!script.contains(how), "{how} would make markup of texts");
    }
    let data = std::fs::read_to_string(class.join("data/grounds.js")).unwrap();
    assert!(data.contains("document.title") && !data.contains('<') && !data.contains('\u{2028}'));
}

/// The check above is effective: with one text unescaped, it fails.
fn what_is_live_would_be_noticed(class: &Path) {
    let index = std::fs::read_to_string(class.join("index.html")).unwrap();
    lifeless("index", &index);
    for live in [
        "<script>document.title=1</script>",
        "<script src=\"explore.js\">document.title=1</script>",
        "<script src=\"data/x.js\"></script>",
        "<img src=x onerror=y>",
        "<a href=\"java\tscript:x\">",
        "<a href=//example.org>",
        "<svg onload=x>",
        "<base href=x>",
        "<!-- -->",
    ] {
        let page = index.replacen("</main>", &format!("{live}</main>"), 1);
        assert_ne!(page, index);
        let noticed = std::panic::catch_unwind(|| lifeless("spoilt", &page));
        assert!(noticed.is_err(), "{live}");
    }
}

/// Ids of the harmless contributions that have texts.
fn loud(folder: &Path) -> Vec<String> {
    let all = write_texts(folder).into_iter().filter_map(|case| match case.expected {
        Expected::Taken(id) => Some(id),
        Expected::Says(_) => {
            std::fs::remove_file(folder.join(case.file)).unwrap();
            None
        }
    });
    let loud = ["markup", "attributes", "escapes", "turns-the-writing"];
    let found: Vec<String> = all.filter(|id| loud.contains(&id.as_str())).collect();
    assert_eq!(found.len(), loud.len());
    found
}

#[test]
fn drawings_and_documents_contain_texts_and_nothing_live() {
    let folder = tempfile::tempdir().unwrap();
    let mine = folder.path().join("mine");
    std::fs::create_dir(&mine).unwrap();
    for id in loud(&mine) {
        for (kind, show) in
            [("whole", &[][..]), ("pairs", &["--show", "pairs"]), ("pricking", &["--show", "pricking"])]
        {
            let (svg, pdf) = (format!("{id}-{kind}.svg"), format!("{id}-{kind}.pdf"));
            for file in [&svg, &pdf] {
                let args = [&["sheet", &id, "--plugins", "mine", "--out", file], show].concat();
                let out = run(folder.path(), &args);
                assert_eq!(out.status.code(), Some(0), "{args:?}: {}", text(&out.stderr));
                super::terminal::harmless("sheet", &out);
            }
            drawing(&svg, &std::fs::read_to_string(folder.path().join(&svg)).unwrap());
            document(&folder.path().join(&pdf));
        }
    }
}

/// An SVG file as an XML parser reads it.
fn drawing(name: &str, svg: &str) {
    let options = roxmltree::ParsingOptions { allow_dtd: false, ..Default::default() };
    let tree =
        roxmltree::Document::parse_with_options(svg, options).unwrap_or_else(|why| panic!("{name}: {why}"));
    for node in tree.descendants().filter(roxmltree::Node::is_element) {
        let tag = node.tag_name().name();
        let known = [
            "svg", "g", "defs", "path", "clipPath", "pattern", "use", "rect", "circle", "line", "polyline",
            "polygon", "title", "desc", "symbol", "text", "tspan", "mask", "style", "ellipse",
        ];
        assert!(known.contains(&tag), "{name}: <{tag}>");
        if tag == "style" {
            let rules = node.text().unwrap_or_default();
            assert!(!rules.contains("@import") && !rules.contains("//"), "{name}: {rules}");
        }
        for attribute in node.attributes() {
            let (what, value) = (attribute.name(), attribute.value());
            assert!(!what.starts_with("on"), "{name}: {what}");
            if what == "href" {
                assert!(value.starts_with('#'), "{name}: {value}");
            }
            let outside = value.split("url(").skip(1).any(|rest| !rest.starts_with('#'));
            assert!(!outside && !value.contains("script:"), "{name}: {value}");
        }
    }
    assert!(tree.descendants().all(|n| !n.is_pi() && !n.is_comment()), "{name}");
}

/// A PDF file as poppler reads it, if poppler is installed.
#[track_caller]
fn document(path: &Path) {
    let ask = |option: &str| Command::new("pdfinfo").arg(option).arg(path).output();
    let scripts = ask("-js");
    if !machine::has("poppler", scripts.is_ok()) {
        return;
    }
    let scripts = scripts.unwrap();
    assert!(scripts.status.success(), "{path:?}: {}", String::from_utf8_lossy(&scripts.stderr));
    assert_eq!(String::from_utf8_lossy(&scripts.stdout).trim(), "", "{path:?} holds a script");
    let links = ask("-url").unwrap();
    let links = String::from_utf8_lossy(&links.stdout).into_owned();
    assert_eq!(links.lines().skip(1).collect::<String>().trim(), "", "{path:?} holds links");
    // Names of actions that a reader would run by itself (ISO 32000-1, 12.6).
    let bytes = std::fs::read(path).unwrap();
    let names: [&[u8]; 5] = [b"/JavaScript", b"/Launch", b"/OpenAction", b"/EmbeddedFile", b"/SubmitForm"];
    for name in names {
        let found = bytes
            .windows(name.len() + 1)
            .any(|w| w.starts_with(name) && !w[name.len()].is_ascii_alphanumeric());
        assert!(!found, "{path:?} holds {}", String::from_utf8_lossy(name));
    }
}
