//! Pages made from hostile texts, opened in a browser: the texts must have no
//! effect.

use std::path::Path;
use std::process::Command;

use super::pages::lifeless;
use crate::machine;

/// The browser, by the names under which systems install it.
fn browser() -> Option<&'static str> {
    let installed =
        |name: &&str| Command::new(name).arg("--version").output().is_ok_and(|out| out.status.success());
    ["chromium", "chromium-browser", "google-chrome"].into_iter().find(|name| installed(name))
}

/// A page after loading, with all that its scripts did.
fn opened(browser: &str, page: &Path) -> String {
    let profile = tempfile::tempdir().unwrap();
    let out = Command::new(browser)
        .args([
            "--headless",
            "--no-sandbox",
            "--disable-gpu",
            "--disable-background-networking",
            "--no-first-run",
        ])
        .arg(format!("--user-data-dir={}", profile.path().display()))
        .args(["--virtual-time-budget=3000", "--dump-dom"])
        .arg(format!("file://{}", page.display()))
        .output()
        .unwrap();
    assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stderr));
    String::from_utf8(out.stdout).unwrap()
}

/// The text between two words.
fn between<'a>(text: &'a str, from: &str, to: &str) -> &'a str {
    let (_, rest) = text.split_once(from).unwrap_or_else(|| panic!("no {from} in {text}"));
    rest.split_once(to).unwrap_or_else(|| panic!("no {to} after {from}")).0
}

/// The texts try to change the page's title and to navigate to another page.
#[track_caller]
pub fn title_and_address_stay(class: &Path) {
    let browser = browser();
    if !machine::has("Chromium", browser.is_some()) {
        return;
    }
    let browser = browser.unwrap();
    let traps = tempfile::tempdir().unwrap();
    let write = |name: &str, body: &str| {
        let page = format!("<!doctype html><meta charset=utf-8><title>own</title><h1>own page</h1>{body}");
        std::fs::write(traps.path().join(name), page).unwrap();
        traps.path().join(name)
    };
    // First make sure that the traps work: the same texts, unescaped.
    write("caught.html", "caught!");
    let live = write("title.html", "<script>document.title=\"caught\"</script>");
    assert_eq!(between(&opened(browser, &live), "<title>", "</title>"), "caught");
    let live = write("attribute.html", "<img src=x onerror=\"document.title='caught'\">");
    assert_eq!(between(&opened(browser, &live), "<title>", "</title>"), "caught");
    let live = write("address.html", "<script>location=\"caught.html\"</script>");
    assert!(opened(browser, &live).contains("caught!"));

    for name in [
        "index.html",
        "names.html",
        "grounds/markup.html",
        "grounds/attributes.html",
        "explore.html",
        "compare.html",
        "class.html",
    ] {
        let path = class.join(name);
        let written = std::fs::read_to_string(&path).unwrap();
        let shown = opened(browser, &path);
        for (from, to) in [("<title>", "</title>"), ("<h1", "</h1>"), ("<footer", "</footer>")] {
            let text = |page: &str| {
                // The browser writes escapes in its own way.
                let part = between(page, from, to);
                let part = part.replace("&quot;", "\"").replace("&#x27;", "'").replace("&#x2f;", "/");
                part.split_whitespace().collect::<Vec<_>>().join(" ")
            };
            assert_eq!(text(&shown), text(&written), "{name}");
        }
        assert!(!shown.contains("<title>caught"), "{name}");
        assert!(name == "compare.html" || shown.contains("document.title"), "{name} shows the texts");
        // The texts that our own script inserted are just as harmless.
        lifeless(name, &shown);
    }
}
