//! The gallery without a mouse: the keyboard alone leads from the top of the page
//! to a comparison.

use fantoccini::key::Key;
use serde_json::Value;

use super::{Visit, visit};

/// The focused element: its id or text, whether its focus is visible, and what
/// covers it, if anything.
const FOCUS: &str = "(() => {
    const e = document.activeElement, style = getComputedStyle(e), box = e.getBoundingClientRect();
    const there = document.elementFromPoint(box.x + box.width / 2, box.y + box.height / 2);
    const free = there && (e.contains(there) || there.contains(e) || there.closest('label')?.contains(e));
    const ring = style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2;
    return [e.dataset.compare || e.id || e.textContent.trim(), ring, free ? '' : there ? there.outerHTML.slice(0, 80) : 'nothing'];
})()";

/// Presses Tab until an element has the focus, and checks that every stop is
/// visible. Returns the number of stops.
async fn on_to(page: &Visit, keys: &str, element: &str) -> usize {
    for stops in 1..80 {
        page.press(keys).await;
        let (name, ring, cover): (String, bool, String) = page.ask(FOCUS).await;
        assert!(ring, "no outline on {name}");
        assert_eq!(cover, "", "something lies on {name}");
        if page.ask(&format!("document.activeElement.matches({element:?})")).await {
            return stops;
        }
    }
    panic!("{element} is not reached");
}

#[test]
fn keys_alone_search_recolour_choose_and_compare() {
    visit(async |page| {
        let (tab, back) = (Key::Tab.to_string(), format!("{}{}", Key::Shift, Key::Tab));
        page.open("explore.html").await;
        // Links to all pages, the colours, then the pairs as one stop.
        let stops = on_to(page, &tab, "#pairs [data-pair='1']").await;
        assert!((8..=20).contains(&stops), "{stops}");
        page.press(&Key::Right).await;
        page.press(&Key::Right).await;
        page.press("c").await;
        assert!(page.hung().await.starts_with("hung A A C B ("));
        // Enter hangs the chosen colour, here the first.
        page.press(&Key::End).await;
        page.press(&Key::Enter).await;
        assert!(page.hung().await.starts_with("hung A A C A ("));
        on_to(page, &tab, "#seen").await;
        on_to(page, &tab, "#ready [data-arrangement='A B']").await;
        page.press(&Key::Space).await;
        assert!(page.hung().await.starts_with("hung A B ("));
        on_to(page, &tab, "#search").await;
        page.press_each("rose").await;
        page.until("document.querySelectorAll('#grid > li').length < 20").await;
        let shown = page.shown().await;
        assert!(shown.len() > 2, "{shown:?}");
        // On to the pictures: one stop, with arrow keys inside.
        on_to(page, &tab, "#grid a").await;
        on_to(page, &tab, "#grid input").await;
        page.press(&Key::Space).await;
        on_to(page, &back, "#grid a").await;
        on_to(page, &Key::Right, "#grid a").await;
        on_to(page, &tab, "#grid input").await;
        page.press(&Key::Space).await;
        on_to(page, &tab, "#compare").await;
        page.press(&Key::Enter).await;
        page.reach("compare.html").await;
        let sides = "[...document.querySelectorAll('#sides > article')].map((a) => a.dataset.name)";
        assert_eq!(page.ask::<Vec<String>>(sides).await, shown[..2]);
        assert!(page.text("#hung").await.starts_with("hung A B ("));
        on_to(page, &tab, "#view-threads").await;
        page.press(&Key::Right).await;
        assert!(page.find("#view-pairs").await.is_selected().await.unwrap());
        page.until("document.querySelectorAll('#sides .window img').length === 2").await;
        // Windows can be moved by keys, too, and the facts be reached.
        on_to(page, &tab, "#zoom").await;
        page.press(&Key::End).await;
        on_to(page, &tab, ".window").await;
        // The picture may not have grown yet.
        page.until("(({ scrollHeight, clientHeight }) => scrollHeight > clientHeight)(document.querySelector('.window'))")
            .await;
        page.press(&Key::Down).await;
        page.until("document.querySelector('.window').scrollTop > 0").await;
        on_to(page, &tab, "#differ").await;
    });
}

#[test]
fn a_key_leads_to_the_search_and_enter_opens_a_ground() {
    visit(async |page| {
        let back = format!("{}{}", Key::Shift, Key::Tab);
        page.open("explore.html").await;
        page.press("/").await;
        assert_eq!(
            page.ask::<Value>("[document.activeElement.id, search.value]").await,
            serde_json::json!(["search", ""])
        );
        // In the search field it is an ordinary character.
        page.press_each("a/b").await;
        assert_eq!(page.ask::<String>("search.value").await, "a/b");
        page.write("#search", "").await;
        on_to(page, &Key::Tab, "#grid a").await;
        let columns: usize = page.ask("[...document.querySelectorAll('#grid > li')].filter((li, k, all) => li.offsetTop === all[0].offsetTop).length").await;
        let shown = page.shown().await;
        const AT: &str = "document.activeElement.closest('li').dataset.name";
        for (key, at) in [
            (Key::Down, columns),
            (Key::Right, columns + 1),
            (Key::Up, 1),
            (Key::Left, 0),
            (Key::End, shown.len() - 1),
            (Key::Home, 0),
            (Key::Right, 1),
        ] {
            on_to(page, &key, "#grid a").await;
            assert_eq!(page.ask::<String>(AT).await, shown[at]);
        }
        // The tray of chosen varieties is at the edge and never covers the focus: neither
        // the picture nor its tick box, wherever the arrows lead.
        page.press(&Key::Tab).await;
        page.press(&Key::Space).await;
        page.press(&back).await;
        for height in [900, 720] {
            page.screen(1280, height, false).await;
            for key in [Key::End, Key::Up, Key::Up, Key::Down, Key::Home, Key::Down, Key::Down, Key::Down] {
                on_to(page, &key, "#grid a").await;
                on_to(page, &Key::Tab, "#grid input").await;
                on_to(page, &back, "#grid a").await;
            }
        }
        page.press(&Key::Home).await;
        on_to(page, &Key::Right, "#grid a").await;
        page.press(&Key::Enter).await;
        let (ground, variety) = shown[1].split_once('/').unwrap();
        page.until(&format!("location.href.endsWith('grounds/{ground}.html#variety-{variety}')")).await;
    });
}
