//! The handout of a class: a recipe and its faults, the printed pages against a
//! ruler and as text.

use std::path::Path;

use crate::rendered::{Rendered, runs};
use crate::support::{corner, pairwise, poppler, text};

/// Our own recipe.
fn evening_class() -> String {
    format!("{}/../../gallery/evening-class.toml", env!("CARGO_MANIFEST_DIR"))
}

fn run(folder: &Path, args: &[&str]) -> (i32, String) {
    let out = pairwise(folder, args);
    (out.status.code().unwrap(), text(&out.stdout) + &text(&out.stderr))
}

/// The message without line breaks.
fn flat(terminal: &str) -> String {
    terminal.chars().filter(|c| !c.is_whitespace() && *c != '│').collect()
}

#[track_caller]
fn assert_says(terminal: &str, words: &str) {
    assert!(flat(terminal).contains(&flat(words)), "it should say {words}: {terminal}");
}

fn names(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> =
        std::fs::read_dir(folder).unwrap().map(|e| e.unwrap().file_name().into_string().unwrap()).collect();
    names.sort();
    names
}

/// The words of a page, line by line.
#[track_caller]
fn page_text(folder: &Path, pdf: &str, page: usize) -> Option<String> {
    let page = page.to_string();
    Some(text(&poppler("pdftotext", folder, &["-f", &page, "-l", &page, "-layout", pdf, "-"])?))
}

#[test]
fn the_handout_has_the_same_bytes_each_time() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    let recipe = evening_class();
    let (status, terminal) = run(at, &["handout", &recipe, "-o", "class.pdf"]);
    assert_eq!(status, 0, "{terminal}");
    assert_says(&terminal, "class.pdf: 4 grounds on 7 pages of 210 by 297 mm");
    let (status, terminal) = run(at, &["handout", &recipe, "-o", "again.pdf"]);
    assert_eq!(status, 0, "{terminal}");
    assert_eq!(std::fs::read(at.join("class.pdf")).unwrap(), std::fs::read(at.join("again.pdf")).unwrap());
    let (status, terminal) = run(at, &["handout", &recipe, "-o", "letter.pdf", "--paper", "Letter"]);
    assert_eq!(status, 0, "{terminal}");
    assert_says(&terminal, "215.9 by 279.4 mm");
    assert_eq!(names(at), ["again.pdf", "class.pdf", "letter.pdf"]);

    let Some(info) = poppler("pdfinfo", at, &["class.pdf"]) else { return };
    let info = text(&info);
    for words in ["Four samples in two colours", "Tagged:          yes", "Pages:           7"] {
        assert!(info.contains(words), "{info}");
    }
    for pdf in ["class.pdf", "letter.pdf"] {
        let page = |k: usize| page_text(at, pdf, k).unwrap();
        let cover = page(1);
        for words in
            ["Four samples in two colours", "an invented class", "river blue", "30 wraps/cm", "Rose ground"]
        {
            assert!(cover.contains(words), "{words}: {cover}");
        }
        // Every ground in the list has its page number.
        for (title, number) in [("Double torchon ground", 3), ("Rose ground", 4)] {
            let line = cover.lines().find(|line| line.contains(title)).unwrap();
            assert!(line.trim_end().ends_with(&format!(" {number}")), "{line}");
            assert!(page(number).contains(title));
        }
        for k in 2..=5 {
            let page = page(k);
            for words in [
                "Materials",
                "Thread on each bobbin",
                "Where each colour goes",
                "Key to the diagram",
                "Order of working",
                "Pricking, actual size",
                "Notes",
                "Measure both lines",
                "your teacher\u{2019}s and local rules come first",
                &format!("Page {k} of 7"),
            ] {
                assert!(page.contains(words), "{pdf}, page {k}: {words}: {page}");
            }
        }
        assert!(page(2).contains("half stitch, pin, half stitch with pairs 2 and 3"));
        assert!(page(2).contains("Find one blue pair") || page(2).contains("one blue pair and follow it"));
        // Torchon ground of half stitches travels, of whole stitches stays.
        assert!(page(2).contains("run down to the left"), "{}", page(2));
        assert!(page(3).contains("stay in their own columns"), "{}", page(3));
        // Each stitch once, with its pages and letters.
        // The spider has an order of working of its own, with every step.
        assert!(page(5).contains("On page 6, with a larger diagram and its numbers."), "{}", page(5));
        for words in ["Order of working", "24 cloth stitch with pairs 4 and 5", "In a wider piece"] {
            let order = page(6).split_whitespace().collect::<Vec<_>>().join(" ");
            assert!(order.contains(words), "{words}: {order}");
        }
        let stitches = page(7);
        assert_eq!(
            stitches.matches("C T pin C T ").count(),
            1 + 1,
            "half stitches and whole ones: {stitches}"
        );
        for words in
            ["Half stitch, pin, half stitch", "page 2 (a)", "Reading a working diagram", "At the pillow"]
        {
            assert!(stitches.contains(words), "{words}: {stitches}");
        }
    }
}

