//! The explore page: what it finds, in which order and colours, and that its
//! address remembers all of it.

use std::collections::BTreeSet;

use deunicode::deunicode;
use fantoccini::key::Key;
use serde_json::{Value, json};

use super::super::{grounds, list, script, string};
use super::{drawn, measured, visit};
use crate::support::{pairwise, text};

/// The varieties in the page's data, in order.
fn varieties() -> Vec<Value> {
    list(&script("data/grounds.js", "var pairwise"), "varieties").clone()
}

fn names<'a>(of: impl IntoIterator<Item = &'a Value>) -> Vec<String> {
    of.into_iter().map(|v| string(v, "name").to_owned()).collect()
}

/// The measures that have a from and a to field, with their keys in the data.
const SPANS: [(&str, &str); 4] =
    [("pairs", "pairs"), ("pins", "pins_per_cm2"), ("moves", "moves_per_cm2"), ("works", "works")];

#[test]
fn filters_agree_with_the_data() {
    visit(async |page| {
        let all = varieties();
        page.open("explore.html").await;
        assert_eq!(page.shown().await, names(&all));
        assert!(!page.find("#clear").await.is_enabled().await.unwrap());
        for field in ["family", "kind", "goes"] {
            let values: BTreeSet<&str> = all.iter().map(|v| string(v, field)).collect();
            assert!(values.len() > 1, "{field}");
            for value in values {
                page.choose(&format!("#{field}"), value).await;
                let kept = names(all.iter().filter(|v| v[field] == value));
                assert_eq!(page.shown().await, kept, "{field} {value}");
                let said = page.text("#found").await;
                assert!(said.starts_with(&format!("{} of {} varieties", kept.len(), all.len())), "{said}");
            }
            page.click("#clear").await;
            assert_eq!(page.shown().await.len(), all.len());
        }
        // The middle half of each measure, first one by one, then all together.
        for alone in [true, false] {
            let mut kept: Vec<&Value> = all.iter().collect();
            for (field, key) in SPANS {
                let value = |v: &Value| v[key].as_f64().unwrap();
                let mut sorted: Vec<f64> = all.iter().map(value).collect();
                sorted.sort_by(f64::total_cmp);
                let quarter = |k: usize| (sorted[k * (sorted.len() - 1) / 4] * 10.0).round() / 10.0;
                let (from, to) = (quarter(1), quarter(3));
                page.write(&format!("#{field}-from"), &from.to_string()).await;
                kept.retain(|v| value(v) >= from);
                assert_eq!(page.shown().await, names(kept.iter().copied()), "{field} from {from}");
                page.write(&format!("#{field}-to"), &to.to_string()).await;
                kept.retain(|v| value(v) <= to);
                assert_eq!(page.shown().await, names(kept.iter().copied()), "{field} {from} to {to}");
                assert!(kept.len() < all.len());
                if alone {
                    assert!(!kept.is_empty(), "{field} {from} to {to}");
                    page.click("#clear").await;
                    kept = all.iter().collect();
                }
            }
        }
    });
}

#[test]
fn the_order_is_that_of_the_measure_in_both_directions() {
    visit(async |page| {
        let all = varieties();
        page.open("explore.html").await;
        let measures = [
            ("pairs", "pairs"),
            ("density", "pairs_per_cm"),
            ("pins", "pins_per_cm2"),
            ("moves", "moves_per_cm2"),
            ("works", "works"),
            ("open", "open"),
        ];
        for (sort, key) in measures {
            page.choose("#sort", sort).await;
            let value = |v: &Value| v[key].as_f64().unwrap();
            // Ties keep their order.
            let (mut up, mut down): (Vec<&Value>, Vec<&Value>) = (all.iter().collect(), all.iter().collect());
            up.sort_by(|a, b| value(a).total_cmp(&value(b)));
            down.sort_by(|a, b| value(b).total_cmp(&value(a)));
            assert_ne!(names(up.iter().copied()), names(&all), "{sort}");
            assert_eq!(page.shown().await, names(up), "{sort}");
            page.click("#down").await;
            assert_eq!(page.shown().await, names(down), "{sort}, largest first");
            page.click("#down").await;
        }
        page.choose("#sort", "name").await;
        let mut by_name: Vec<&Value> = all.iter().collect();
        by_name.sort_by_key(|v| plain(string(v, "title")));
        assert_eq!(page.shown().await, names(by_name));
    });
}

/// Lower-case letters without accents, spaces or hyphens.
fn plain(text: &str) -> String {
    deunicode(text).to_lowercase().replace(|c: char| !c.is_ascii_alphanumeric(), "")
}

