//! Every page of the gallery: what it loads, that it reports no errors, fits
//! narrow screens and is accessible.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use serde_json::{Value, json};

use super::super::CLASS;
use super::compare::come;
use super::{Visit, folder, measured, visit};
use crate::machine;

/// The addresses of all pages; the compare page gets something to compare.
fn pages() -> Vec<String> {
    let address = |page: &PathBuf| match page.to_str().unwrap() {
        "compare.html" => "compare.html#pick=rose/plain,spider/three,torchon/plain".to_owned(),
        other => other.replace('\\', "/"),
    };
    CLASS.pages.keys().map(address).collect()
}

/// The addresses of files that a page has loaded since the last call. None may be
/// outside the folder, and none may be missing.
async fn asked_for(page: &Visit, name: &str) -> Vec<String> {
    let mut files = Vec::new();
    for entry in page.log("performance").await {
        let message: Value = serde_json::from_str(entry["message"].as_str().unwrap()).unwrap();
        let (method, params) = (&message["message"]["method"], &message["message"]["params"]);
        assert_ne!(method, "Network.loadingFailed", "{name}: {params}");
        if method != "Network.requestWillBeSent" {
            continue;
        }
        let wanted = params["request"]["url"].as_str().unwrap();
        if !wanted.starts_with("data:") && !wanted.starts_with("blob:") {
            let inside = wanted.strip_prefix(&folder());
            let inside = inside.unwrap_or_else(|| panic!("{name} asks for {wanted}"));
            files.push(inside.split(['#', '?']).next().unwrap().to_owned());
        }
    }
    files
}

fn weight(files: &[String]) -> u64 {
    let once: BTreeSet<&String> = files.iter().collect();
    once.iter().map(|file| std::fs::metadata(CLASS.place().join(file)).unwrap().len()).sum()
}

/// Width of the page's layout, and width of the screen.
async fn width(page: &Visit) -> [u32; 2] {
    page.ask("[document.documentElement.scrollWidth, document.documentElement.clientWidth]").await
}

#[test]
fn pages_ask_only_for_files_of_the_folder_report_nothing_and_fit_narrow_screens() {
    visit(async |page| {
        page.screen(360, 800, true).await;
        for name in pages() {
            page.open(&name).await;
            let first = asked_for(page, &name).await;
            assert_eq!(Some(first[0].as_str()), name.split('#').next(), "{first:?}");
            page.read_through().await;
            let more = asked_for(page, &name).await;
            let [wide, screen] = width(page).await;
            assert!(screen == 360 && wide <= screen, "{name} is {wide} wide on {screen}");
            for said in page.log("browser").await {
                assert!(said["level"] != "SEVERE", "{name}: {said}");
            }
            measured(&format!(
                "{name}: {} files at once, {} bytes; read to the end {} files, {} bytes",
                first.len(),
                weight(&first),
                first.len() + more.len(),
                weight(&first) + weight(&more)
            ));
        }
    });
}

/// Typefaces that a machine may substitute for the embedded one: its own, and the
/// embedded one stretched to be much wider or narrower than any text face.
const FALLBACKS: [(&str, &str); 4] =
    [("monospace", "100%"), ("serif", "100%"), ("\"test wide\"", "130%"), ("\"test narrow\"", "75%")];

/// Sets a page in another typeface, as if its own were unavailable.
async fn set_in(page: &Visit, family: &str, measure: &str) {
    let set = "const [folder, family, measure, done] = arguments;
        const style = document.createElement('style');
        const face = (weight, file) => `@font-face { font-family: ${family}; font-weight: ${weight};
            src: url('${folder}fonts/pairwise-sans-${file}.woff'); size-adjust: ${measure}; }`;
        if (family.startsWith('\"')) style.append(face(400, 'regular'), face(600, 'semibold'));
        style.append(`:root, :root * { font-family: ${family} !important; }`);
        document.head.append(style);
        Promise.all(['', 'bold '].map((weight) => document.fonts.load(`${weight}16px ${family}`)))
            .then((faces) => done(faces.flat().length), (why) => done(String(why)));";
    let asked = vec![json!(folder()), json!(family), json!(measure)];
    let loaded = page.client.execute_async(set, asked).await.unwrap();
    assert_eq!(loaded, if family.starts_with('"') { 2 } else { 0 }, "{family}");
}

