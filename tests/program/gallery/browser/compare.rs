//! The compare page: grounds side by side, their facts, and the ways to show
//! them.

use std::time::{Duration, Instant};

use fantoccini::actions::{WheelAction, WheelActions};
use fantoccini::key::Key;
use serde_json::{Value, json};

use super::super::{CLASS, EXPLORED, list, painted, script, string};
use super::{PATIENCE, Visit, pairwise, png, text, visit};

const THREE: [&str; 3] = ["rose/plain", "spider/three", "torchon/plain"];

fn canvas(name: &str) -> String {
    format!("#sides > [data-name='{name}'] canvas")
}

async fn sides(page: &Visit) -> Vec<String> {
    page.ask("[...document.querySelectorAll('#sides > article')].map((a) => a.dataset.name)").await
}

/// Waits until all pictures have loaded.
pub async fn come(page: &Visit) {
    page.until(
        "[...document.querySelectorAll('#sides canvas')]
            .every((c) => c.getContext('2d').getImageData(9, 9, 1, 1).data[3] === 255)
        && [...document.querySelectorAll('#sides .window img')]
            .every((i) => i.complete && i.naturalWidth > 0)",
    )
    .await;
}

/// Rectangles of elements: left, top, width, height.
async fn boxes(page: &Visit, which: &str) -> Vec<[f64; 4]> {
    page.ask(&format!(
        "[...document.querySelectorAll({})].map((e) => e.getBoundingClientRect())
            .map((b) => [b.x, b.y, b.width, b.height].map((n) => Math.round(10 * n) / 10))",
        json!(which)
    ))
    .await
}

#[test]
fn three_ticked_grounds_are_side_by_side_with_differences_marked() {
    visit(async |page| {
        page.open("explore.html").await;
        for name in THREE {
            page.click(&format!("[data-compare='{name}']")).await;
        }
        assert_eq!(page.text("#compare").await, "Compare these 3");
        page.click("#compare").await;
        page.reach("compare.html").await;
        assert_eq!(sides(page).await, THREE);
        come(page).await;
        let windows = boxes(page, "#sides .window").await;
        let pictures = boxes(page, "#sides canvas").await;
        for (k, name) in THREE.iter().enumerate() {
            // What the program drew for the page of the ground, where few colours
            // stand for all of them.
            let on_page = png(&CLASS.place().join(format!("large/{name}.png"))).1;
            let there = page.pixels(&canvas(name)).await;
            assert_eq!(there.len(), on_page.len());
            let apart =
                |(a, b): (&[u8; 3], &[u8; 3])| (0..3).map(|c| u64::from(a[c].abs_diff(b[c]))).sum::<u64>();
            let apart: u64 = there.iter().zip(&on_page).map(apart).sum();
            assert!(apart < 6 * there.len() as u64, "{name}: {apart} in {} pixels", there.len());
            assert_eq!(windows[k][2..], windows[0][2..], "{windows:?}");
            assert_eq!(pictures[k][2..], pictures[0][2..], "{pictures:?}");
            assert!((pictures[k][2] - pictures[k][3]).abs() < 0.5, "{pictures:?}");
            assert!(windows[k][1] == windows[0][1] && (k == 0 || windows[k][0] > windows[k - 1][0]));
        }
        // Each row: whether it is marked, its name, the mark, what stands below each.
        const ROWS: &str =
            "[...document.querySelectorAll('#facts tbody tr')].filter((r) => r.offsetHeight > 0)
            .map((r) => [r.dataset.differs, ...[...r.cells].map((c) => c.textContent)])";
        let facts = THREE.map(|name| list(&EXPLORED[name], "facts"));
        let mut rows = Vec::new();
        for (k, fact) in facts[0].iter().enumerate() {
            let values = facts.map(|facts| facts[k][1].as_str().unwrap());
            let differs = values.iter().any(|value| *value != values[0]);
            let mark = if differs { ["true", "≠ differs"] } else { ["false", "= alike"] };
            let values = values.map(|value| if value.is_empty() { "–" } else { value });
            rows.push([&[mark[0], fact[0].as_str().unwrap(), mark[1]][..], &values].concat());
        }
        assert_eq!(page.ask::<Vec<Vec<String>>>(ROWS).await, rows);
        let of_all = rows.len();
        rows.retain(|row| row[0] == "true");
        assert!((3..of_all - 1).contains(&rows.len()), "{} of {of_all}", rows.len());
        page.click("#differ").await;
        assert_eq!(page.ask::<Vec<Vec<String>>>(ROWS).await, rows);
    });
}