/// A page in grey at 300 dots per inch.
#[track_caller]
fn printed(folder: &Path, pdf: &str, page: usize) -> Option<Rendered> {
    let page = page.to_string();
    let args = ["-r", "300", "-gray", "-f", &page, "-l", &page, "-singlefile", pdf];
    Some(Rendered::read(&poppler("pdftoppm", folder, &args)?))
}

// Outside check: poppler at 300 dpi. 50 mm are 590.55 pixels (25.4 mm to the
// inch), 4 mm between two footside pins 47.244.
#[test]
fn every_pricking_is_true_to_size() {
    const PX: f64 = 300.0 / 25.4;
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    for paper in ["a4", "letter"] {
        let (status, terminal) = run(at, &["handout", &evening_class(), "-o", "class.pdf", "--paper", paper]);
        assert_eq!(status, 0, "{terminal}");
        for page in 2..=5 {
            let Some(shown) = printed(at, "class.pdf", page) else { return };
            let (left, base) = corner(&shown);
            // 2 mm beside each line there are only its end ticks.
            let row = base - (2.0 * PX) as usize;
            let across = runs(shown.across(row, left - 6..left + 614));
            assert_eq!(across.len(), 2, "{paper}, page {page}: {across:?}");
            assert!((across[1] - across[0] - 590.55).abs() <= 1.0, "{paper}, page {page}: {across:?}");
            let column = left + (2.0 * PX) as usize;
            let down = runs(shown.down(column, base - 610..base + 8));
            assert_eq!(down.len(), 2, "{paper}, page {page}: {down:?}");
            assert!((down[1] - down[0] - 590.55).abs() <= 1.0, "{paper}, page {page}: {down:?}");
        }
        // The pins of the torchon grounds: every dot of the grid. Rows are half a
        // pin spacing apart, dots in a row one pin spacing.
        for page in [2, 3] {
            let Some(shown) = printed(at, "class.pdf", page) else { return };
            let (left, base) = corner(&shown);
            let (from, to) = (left + (4.0 * PX) as usize, left + (50.0 * PX) as usize);
            let line = |y: usize| shown.across(y, from..to);
            // The rows of dots above the scale, from below.
            let rows = runs((base - (52.0 * PX) as usize..base - (4.0 * PX) as usize).map(|y| line(y).sum()));
            let top = (base - (52.0 * PX) as usize) as f64;
            assert_eq!(rows.len(), 9, "16 mm: {rows:?}");
            let (first, last) = (rows[0], rows[rows.len() - 1]);
            assert!((last - first - 16.0 * PX).abs() <= 1.0, "{first} to {last}");
            let mut pins = 0;
            for row in &rows {
                let dots = runs(line((top + row) as usize));
                for two in dots.windows(2) {
                    assert!((two[1] - two[0] - 47.244).abs() <= 1.0, "{paper}, page {page}: {dots:?}");
                }
                pins += dots.len();
            }
            let words = page_text(at, "class.pdf", page).unwrap();
            let printed = words.lines().find(|line| line.trim_start().starts_with("Pins ")).map_or_else(
                || words.lines().find(|line| line.contains(" Pins  ")).unwrap_or_default().to_owned(),
                str::to_owned,
            );
            assert!(printed.trim_end().ends_with(&format!(" {pins}")), "{pins} dots: {printed}");
        }
    }
}

const RECIPE: &str = r##"format = "pairwise-recipe/1"
title = "A class"
class = "invented"
paper = "A4"
pin-spacing = 4
thread = "30 wraps/cm"
colours = ["navy", { name = "old rose", rgb = "#c08081" }]
arrangement = "A A B B"
[[ground]]
name = "rose/plain"
area = "40x60"
notes = "Mind the roses."
with = { crossing = "cloth" }
[[ground]]
name = "torchon"
arrangement = "A B"
"##;

fn write(folder: &Path, name: &str, text: &str) {
    std::fs::write(folder.join(name), text).unwrap();
}

