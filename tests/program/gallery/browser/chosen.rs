//! The colours that a visitor has chosen, from page to page.

use super::{folder, visit};

const CHOSEN: &str = "arrangement=AAB&colours=0b3d91-ffc20e";

#[test]
fn chosen_colours_go_from_page_to_page() {
    visit(async |page| {
        page.open("explore.html").await;
        page.dye("A", "#0b3d91").await;
        page.click(".pages a[href='side-by-side.html']").await;
        page.reach("side-by-side.html#colours=0b3d91-").await;
        page.open(&format!("grounds/rose.html#{CHOSEN}")).await;
        // Through every page that has no colours of its own to choose.
        for name in ["index", "side-by-side", "names", "glossary", "faults"] {
            page.click(&format!(".pages a[href$='{name}.html']")).await;
            page.reach(&format!("{name}.html#{CHOSEN}")).await;
        }
        // A place on a page, the page of a ground with its place, and back.
        page.click("nav[aria-label=Faults] a[href='#lifts-off']").await;
        page.until("location.hash.endsWith('&at=lifts-off')").await;
        page.reach(&format!("faults.html#{CHOSEN}")).await;
        page.until("document.getElementById('lifts-off').getBoundingClientRect().top < innerHeight").await;
        page.click(".pages a[href='names.html']").await;
        page.reach(&format!("names.html#{CHOSEN}")).await;
        page.click("a[href^='grounds/'][href*='#variety-']").await;
        page.reach("grounds/").await;
        let address = page.address().await;
        assert!(address.contains(&format!("#{CHOSEN}")) && address.contains("&at=variety-"), "{address}");
        assert!(page.hung().await.contains("A A B"), "{}", page.hung().await);
        page.click(".pages a[href$='index.html']").await;
        page.reach(&format!("index.html#{CHOSEN}")).await;
        page.click(".pages a[data-keeps]").await;
        page.reach(&format!("explore.html#{CHOSEN}")).await;
        // Where nothing is chosen, addresses stay plain.
        page.open("names.html").await;
        page.click(".pages a[href='index.html']").await;
        page.reach("index.html").await;
        assert_eq!(page.address().await, format!("{}index.html", folder()));
    });
}
