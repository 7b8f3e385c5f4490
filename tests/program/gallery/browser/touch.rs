//! The gallery on a touch screen.

use fantoccini::actions::{InputSource, MOUSE_BUTTON_LEFT, PointerAction, TouchActions};
use serde_json::json;

use super::{Visit, visit};

async fn tap(page: &Visit, place: &str) {
    page.bring(place).await;
    let element = page.find(place).await;
    let touch = TouchActions::new("finger".to_owned())
        .then(PointerAction::MoveToElement { element, duration: None, x: 0.0, y: 0.0 })
        .then(PointerAction::Down { button: MOUSE_BUTTON_LEFT })
        .then(PointerAction::Up { button: MOUSE_BUTTON_LEFT });
    page.client.perform_actions(touch).await.unwrap();
}

#[test]
fn taps_hang_colours_and_choose() {
    visit(async |page| {
        page.screen(390, 844, true).await;
        page.command("Emulation.setTouchEmulationEnabled", json!({ "enabled": true, "maxTouchPoints": 1 }))
            .await;
        page.open("explore.html").await;
        assert!(
            page.ask::<bool>(
                "matchMedia('(pointer: coarse)').matches && matchMedia('(hover: none)').matches"
            )
            .await
        );
        page.run("addEventListener('pointerup', (event) => { window.fingers = (window.fingers || '') + event.pointerType; })").await;
        tap(page, "#brush-D").await;
        tap(page, "#pairs [data-pair='2']").await;
        assert!(page.hung().await.starts_with("hung A D B B ("));
        tap(page, "#more > summary").await;
        tap(page, "#ready [data-arrangement='A B']").await;
        tap(page, "#more > summary").await;
        assert!(page.hung().await.starts_with("hung A B ("));
        for name in ["rose/plain", "torchon/plain"] {
            tap(page, &format!("[data-compare='{name}']")).await;
            page.until(&format!("document.querySelector('[data-compare=\"{name}\"]').checked")).await;
        }
        assert_eq!(page.ask::<String>("window.fingers").await, "touch".repeat(7));
        tap(page, "#compare").await;
        page.until("location.pathname.endsWith('/compare.html') && document.querySelectorAll('#sides canvas').length === 2").await;
        // One beside the other, both whole on the screen.
        let places: Vec<[f64; 3]> = page
            .ask(
                "[...document.querySelectorAll('.window')].map((w) => w.getBoundingClientRect())
                    .map((b) => [b.left, b.right, b.top])",
            )
            .await;
        let [[_, right, top], [left, end, beside]] = places[..] else { panic!("{places:?}") };
        assert!(right < left && end <= 390.0 && top == beside, "{places:?}");
        assert!(right - places[0][0] > 150.0, "{places:?}");
    });
}

/// The upper and lower edge of the panel of colours, and those of the pictures
/// that are whole on the screen and not under the panel.
async fn in_sight(page: &Visit) -> ([f64; 2], Vec<[f64; 2]>) {
    let panel: [f64; 2] = page
        .ask("(() => { const b = document.querySelector('.docked').getBoundingClientRect(); return [b.top, b.bottom]; })()")
        .await;
    let pictures: Vec<[f64; 2]> = page
        .ask(
            "[...document.querySelectorAll('#grid canvas')].map((c) => c.getBoundingClientRect())
                .map((b) => [b.top, b.bottom])",
        )
        .await;
    let whole = pictures.into_iter().filter(|[top, bottom]| *top >= 0.0 && *bottom <= panel[0]);
    (panel, whole.collect())
}

// The pictures are what the visitor came for, and what she changes.
#[test]
fn on_a_phone_a_picture_is_in_sight_at_once_and_while_colours_are_hung() {
    visit(async |page| {
        page.screen(390, 844, true).await;
        page.open("explore.html").await;
        page.ask::<serde_json::Value>("pairwise.come").await;
        let (panel, whole) = in_sight(page).await;
        assert!(!whole.is_empty(), "no picture is whole on the first screen: {panel:?}");
        assert!(panel[1] <= 844.0 && panel[1] - panel[0] < 300.0, "{panel:?}");
        // Wherever the page is scrolled to, colours can be hung and seen.
        for down in [0, 700, 3000] {
            page.run(&format!("scrollTo({{ top: {down}, behavior: 'instant' }})")).await;
            page.until(&format!("Math.abs(scrollY - {down}) < 2")).await;
            let middle = "[...document.querySelectorAll('#grid canvas')].find((c) => c.getBoundingClientRect().top >= 0)";
            let read = format!("(() => {{ const c = {middle}; return '#' + c.id; }})()");
            let canvas: String = page.ask(&read).await;
            page.until(&format!(
                "document.querySelector('{canvas}').getContext('2d').getImageData(9, 9, 1, 1).data[3] === 255"
            ))
            .await;
            let before = page.pixels(&canvas).await;
            for letter in ["C", "D"] {
                page.find(&format!("label:has(#brush-{letter})")).await.click().await.unwrap();
                page.find("#pairs [data-pair='1']").await.click().await.unwrap();
            }
            let (_, whole) = in_sight(page).await;
            assert!(!whole.is_empty(), "scrolled to {down}");
            page.until(&format!("document.querySelector('{canvas}').getBoundingClientRect().bottom > 0"))
                .await;
            assert!(page.pixels(&canvas).await != before, "{canvas} is as it was");
            page.find("#pairs [data-pair='2']").await.click().await.unwrap();
            page.find("label:has(#brush-A)").await.click().await.unwrap();
            page.find("#pairs [data-pair='1']").await.click().await.unwrap();
        }
    });
}