#[test]
fn windows_at_one_scale_move_together_and_others_alone() {
    visit(async |page| {
        page.open(&format!("compare.html#pick={}", THREE.join(","))).await;
        come(page).await;
        let once = boxes(page, "#sides canvas").await[0][2];
        page.find("#zoom").await.send_keys(&Key::End).await.unwrap();
        // A scroll bar takes up part of the window.
        let windows: Vec<f64> =
            page.ask("[...document.querySelectorAll('.window')].map((w) => w.clientWidth)").await;
        for (picture, window) in boxes(page, "#sides canvas").await.iter().zip(windows) {
            assert!((picture[2] - 4.0 * window).abs() < 2.0 && picture[2] > 3.5 * once, "{picture:?}");
        }
        assert!(page.address().await.contains("zoom=4"));
        const MOVED: &str =
            "[...document.querySelectorAll('#sides .window')].map((w) => [w.scrollLeft, w.scrollTop])";
        page.run("document.getElementById('sides').scrollIntoView()").await;
        turned(page, 1, 130, 170).await;
        page.until(&format!("{MOVED}.every(([x, y]) => x === 130 && y === 170)")).await;
        // Each at its own scale: one is moved and made smaller, the others stay.
        page.click("#lock").await;
        assert!(!page.sees("#zoom").await);
        page.run("document.getElementById('sides').scrollIntoView()").await;
        turned(page, 0, 40, 0).await;
        page.until(&format!("{MOVED}[0][0] === 170")).await;
        assert_eq!(page.ask::<Value>(MOVED).await, json!([[170, 170], [130, 170], [130, 170]]));
        let own = format!("#sides > [data-name='{}'] input", THREE[2]);
        page.find(&own).await.send_keys(&Key::Home).await.unwrap();
        let widths: Vec<f64> =
            boxes(page, "#sides canvas").await.iter().map(|b| (b[2] / once).round()).collect();
        assert_eq!(widths, [4.0, 4.0, 1.0]);
    });
}

/// Turns the mouse wheel over a window.
async fn turned(page: &Visit, window: usize, right: i64, down: i64) {
    let [x, y, ..] = boxes(page, "#sides .window").await[window].map(|n| n as i64);
    let mut wheel = WheelActions::new("wheel".to_owned());
    wheel.push(WheelAction::Scroll { duration: None, x: x + 60, y: y + 60, delta_x: right, delta_y: down });
    page.client.perform_actions(wheel).await.unwrap();
}

#[test]
fn a_pair_is_followed_in_its_colour_and_in_words() {
    visit(async |page| {
        let grey = script("data/grounds.js", "var pairwise")["grey"].as_str().unwrap().to_owned();
        let rgb = |hex: &str| [1, 3, 5].map(|k| u8::from_str_radix(&hex[k..k + 2], 16).unwrap());
        page.open(&format!("compare.html#order=ABC&colours=0b3d91-ffc20e-0a7f5a&pick={}", THREE.join(",")))
            .await;
        come(page).await;
        for (pair, colour) in [(2, "#ffc20e"), (7, "#0b3d91")] {
            page.choose("#follow", &pair.to_string()).await;
            // Of one pair only, however wide the picture is; the yellow one is too
            // pale for linen.
            let mut hung = vec![rgb(&grey); 4096];
            hung[2 * pair - 2..2 * pair].fill(rgb(colour));
            let cloth = if pair == 2 { "#6b7a8c" } else { "#e8e0d0" };
            for name in THREE {
                let large = script(&format!("data/{name}.js"), &format!("pairwise.large[\"{name}\"]"));
                page.shows(&canvas(name), &painted(string(&large, "picture"), &hung, rgb(cloth)).1).await;
                let way = list(&large, "ways")[pair - 1].as_str().unwrap();
                assert!(way.len() > 20, "{name}: {way}");
                assert_eq!(page.text(&format!("[data-name='{name}'] .way")).await, way, "{name}");
            }
        }
        assert!(page.address().await.ends_with("&follow=7"));
        // The colours are kept when the visitor leaves and comes back.
        page.click("header a[data-keeps]").await;
        page.reach("explore.html").await;
        assert!(page.hung().await.starts_with("hung A B C (A #0b3d91, B #ffc20e"));
        page.click("#compare").await;
        page.reach("compare.html").await;
        assert_eq!(page.ask::<String>("document.getElementById('follow').value").await, "7");
        // Diagrams have no colours, so following a pair switches to threads.
        for view in ["pairs", "pricking"] {
            // Click on the label, as people do.
            page.click(&format!("label:has(#view-{view})")).await;
            assert!(page.find(&format!("#view-{view}")).await.is_selected().await.unwrap());
            come(page).await;
            let folder = if view == "pairs" { "diagrams" } else { "prickings" };
            for name in THREE {
                let image = page.find(&format!("[data-name='{name}'] .window img")).await;
                assert_eq!(image.attr("src").await.unwrap().unwrap(), format!("{folder}/{name}.svg"));
                assert_eq!(page.sees(&format!("[data-name='{name}'] .key")).await, view == "pairs");
            }
        }
        page.choose("#follow", "1").await;
        assert!(page.find("#view-threads").await.is_selected().await.unwrap());
        assert_eq!(boxes(page, "#sides canvas").await.len(), 3);
    });
}