#[test]
fn names_in_every_language_are_found_with_and_without_accents() {
    visit(async |page| {
        page.open("explore.html").await;
        let mut accented = 0;
        for ground in grounds() {
            let id = string(ground, "id");
            for name in list(ground, "other_names") {
                let name = string(name, "name");
                if name.is_ascii() {
                    continue;
                }
                let all: BTreeSet<String> =
                    list(ground, "varieties").iter().map(|v| format!("{id}/{}", string(v, "id"))).collect();
                for typed in [name, &deunicode(name)] {
                    page.write("#search", typed).await;
                    let found = page.shown().await;
                    let found = found.into_iter().collect::<BTreeSet<String>>();
                    assert!(found.is_superset(&all), "{typed} should find {id}: {found:?}");
                    assert!(found.len() < 20, "{typed} finds {}", found.len());
                }
                accented += 1;
            }
        }
        assert!(accented > 3, "{accented}");
    });
}

#[test]
fn when_nothing_is_found_filters_can_be_cleared() {
    visit(async |page| {
        let all = varieties();
        page.open("explore.html").await;
        page.choose("#kind", "filling").await;
        let fillings = page.shown().await;
        assert!(fillings.len() < all.len());
        assert!(!page.sees("#nothing").await);
        for (button, then) in [("#clear-search", &fillings), ("#clear-all", &names(&all))] {
            page.write("#search", "qqq").await;
            assert_eq!(page.shown().await, [""; 0]);
            assert!(page.sees("#nothing").await);
            assert!(page.text("#found").await.starts_with("0 of "));
            page.click(button).await;
            assert_eq!(page.shown().await, *then);
            assert!(!page.sees("#nothing").await);
            // The visitor can go on typing at once.
            assert_eq!(
                page.ask::<String>("document.activeElement.id + document.activeElement.value").await,
                "search"
            );
        }
        assert_eq!(page.ask::<String>("document.getElementById('kind').value").await, "");
        // Without a search word there is nothing to clear.
        page.write("#pairs-from", "999").await;
        assert!(page.sees("#clear-all").await && !page.sees("#clear-search").await);
    });
}

/// Unusual colours for A, B and C.
const DYES: [&str; 3] = ["#0b3d91", "#ffc20e", "#0a7f5a"];

// Colours hung with the page's buttons give the pictures that the program draws
// with the same options.
#[test]
fn pictures_follow_every_change_as_the_program_draws_them() {
    visit(async |page| {
        page.open("explore.html").await;
        for (letter, colour) in ["A", "B", "C"].into_iter().zip(DYES) {
            page.dye(letter, colour).await;
        }
        let two = drawn("A A B B", &DYES[..2], &[]);
        page.all_show(&two).await;
        // Three pairs, the colour C on the second: a dye is taken, a pair clicked.
        page.choose("#length", "3").await;
        page.click("#brush-C").await;
        page.click("#pairs [data-pair='2']").await;
        assert!(page.hung().await.starts_with("hung A C B (A #0b3d91, B "));
        let three = drawn("A C B", &DYES, &[]);
        page.all_show(&three).await;
        // A single thread: the right one of the first pair, by its letter.
        page.click("#threads").await;
        assert_eq!(page.ask::<usize>("document.querySelectorAll('#pairs button').length").await, 6);
        page.click("#brush-B").await;
        page.click("#pairs [data-thread='1']").await;
        page.all_show(&drawn("A/B C B", &DYES, &[])).await;
        // A ready-made arrangement.
        let ready = "#ready [data-arrangement='A B']";
        page.click(ready).await;
        assert_eq!(page.find(ready).await.attr("aria-pressed").await.unwrap().as_deref(), Some("true"));
        page.all_show(&drawn("A B", &DYES[..2], &[])).await;
        for sight in ["protan", "deutan", "tritan", "grey"] {
            page.choose("#seen", sight).await;
            page.all_show(&drawn("A B", &DYES[..2], &["--seen-by", sight])).await;
        }
        page.choose("#seen", "").await;
        // Undo with the button, then with keys, to the first arrangement in these colours.
        page.click("#undo").await;
        page.click("#undo").await;
        page.all_show(&three).await;
        for _ in 0..2 {
            page.press(&format!("{}z", Key::Control)).await;
        }
        assert!(page.text("#said").await.starts_with("Undone: hung A A B B"));
        page.all_show(&two).await;
        for _ in 0..3 {
            page.press(&format!("{}z", Key::Control)).await;
        }
        assert!(!page.find("#undo").await.is_enabled().await.unwrap());
        assert!(!page.address().await.contains("colours="));
    });
}