#[test]
fn faults_are_shown_with_their_line_and_a_remedy_and_nothing_is_written() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    let long = format!("notes = \"{}\"", "long ".repeat(90));
    for (from, to, words) in [
        (
            "recipe/1",
            "recipe/2",
            &["bad.toml:1:10", "the format is `pairwise-recipe/2`", "update the program"][..],
        ),
        ("title =", "titel =", &["bad.toml:2:1", "`titel` means nothing here", "did you mean `title`?"]),
        ("\"A class\"", "\" \"", &["bad.toml:2:9", "there is no title"]),
        ("\"A4\"", "\"A3\"", &["bad.toml:4:9", "the paper `A3` is not known", "A4 or Letter"]),
        ("pin-spacing = 4", "pin-spacing = 0", &["bad.toml:5:15", "cannot be pricked", "pin-spacing = 4"]),
        ("30 wraps/cm", "thick", &["bad.toml:6:10", "`thick` is not a thread size", "30 wraps/cm"]),
        ("\"navy\"", "\"nevy\"", &["bad.toml:7:12", "the colour `nevy` is not known", "did you mean `navy`"]),
        ("#c08081", "#c0808", &["bad.toml:7:20", "the colour `#c0808` is not known", "#rrggbb"]),
        (
            "[\"navy\", { name = \"old rose\", rgb = \"#c08081\" }]",
            "[]",
            &["bad.toml:7:11", "there is no colour"],
        ),
        ("rgb =", "rbg =", &["bad.toml:7:20", "a colour has a name and rgb"]),
        (
            "A A B B",
            "A A B C",
            &["bad.toml:8:15", "the letter C, but only 2 colours are given", "give 3 colours"],
        ),
        ("A A B B", "A a b !", &["bad.toml:8:15", "is not a colour letter"]),
        (
            "rose/plain",
            "roze/plain",
            &["bad.toml:10:8", "the ground `roze` is not known", "did you mean `rose`"],
        ),
        ("rose/plain", "rose/plane", &["bad.toml:10:8", "no variety `plane`", "there are plain,"]),
        ("40x60", "40", &["bad.toml:11:8", "`40` is not an area", "an x between them"]),
        (
            "40x60",
            "300x300",
            &["bad.toml:11:8", "does not fit on one page of A4", "give at most", "pairwise sheet"],
        ),
        ("notes = \"Mind the roses.\"", &long, &["bad.toml:12:9", "there is room for 300"]),
        ("crossing =", "crosing =", &["bad.toml:13:10", "no choice `crosing`", "`crossing`"]),
        ("\"cloth\"", "\"clothe\"", &["bad.toml:13:21", "`crossing` cannot be `clothe`", "`cloth`"]),
        ("A B\"", "A D\"", &["bad.toml:16:15", "the letter D"]),
        ("name = \"torchon\"", "", &["bad.toml", "`name` is missing here"]),
        ("area = \"40x60\"", "area = \"40x60", &["bad.toml:11"]),
        // The text shown contains an ESC.
        ("Mind", "M\u{1b}[31mind", &["bad.toml:12"]),
    ] {
        assert!(RECIPE.contains(from), "{from}");
        write(at, "bad.toml", &RECIPE.replacen(from, to, 1));
        let (status, terminal) = run(at, &["handout", "bad.toml", "-o", "class.pdf"]);
        assert_eq!(status, 2, "{to}: {terminal}");
        for word in words {
            assert_says(&terminal, word);
        }
        assert!(!terminal.contains('\u{1b}'), "{terminal:?}");
        assert_eq!(names(at), ["bad.toml"], "{to}");
    }
    // All at once, in the order of the text.
    let many = RECIPE.replace("\"A4\"", "\"A0\"").replace("navy", "nevy").replace("rose/plain", "roze");
    write(at, "bad.toml", &many);
    let (status, terminal) = run(at, &["handout", "bad.toml"]);
    assert_eq!(status, 2);
    assert_says(&terminal, "bad.toml: 3 faults found");
    let places = ["bad.toml:4:", "bad.toml:7:", "bad.toml:10:"].map(|place| terminal.find(place).unwrap());
    assert!(places.is_sorted(), "{terminal}");
    // A recipe without a ground.
    write(at, "bad.toml", RECIPE.split("[[ground]]").next().unwrap());
    let (status, terminal) = run(at, &["handout", "bad.toml"]);
    assert_eq!(status, 2);
    assert_says(&terminal, "no ground is chosen");
    assert_says(&terminal, "[[ground]]");
    // Files that cannot be read, names that cannot be written.
    write(at, "good.toml", RECIPE);
    write(at, "broken.toml", "title = \"\u{e9}");
    std::fs::write(at.join("broken.toml"), b"title = \"\xff\"").unwrap();
    for (args, words) in [
        (&["handout", "missing.toml"][..], &["cannot read missing.toml"][..]),
        (&["handout", "broken.toml"], &["not text in UTF-8"]),
        (&["handout", "good.toml", "-o", "class.png"], &["class.png holds one", ".pdf"]),
        (&["handout", "good.toml", "-o", "class"], &["does not say what kind of file"]),
        (&["handout", "good.toml", "-o", "no/folder/class.pdf"], &["no/folder/class.pdf"]),
        (&["handout", "good.toml", "--paper", "a5"], &["a5", "letter"]),
    ] {
        let (status, terminal) = run(at, args);
        assert_eq!(status, 2, "{args:?}: {terminal}");
        for word in words {
            assert_says(&terminal, word);
        }
    }
    assert_eq!(names(at), ["bad.toml", "broken.toml", "good.toml"]);
    let (status, terminal) = run(at, &["handout", "good.toml"]);
    assert_eq!(status, 0, "{terminal}");
    assert_eq!(names(at), ["bad.toml", "broken.toml", "good.toml", "handout.pdf"]);
}