#[test]
fn grounds_are_added_up_to_six_and_taken_away() {
    visit(async |page| {
        page.open("compare.html").await;
        assert!(page.sees("#none").await);
        assert!(!page.sees("#facts-section").await);
        let mut names: Vec<&str> = EXPLORED.keys().map(String::as_str).step_by(9).take(7).collect();
        let seventh = names.pop().unwrap();
        for (k, name) in names.iter().enumerate() {
            page.choose("#add", name).await;
            assert_eq!(sides(page).await, names[..=k]);
        }
        come(page).await;
        assert!(!page.find("#add").await.is_enabled().await.unwrap());
        let gone = names.remove(1);
        page.click(&format!("[data-remove='{gone}']")).await;
        assert_eq!(sides(page).await, names);
        page.choose("#add", gone).await;
        names.push(gone);
        assert_eq!(sides(page).await, names);
        assert!(page.address().await.ends_with(&format!("pick={}", names.join(","))));
        // No more can be ticked either.
        page.click("header a[data-keeps]").await;
        page.reach("explore.html").await;
        page.click(&format!("[data-compare='{seventh}']")).await;
        assert_eq!(page.ask::<u32>("document.querySelectorAll('[data-compare]:checked').length").await, 6);
        assert_eq!(page.text("#said").await, "You can compare 6 at most. Take one away first.");
        page.click("#uncompare").await;
        assert!(!page.sees("#tray").await);
    });
}

#[test]
fn an_address_shows_the_same_comparison_elsewhere() {
    let first = visit(async |page| {
        page.open("compare.html#pick=rose/plain&order=ABB").await;
        page.choose("#add", "point/plain").await;
        page.choose("#seen", "tritan").await;
        page.find("#zoom").await.send_keys(&Key::Right).await.unwrap();
        page.choose("#follow", "3").await;
        page.click("#lock").await;
        page.click("#differ").await;
        come(page).await;
        (page.address().await, page.pixels(&canvas("point/plain")).await)
    });
    let Some((address, pixels)) = first else { return };
    let said = "arrangement=ABB&seen=tritan&pick=rose/plain,point/plain&follow=3&zoom=1.25&lock=0&differ=1";
    assert_eq!(address.split_once('#').unwrap().1, said);
    visit(async |page| {
        page.client.goto(&address).await.unwrap();
        assert_eq!(sides(page).await, ["rose/plain", "point/plain"]);
        page.shows(&canvas("point/plain"), &pixels).await;
        // A page has a zoom of its own.
        let state =
            "[seen.value, document.getElementById('zoom').value, follow.value, lock.checked, differ.checked]";
        let state: Value = page.ask(state).await;
        assert_eq!(state, json!(["tritan", "1.25", "3", false, true]));
        assert_eq!(page.address().await, address);
    });
}