#[test]
fn pages_fit_narrow_screens_whatever_typeface_the_machine_has() {
    visit(async |page| {
        page.screen(360, 800, true).await;
        let mut broad = Vec::new();
        for name in pages() {
            page.open(&name).await;
            // The embedded typeface is there, and used.
            page.until("document.fonts.status === 'loaded'").await;
            let faces: Vec<String> = page.ask("[...document.fonts].map((face) => face.status)").await;
            assert!(faces.len() == 2 && faces[0] == "loaded" && faces[1] != "error", "{name}: {faces:?}");
            for (family, measure) in FALLBACKS {
                set_in(page, family, measure).await;
                let [wide, screen] = width(page).await;
                if wide > screen {
                    broad.push(format!("{name} in {family} is {wide} wide on {screen}"));
                }
            }
        }
        assert!(broad.is_empty(), "{}", broad.join("\n"));
        // The letters really are different.
        let title = "document.getElementById('probe').getBoundingClientRect().width";
        page.run("const probe = document.createElement('span'); probe.id = 'probe'; probe.textContent = 'Cloth stitch and twist'; document.body.append(probe);").await;
        let narrow: f64 = page.ask(title).await;
        set_in(page, "\"test wide\"", "130%").await;
        let wide: f64 = page.ask(title).await;
        assert!(wide > 1.5 * narrow, "{wide} and {narrow}");
    });
}

// Without this, the first test might not notice errors at all.
#[test]
fn errors_of_pages_are_noticed() {
    visit(async |page| {
        page.open("index.html").await;
        page.log("performance").await;
        let fault =
            "const i = new Image(); i.src = 'none.png'; document.body.append(i); throw new Error('heard');";
        page.run(&format!("setTimeout(() => {{ {fault} }})")).await;
        let mut heard = Vec::new();
        while heard.len() < 2 {
            heard.extend(page.log("browser").await.into_iter().filter(|said| said["level"] == "SEVERE"));
        }
        let log = page.log("performance").await;
        let heard = |what: &str| log.iter().any(|entry| entry["message"].as_str().unwrap().contains(what));
        assert!(heard("Network.loadingFailed") && heard("none.png"));
    });
}

#[test]
fn the_page_to_explore_is_light_before_large_pictures_are_opened() {
    visit(async |page| {
        page.screen(1280, 900, false).await;
        page.open("explore.html").await;
        page.read_through().await;
        let files = asked_for(page, "explore.html").await;
        let bytes = weight(&files);
        measured(&format!("explore.html in full: {} files, {bytes} bytes: {files:?}", files.len()));
        assert!(files.len() < 12 && bytes < 3_000_000, "{bytes} bytes in {files:?}");
        // A comparison loads what it shows, and nothing else.
        page.open("compare.html#pick=rose/plain,torchon/plain").await;
        come(page).await;
        let more = asked_for(page, "compare.html").await;
        let large: BTreeSet<&str> = more.iter().map(String::as_str).filter(|f| f.contains('/')).collect();
        let (faces, data): (Vec<&str>, Vec<&str>) = large.into_iter().partition(|f| f.starts_with("fonts/"));
        assert_eq!(data, ["data/grounds.js", "data/rose/plain.js", "data/torchon/plain.js"]);
        assert!(faces.len() <= 2, "{faces:?}");
        measured(&format!("compare.html with two: {} files, {} bytes", more.len(), weight(&more)));
    });
}

/// Runs axe's accessibility rules, all or those of one kind, on the page as shown
/// now. Returns the number of findings by impact.
async fn hindered(
    page: &Visit,
    rules: &str,
    kind: Value,
    name: &str,
    serious: &mut Vec<String>,
) -> [usize; 4] {
    page.run(rules).await;
    let asked = "const [runOnly, done] = arguments;
        const told = (r) => r.violations.map((v) => ({ id: v.id, impact: v.impact, help: v.help,
            nodes: v.nodes.map((n) => n.target.join(' ') + ': ' + n.failureSummary) }));
        axe.run({ resultTypes: ['violations'], ...runOnly }).then((r) => done(told(r)), (why) => done(String(why)));";
    let found = page.client.execute_async(asked, vec![kind]).await.unwrap();
    let mut counts = [0; 4];
    for violation in found.as_array().unwrap_or_else(|| panic!("{name}: {found}")) {
        let nodes = violation["nodes"].as_array().unwrap();
        let impact = violation["impact"].as_str().unwrap();
        let rank = ["minor", "moderate", "serious", "critical"].iter().position(|i| *i == impact).unwrap();
        counts[rank] += nodes.len();
        let few: Vec<&Value> = nodes.iter().take(4).collect();
        let said = format!(
            "{name}: {impact}: {} ({}): {} times: {few:#?}",
            violation["id"],
            violation["help"],
            nodes.len()
        );
        if rank >= 2 {
            serious.push(said);
        } else {
            measured(&said);
        }
    }
    counts
}