#[test]
fn an_address_opened_elsewhere_shows_the_same() {
    const STATE: &str = "[...document.querySelectorAll('#needs-script :is(input, select)')]
        .map((e) => [e.id || e.dataset.compare, e.type, e.value, e.checked === true])
        .filter(([id]) => !id.startsWith('brush-')).concat([[hung.textContent, picked.textContent]])";
    let first = visit(async |page| {
        page.open("explore.html").await;
        page.dye("B", DYES[1]).await;
        page.click("#ready [data-arrangement='A A A B']").await;
        page.click("#threads").await;
        page.choose("#seen", "deutan").await;
        page.write("#search", "gründ & 7 %").await;
        let odd = page.address().await;
        assert_eq!(page.shown().await, [""; 0]);
        page.write("#search", "r").await;
        page.choose("#kind", "filling").await;
        page.write("#pairs-to", "30").await;
        page.choose("#sort", "open").await;
        page.click("#down").await;
        let shown = page.shown().await;
        assert!(shown.len() > 2, "{shown:?}");
        for name in &shown[1..3] {
            page.click(&format!("[data-compare='{name}']")).await;
        }
        let pixels = page.pixels(&format!("[data-name='{}'] canvas", shown[1])).await;
        (odd, page.address().await, shown, pixels, page.ask::<Value>(STATE).await)
    });
    let Some((odd, address, shown, pixels, state)) = first else { return };
    visit(async |page| {
        page.client.goto(&address).await.unwrap();
        assert_eq!(page.shown().await, shown);
        assert_eq!(page.ask::<Value>(STATE).await, state);
        page.shows(&format!("[data-name='{}'] canvas", shown[1]), &pixels).await;
        assert_eq!(page.address().await, address);
        // A changed address in the same page takes effect too.
        page.client.goto(&odd).await.unwrap();
        page.until("search.value === 'gründ & 7 %' && !nothing.hidden").await;
        assert!(!page.sees("#unread").await);
        // What cannot be read is not passed over in silence.
        let nonsense =
            "order=AZ/&colours=zz-&seen=me&family=none&pairs=x&sort=1&pick=no/thing&search=%zz&window=7";
        page.client.goto(&format!("{}#{nonsense}", address.split_once('#').unwrap().0)).await.unwrap();
        page.until("hung.textContent.startsWith('hung A A B B (')").await;
        assert_eq!(page.ask::<Value>("[family.value, sort.value, tray.hidden]").await, json!(["", "", true]));
        let unread = page.text("#unread").await;
        for said in [
            "The arrangement “AZ/” cannot be read: write letters from A to F, a number before a letter to repeat it (4A), A/B for a pair of two colours; A A B B is shown instead.",
            "“zz” is no colour for the letter A",
            "“me” is no way to see colours",
            "“none”",
            "“1”",
            "“x” is no range of pairs",
            "Not in this gallery: no/thing.",
            "There are no pictures of “7” mm of lace, only of 16, 32, 48, 64 mm.",
        ] {
            assert!(unread.contains(said), "{said}: {unread}");
        }
    });
}

// Arrangements of any length, as a teacher writes them.
#[test]
fn an_address_may_hang_any_number_of_pairs() {
    visit(async |page| {
        for (asked, hung, colours) in [
            ("order=AABBA", "A A B B A", 2),
            ("arrangement=7A+7B", "A A A A A A A B B B B B B B", 2),
            ("arrangement=2a%203c", "A A C C C", 3),
        ] {
            page.open(&format!("explore.html#{asked}&colours=0b3d91-ffc20e-0a7f5a")).await;
            assert!(page.hung().await.starts_with(&format!("hung {hung} (A #0b3d91")), "{asked}");
            assert!(!page.sees("#unread").await, "{asked}");
            page.all_show(&drawn(hung, &DYES[..colours], &[])).await;
        }
    });
}