/// Two stitches whose pairs cross without a stitch: it can be packed, but is not
/// a ground.
const CROSSED: &str = r#"format = "pairwise-chart/1"
[about]
id = "crossed"
title = "Crossed"
source = "made up for a test"
[repeat]
across = [1, 1]
down = [-1, 1]
[[stitch]]
id = "pin"
at = [0, 0]
work = "half stitch, pin, half stitch"
left = { to = "pin", at = [1, 1], enters = "left" }
right = { to = "pin", at = [-1, 1], enters = "right" }
"#;

#[test]
fn a_ground_that_cannot_be_worked_has_a_page_that_says_why() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    std::fs::create_dir(at.join("more")).unwrap();
    write(at, "crossed.toml", CROSSED);
    let (status, terminal) = run(at, &["pack", "crossed.toml", "-o", "more/crossed.wasm"]);
    assert_eq!(status, 0, "{terminal}");
    write(at, "more/ours.wasm", "this is no component");
    let recipe = format!(
        "{RECIPE}[[ground]]\nname = \"crossed\"\nnotes = \"Ask her.\"\n[[ground]]\nname = \"ours/large\"\n"
    );
    write(at, "class.toml", &recipe);
    let (status, terminal) = run(at, &["handout", "class.toml", "-o", "class.pdf", "--plugins", "more"]);
    assert_eq!(status, 1, "{terminal}");
    assert_says(&terminal, "missing from the handout: crossed:");
    assert_says(&terminal, "missing from the handout: ours/large:");
    assert_says(&terminal, "left out more/ours.wasm");
    assert_says(&terminal, "class.pdf: 2 grounds on 6 pages");
    let Some(crossed) = page_text(at, "class.pdf", 4) else { return };
    for words in ["crossed", "Page 4 is missing", "is not a ground that can be worked", "Ask her."] {
        assert!(crossed.contains(words), "{words}: {crossed}");
    }
    let ours = page_text(at, "class.pdf", 5).unwrap();
    for words in ["ours/large", "Page 5 is missing", "ours.wasm", "could not be used"] {
        assert!(ours.contains(words), "{words}: {ours}");
    }
    assert!(page_text(at, "class.pdf", 1).unwrap().contains("missing: the page says why"));
    // The other pages are complete.
    assert!(page_text(at, "class.pdf", 2).unwrap().contains("Order of working"));
    // Without the folder its grounds are unknown.
    let (status, terminal) = run(at, &["handout", "class.toml", "-o", "other.pdf"]);
    assert_eq!(status, 2, "{terminal}");
    assert_says(&terminal, "the ground `crossed` is not known");
    assert!(!at.join("other.pdf").exists());
}

/// A word on a page with its rectangle: left, top, right, bottom.
type Word = (String, [f64; 4]);