#[test]
fn the_recipe_of_a_comparison_prints_its_handout() {
    visit(async |page| {
        let shown = "order=A/BBC&colours=7a1f3d-e9c46a&pick=rose/plain,point/plain,spider/three";
        page.open(&format!("compare.html#{shown}")).await;
        let recipe = page.text("#recipe").await;
        for said in [
            "arrangement = \"A/B B C\"",
            "{ name = \"#7a1f3d\", rgb = \"#7a1f3d\" }",
            "{ name = \"fern\", rgb = ",
            "name = \"spider/three\"",
            // What the class says is kept, and other grounds get the usual area.
            "title = \"Four samples in two colours\"",
            "thread = \"30 wraps/cm\"",
            "name = \"point/plain\"\narea = \"40x60\"\nnotes = \"\"",
        ] {
            assert!(recipe.contains(said), "{said}: {recipe}");
        }
        // The class has a pin spacing of its own.
        assert!(recipe.contains("\npin-spacing = 4\n"), "{recipe}");
        let folder = tempfile::tempdir().unwrap();
        let saved = json!({ "behavior": "allow", "downloadPath": folder.path() });
        page.command("Browser.setDownloadBehavior", saved).await;
        page.click("#save").await;
        let file = folder.path().join("my-class.toml");
        let begun = Instant::now();
        while std::fs::read_to_string(&file).map_or(true, |saved| saved.trim_end() != recipe) {
            assert!(begun.elapsed() < PATIENCE, "the recipe is not saved");
            tokio::time::sleep(Duration::from_millis(10)).await;
        }
        let out = pairwise(folder.path(), &["handout", "my-class.toml", "-o", "class.pdf"]);
        assert_eq!(out.status.code(), Some(0), "{}", text(&out.stderr));
        assert!(text(&out.stdout).starts_with("class.pdf: 3 grounds on 6 pages"));
        page.click("[data-remove='point/plain']").await;
        assert!(!page.text("#recipe").await.contains("point/plain"));
    });
}

// What the recipe of a class says is not lost on the way from its page.
#[test]
fn the_class_keeps_its_colours_arrangements_and_words_on_the_way() {
    visit(async |page| {
        page.open("class.html").await;
        page.click("a[href^='compare.html']").await;
        page.reach("compare.html").await;
        come(page).await;
        let hung = page.hung().await;
        assert_eq!(hung, "each hung as in the class (A river blue, B apricot)");
        let rgb = [[0x1f, 0x3f, 0x77], [0xe0, 0x7b, 0x39]];
        for (name, letters) in [("torchon/plain", "AABB"), ("rose/plain", "ABBA")] {
            let threads: Vec<[u8; 3]> =
                letters.bytes().flat_map(|letter| [rgb[usize::from(letter - b'A')]; 2]).collect();
            let large = script(&format!("data/{name}.js"), &format!("pairwise.large[\"{name}\"]"));
            let picture = painted(string(&large, "picture"), &threads, [0xe8, 0xe0, 0xd0]).1;
            page.shows(&canvas(name), &picture).await;
        }
        let recipe: toml::Table = page.text("#recipe").await.parse().unwrap();
        let class = std::fs::read_to_string(super::super::class::evening_class()).unwrap();
        let class: toml::Table = class.parse().unwrap();
        for key in
            ["format", "title", "class", "notes", "paper", "pin-spacing", "thread", "colours", "arrangement"]
        {
            assert_eq!(recipe.get(key), class.get(key), "{key}");
        }
        let [saved, own] = [&recipe, &class].map(|text| text["ground"].as_array().unwrap());
        assert_eq!(saved.len(), own.len());
        for (saved, own) in saved.iter().zip(own) {
            for key in ["area", "notes", "arrangement"] {
                assert_eq!(saved.get(key), own.get(key), "{own:?}");
            }
        }
        // Other colours are taken along to the page of a ground; another arrangement
        // takes the place of those of the class.
        page.click("header a[data-keeps]").await;
        page.reach("explore.html").await;
        page.dye("B", "#0a7f5a").await;
        page.click("#compare").await;
        page.reach("compare.html").await;
        assert!(page.hung().await.ends_with("(A river blue, B #0a7f5a)"));
        page.click("header a[data-keeps]").await;
        page.reach("explore.html").await;
        page.click("#ready [data-arrangement='A B']").await;
        page.click("[data-name='rose/plain'] a").await;
        page.reach("grounds/rose.html").await;
        assert!(page.hung().await.starts_with("hung A B (A indigo, B #0a7f5a)"));
        page.click("#variety-plain a[data-keeps='compare.html']").await;
        page.reach("compare.html").await;
        assert_eq!(sides(page).await, ["rose/plain"]);
        assert!(page.hung().await.starts_with("hung A B (A indigo, B #0a7f5a)"));
        let recipe: toml::Table = page.text("#recipe").await.parse().unwrap();
        assert_eq!(recipe["arrangement"].as_str(), Some("A B"));
        assert_eq!(recipe["ground"][0].get("arrangement"), None);
    });
}