// Pale thread brings a darker cloth by itself, in the page as in the program.
#[test]
fn white_thread_lies_on_a_darker_cloth() {
    visit(async |page| {
        page.open("explore.html#arrangement=AB&colours=ffffff-1f3f77").await;
        page.all_show(&drawn("A B", &["#ffffff", "#1f3f77"], &[])).await;
        let corner = "(() => { const count = new Map(); const c = document.querySelector('#grid canvas');
            const d = new Uint32Array(c.getContext('2d').getImageData(0, 0, c.width, c.height).data.buffer);
            for (const p of d) count.set(p, (count.get(p) || 0) + 1);
            const [p] = [...count].sort((a, b) => b[1] - a[1])[0];
            return [p & 255, p >> 8 & 255, p >> 16 & 255]; })()";
        assert_eq!(page.ask::<[u8; 3]>(corner).await, [0x6b, 0x7a, 0x8c]);
        page.click("#pairs [data-pair='1']").await;
        page.click("#brush-B").await;
        page.click("#pairs [data-pair='1']").await;
        page.all_show(&drawn("A A", &["#1f3f77"], &[])).await;
        assert_eq!(page.ask::<[u8; 3]>(corner).await, [232, 224, 208]);
    });
}

// As much lace as the slider says, and what is not shown whole is said.
#[test]
fn the_slider_shows_more_lace_and_says_what_is_not_whole() {
    visit(async |page| {
        let all = varieties();
        page.open("explore.html").await;
        let usual = all.iter().map(|v| v["small_mm"].as_f64().unwrap()).fold(f64::MAX, f64::min);
        let mut wider = 0;
        for v in &all {
            let shows = page
                .ask::<String>(&format!(
                    "document.querySelector('[data-name=\"{}\"] .shows').textContent",
                    string(v, "name")
                ))
                .await;
            let mm = v["small_mm"].as_f64().unwrap();
            let times = mm / usual;
            if times > 1.0 {
                assert!(
                    shows.starts_with(&format!("{mm} mm of lace, {times} times as much as usual")),
                    "{shows}"
                );
                wider += 1;
            }
            let repeat = [&v["repeat"]["width_mm"], &v["repeat"]["row_mm"]].map(|mm| mm.as_f64().unwrap());
            let whole = repeat.iter().all(|size| *size <= mm + 1e-6);
            assert_eq!(shows.contains("part of a repeat of") && !shows.contains("colours"), !whole, "{v}");
        }
        assert!(wider > 3, "{wider}");
        let slider = page.find("#window").await;
        slider.send_keys(&Key::Right).await.unwrap();
        slider.send_keys(&Key::Right).await.unwrap();
        assert!(page.address().await.contains("window=32"));
        assert_eq!(page.text("#window-words").await, "32 by 32 mm of each");
        page.all_show(&drawn("A A B B", &["#1f3f77", "#e07b39"], &["--window", "32"])).await;
        page.open("explore.html#window=16&arrangement=7A7B").await;
        assert_eq!(
            page.text("[data-name='torchon/plain'] .shows").await,
            "part of a repeat of the colours, 28 mm across by 28 mm"
        );
    });
}

#[test]
fn all_pictures_in_view_are_painted_and_timed() {
    visit(async |page| {
        // Many at once, as on a wide screen.
        page.screen(2560, 1440, false).await;
        page.open("explore.html").await;
        page.ask::<Value>("pairwise.come").await;
        page.ask::<f64>("pairwise.paintAll()").await;
        const SEEN: &str = "[...document.querySelectorAll('#grid canvas')].filter((c) => {
            const box = c.getBoundingClientRect();
            return box.bottom > 0 && box.top < innerHeight;
        }).map((c) => '#' + c.id)";
        let seen: Vec<String> = page.ask(SEEN).await;
        assert!(seen.len() > 20, "{seen:?}");
        let mut before = Vec::new();
        for canvas in &seen {
            before.push(page.pixels(canvas).await);
        }
        page.dye("A", DYES[0]).await;
        let all = page.ask::<f64>("pairwise.lastRepaint").await;
        for (canvas, before) in seen.iter().zip(before) {
            let after = page.pixels(canvas).await;
            assert_eq!(after.len(), 160 * 160);
            assert!(after != before, "{canvas} is as it was");
        }
        let mut times: Vec<f64> = page.ask("Array.from({ length: 9 }, () => pairwise.paintAll())").await;
        times.sort_by(f64::total_cmp);
        let to_screen = "const done = arguments[0], begun = performance.now();
            document.querySelector('#ready [data-arrangement=\"A B\"]').click();
            requestAnimationFrame(() => setTimeout(() => done(performance.now() - begun)));";
        let to_screen = page.client.execute_async(to_screen, vec![]).await.unwrap();
        measured(&format!(
            "recolouring: {} pictures in sight of {} in {all:.1} ms; all of them in {:.1} ms; from the click to the frame {:.1} ms",
            seen.len(),
            varieties().len(),
            times[4],
            to_screen.as_f64().unwrap()
        ));
    });
}