/// The words on every page.
#[track_caller]
fn words(folder: &Path, pdf: &str) -> Option<Vec<([f64; 2], Vec<Word>)>> {
    let html = text(&poppler("pdftotext", folder, &["-bbox", pdf, "-"])?);
    let html = html.replace("<!DOCTYPE html PUBLIC \"-//W3C//DTD XHTML 1.0 Transitional//EN\" \"http://www.w3.org/TR/xhtml1/DTD/xhtml1-transitional.dtd\">", "");
    let tree = roxmltree::Document::parse(&html).expect("what poppler writes");
    let number = |node: &roxmltree::Node<'_, '_>, name: &str| -> f64 {
        node.attribute(name).expect("a number").parse().expect("a number")
    };
    let pages = tree.descendants().filter(|n| n.has_tag_name("page")).map(|page| {
        let words = page.children().filter(|n| n.has_tag_name("word")).map(|word| {
            let place = ["xMin", "yMin", "xMax", "yMax"].map(|name| number(&word, name));
            (word.text().unwrap_or_default().to_owned(), place)
        });
        ([number(&page, "width"), number(&page, "height")], words.collect())
    });
    Some(pages.collect())
}

// Every variety, on pages of every shape and both papers: all required texts are
// there, within the margins, and no word overlaps another.
#[test]
fn every_variety_has_a_page_without_anything_cut_off() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    let out = pairwise(at, &["grounds", "--json"]);
    let all: serde_json::Value = serde_json::from_slice(&out.stdout).unwrap();
    let mut names = Vec::new();
    for ground in all["grounds"].as_array().unwrap() {
        for variety in ground["varieties"].as_array().unwrap() {
            names.push(format!("{}/{}", ground["id"].as_str().unwrap(), variety["id"].as_str().unwrap()));
        }
    }
    assert!(names.len() >= 60, "{names:?}");
    let title =
        "A title as long as titles of classes can become when nobody stops the teacher who writes them ";
    let notes = "A sentence of notes that is meant to be as long as notes can be. ".repeat(4);
    for (k, part) in names.chunks(21).enumerate() {
        let mut recipe = format!(
            "format = \"pairwise-recipe/1\"\ntitle = \"{}\"\nnotes = \"{notes}\"\ncolours = [\"navy\", \"gold\", \"teal\"]\n\
             arrangement = \"A B A C B B\"\n",
            title.repeat(2)
        );
        for (n, name) in part.iter().enumerate() {
            let area = ["40x60", "170x50", "50x170", "100x40", "75x80"][(n + k) % 5];
            let notes = if n % 2 == 0 { notes.as_str() } else { "" };
            recipe.push_str(&format!(
                "[[ground]]\nname = \"{name}\"\narea = \"{area}\"\nnotes = \"{notes}\"\n"
            ));
        }
        write(at, "all.toml", &recipe);
        let paper = ["a4", "letter"][k % 2];
        let (status, terminal) = run(at, &["handout", "all.toml", "-o", "all.pdf", "--paper", paper]);
        assert_eq!(status, 0, "{terminal}");
        let Some(pages) = words(at, "all.pdf") else { return };
        let mut ground = 0;
        for (number, ([width, height], words)) in pages.iter().enumerate() {
            let page = number + 1;
            let edge = 11.0 * 72.0 / 25.4;
            for (word, [left, top, right, bottom]) in words {
                assert!(
                    *left >= edge
                        && *top >= edge - 4.0
                        && *right <= width - edge
                        && *bottom <= height - edge + 9.0,
                    "{paper}, page {page}: {word} at {left} {top}"
                );
            }
            let page_text: String = words.iter().map(|(word, _)| format!("{word} ")).collect();
            assert!(!page_text.contains("more steps"), "{page_text}");
            // Between them are those of a long order of working.
            if !page_text.contains("Materials") {
                continue;
            }
            let name = &part[ground];
            ground += 1;
            for must in [
                "Materials",
                "pairs and pins for the edges.",
                "Where each colour goes",
                "Key to the diagram",
                "Order of working",
                "Measure both lines",
                "Notes",
            ] {
                assert!(page_text.contains(must), "{name}: {must}: {page_text}");
            }
            // Letters in the diagram may be close to each other; words may not.
            let longer: Vec<&Word> = words.iter().filter(|(word, _)| word.chars().count() > 2).collect();
            for (n, (one, a)) in longer.iter().enumerate() {
                for (other, b) in &longer[..n] {
                    let over = (a[2].min(b[2]) - a[0].max(b[0])).min((a[3].min(b[3]) - a[1].max(b[1])) / 2.0);
                    assert!(over < 1.5, "{name} on {paper}: {one} on {other}");
                }
            }
        }
        assert_eq!(ground, part.len());
    }
}
