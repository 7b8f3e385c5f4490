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
        tap(page, "#ready [data-arrangement='A B']").await;
        assert!(page.hung().await.starts_with("hung A B ("));
        for name in ["rose/plain", "torchon/plain"] {
            tap(page, &format!("[data-compare='{name}']")).await;
            page.until(&format!("document.querySelector('[data-compare=\"{name}\"]').checked")).await;
        }
        assert_eq!(page.ask::<String>("window.fingers").await, "touch".repeat(5));
        tap(page, "#compare").await;
        page.until("location.pathname.endsWith('/compare.html') && document.querySelectorAll('#sides canvas').length === 2").await;
        // One below the other.
        let lefts: Vec<f64> = page
            .ask("[...document.querySelectorAll('.window')].map((w) => w.getBoundingClientRect().left)")
            .await;
        assert_eq!(lefts[0], lefts[1]);
    });
}