// The colours stay near the pictures.
#[test]
fn on_a_small_screen_filters_are_folded_until_used() {
    const OPEN: &str = "document.getElementById('wishes').open";
    visit(async |page| {
        page.screen(390, 844, true).await;
        page.open("explore.html").await;
        assert!(!page.ask::<bool>(OPEN).await && !page.sees("#family").await);
        page.open("explore.html#kind=filling").await;
        assert!(page.ask::<bool>(OPEN).await && page.sees("#family").await);
        page.open("explore.html").await;
        page.screen(1280, 900, false).await;
        page.until(OPEN).await;
        assert!(page.sees("#family").await);
    });
}

/// What the program sees of some varieties: the kind of pattern, and its first words
/// on a card.
fn seen_by_the_program(order: &str) -> Vec<(String, String, f64)> {
    let folder = tempfile::tempdir().unwrap();
    let few = ["grid", "rose", "spider/three", "torchon", "trail", "diamond/cloth", "star", "--varieties"];
    let how = ["--arrangement", order, "--colours", "navy,gold,teal", "--size", "48", "--index", "grid.json"];
    let out = pairwise(folder.path(), &[&few[..], &how].concat());
    assert_eq!(out.status.code(), Some(0), "{}", text(&out.stderr));
    let index: Value =
        serde_json::from_slice(&std::fs::read(folder.path().join("grid.json")).unwrap()).unwrap();
    let cell = |cell: &Value| {
        let name = format!("{}/{}", string(cell, "ground"), string(cell, "variety"));
        (name, string(cell, "pattern").to_owned(), 100.0 * cell["clearness"].as_f64().unwrap())
    };
    list(&index, "cells").iter().map(cell).collect()
}

#[test]
fn kinds_of_pattern_are_those_that_the_program_sees() {
    visit(async |page| {
        for order in ["A A B B", "A A A B", "A", "A B", "A B C", "4A 4B"] {
            let letters = order.parse::<lace::Arrangement>().unwrap().to_string().replace(' ', "");
            page.open(&format!("explore.html#arrangement={letters}")).await;
            page.ask::<Value>("pairwise.softened").await;
            page.until("[...document.querySelectorAll('#grid li p:not(.shows)')].every((p) => p.textContent.split('; ').length > 2)").await;
            let program = seen_by_the_program(order);
            assert!(program.len() > 20);
            for (name, kind, clear) in &program {
                let line =
                    format!("document.querySelector(\"[data-name='{name}'] p:not(.shows)\").textContent");
                let line = page.ask::<String>(&line).await;
                let none = ["plain", "even-mix"].contains(&kind.as_str());
                let words = lace::Pattern::ALL.iter().find(|p| p.word() == kind).unwrap().words();
                let begins = if none { format!("{words}; ") } else { format!("{words}, ") };
                assert!(line.starts_with(&begins), "{name} in {order}: {line}, not {begins}");
                let said = line[begins.len()..].split(" % clear").next().unwrap().parse::<f64>();
                assert!(none || (said.unwrap() - clear).abs() <= 0.51, "{name} in {order}: {line}, {clear}");
            }
        }
        // Kept and sorted, alone and with a measure.
        page.open("explore.html#arrangement=AABB").await;
        page.ask::<Value>("pairwise.softened").await;
        let all = page.shown().await;
        page.choose("#pattern", "checks").await;
        page.choose("#sort", "clearest").await;
        page.write("#moves-to", "100").await;
        let program = seen_by_the_program("A A B B");
        let shown = page.shown().await;
        assert!(!shown.is_empty() && shown.len() < all.len());
        for (name, kind, _) in program.iter().filter(|(name, ..)| shown.contains(name)) {
            assert_eq!(kind, "checks", "{name}");
        }
        let clear: Vec<f64> = shown
            .iter()
            .filter_map(|name| program.iter().find(|(other, ..)| other == name).map(|(.., clear)| *clear))
            .collect();
        // Sorted in whole per cent.
        assert!(clear.is_sorted_by(|a, b| a + 1.01 >= *b), "{clear:?}");
        // Other colours, another pattern: what is shown follows.
        page.choose("#pattern", "diagonals").await;
        page.click("#ready [data-arrangement='A A A B']").await;
        page.until(
            "[...document.querySelectorAll('#grid li p:not(.shows)')].some((p) => p.textContent.startsWith('diagonals'))",
        )
        .await;
        page.write("#clear-from", "100").await;
        assert!(page.sees("#nothing").await);
        assert!(
            page.address().await.contains("pattern=diagonals&")
                && page.address().await.contains("clear=100-")
        );
    });
}