#[test]
fn every_page_is_accessible_in_light_and_dark() {
    let rules = std::env::var_os("PAIRWISE_AXE");
    if !machine::has("axe-core, PAIRWISE_AXE", rules.is_some()) {
        return;
    }
    let rules = std::fs::read_to_string(Path::new(&rules.unwrap())).unwrap();
    visit(async |page| {
        let (mut serious, mut counts) = (Vec::new(), [0; 4]);
        // Pages of grounds all have the same structure.
        let grounds = ["grounds/rose.html", "grounds/spider.html", "grounds/torchon.html"];
        let states = [
            "explore.html#threads=1&seen=protan&kind=filling&pick=rose/plain,point/plain",
            "explore.html#search=qqq",
            "compare.html",
            "compare.html#pick=rose/plain,point/plain&view=pairs&lock=0&differ=1",
            "compare.html#pick=rose/plain,point/plain&view=pricking&follow=2",
        ];
        let pages =
            pages().into_iter().filter(|p| !p.starts_with("grounds/") || grounds.contains(&p.as_str()));
        for name in pages.chain(states.map(str::to_owned)) {
            // In dark mode only the colours differ.
            for (scheme, kind) in [
                ("light", Value::Null),
                (
                    "dark",
                    json!({ "runOnly": { "type": "rule", "values": ["color-contrast", "link-in-text-block"] } }),
                ),
            ] {
                page.prefers("prefers-color-scheme", scheme).await;
                page.open(&name).await;
                let found = hindered(page, &rules, kind, &format!("{name} ({scheme})"), &mut serious).await;
                counts = [0, 1, 2, 3].map(|k| counts[k] + found[k]);
            }
        }
        measured(&format!("minor, moderate, serious, critical: {counts:?}"));
        assert!(serious.is_empty(), "{}", serious.join("\n"));
        // A page with a fault is caught.
        page.run("document.body.append(document.createElement('button'))").await;
        page.run("shown.style = 'color: #333333'").await;
        assert_eq!(
            hindered(page, &rules, Value::Null, "spoilt", &mut serious).await[2..],
            [1, 1],
            "{serious:?}"
        );
    });
}

#[test]
fn nothing_moves_with_reduced_motion() {
    visit(async |page| {
        const MOVES: &str = "[...document.querySelectorAll('*')].filter((e) => ['', '::before', '::after'].some((part) => {
            const style = getComputedStyle(e, part);
            return (style.transitionDuration + ',' + style.animationDuration).split(',').some((s) => parseFloat(s) > 0);
        })).length";
        for (wish, moves) in [("no-preference", true), ("reduce", false)] {
            page.prefers("prefers-reduced-motion", wish).await;
            page.open("explore.html").await;
            assert_eq!(page.ask::<usize>(MOVES).await > 0, moves, "{wish}");
        }
        page.open("compare.html#pick=rose/plain,point/plain").await;
        assert_eq!(page.ask::<usize>(MOVES).await, 0);
    });
}

// WCAG 2.2, 2.5.8: targets of at least 24 by 24 pixels; the label of a field is
// part of its target.
#[test]
fn targets_are_large_enough() {
    const SMALL: &str = "[...document.querySelectorAll('button, input, select')].filter((e) => {
        const parts = [e, ...(e.type === 'range' ? [] : e.labels)].map((part) => part.getBoundingClientRect());
        return e.offsetWidth > 0 && !parts.some((box) => box.width >= 24 && box.height >= 24);
    }).map((e) => e.outerHTML)";
    visit(async |page| {
        let pages = [
            "explore.html#threads=1&pick=rose/plain",
            "explore.html#search=qqq",
            "compare.html#pick=rose/plain,point/plain&lock=0",
        ];
        for (width, name) in [390, 1280].iter().flat_map(|width| pages.map(|name| (width, name))) {
            page.screen(*width, 844, *width < 1000).await;
            page.open(name).await;
            assert_eq!(page.ask::<Vec<String>>(SMALL).await, [""; 0], "{name} at {width}");
        }
        // A target that is too small is caught.
        page.run("document.getElementById('add').labels[0].before(document.getElementById('add')); document.getElementById('add').style = 'min-height: 0; height: 20px'").await;
        assert_eq!(page.ask::<Vec<String>>(SMALL).await.len(), 1);
    });
}
