//! Pages of the gallery on paper: as few sheets as are sensible, with the colours
//! and the arrangement.

use std::path::Path;
use std::process::Command;

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use serde_json::json;

use super::super::CLASS;
use super::{Visit, found, visit};
use crate::machine;

/// A page on A4 paper, as a browser prints it: its text, sheet by sheet.
async fn printed(page: &Visit, address: &str, folder: &Path) -> Vec<String> {
    page.open(address).await;
    if address.starts_with("explore.html") {
        page.ask::<serde_json::Value>("pairwise.come").await;
    } else {
        page.read_through().await;
    }
    if address.starts_with("grounds/") && address.contains('=') {
        page.until("[...document.querySelectorAll('[data-variety] canvas')].every((c) => !c.hidden)").await;
    }
    let how = json!({ "preferCSSPageSize": true, "paperWidth": 8.27, "paperHeight": 11.69, "printBackground": false });
    let printed = page.command("Page.printToPDF", how).await;
    let file = folder.join("page.pdf");
    std::fs::write(&file, STANDARD.decode(printed["data"].as_str().unwrap()).unwrap()).unwrap();
    let text = Command::new("pdftotext").arg("-layout").arg(&file).arg("-").output().unwrap();
    let text = String::from_utf8(text.stdout).unwrap();
    let sheets = text.trim_end_matches('\u{c}').split('\u{c}');
    sheets.map(|sheet| sheet.split_whitespace().collect::<Vec<_>>().join(" ")).collect()
}

#[test]
fn pages_take_few_sheets_and_say_the_colours() {
    if !machine::has("pdftotext", found(&["pdftotext"]).is_some()) {
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    visit(async |page| {
        // The colours and their arrangement, and the varieties that were found.
        let hung = "Hang on A A B, repeating. A #0b3d91 B #ffc20e";
        let sheets =
            printed(page, "explore.html#arrangement=AAB&colours=0b3d91-ffc20e&search=rose", folder.path())
                .await;
        assert_eq!(sheets.len(), 1, "{sheets:?}");
        assert!(sheets[0].contains(hung) && sheets[0].contains("Rose ground"), "{sheets:?}");
        assert!(!sheets[0].contains("Sort by") && !sheets[0].contains("compare"), "{sheets:?}");
        let sheets = printed(page, "explore.html#arrangement=AAB&colours=0b3d91-ffc20e", folder.path()).await;
        assert!(sheets.len() <= 2 && sheets[0].contains(hung), "{}", sheets.len());
        // A ground with all its varieties.
        for name in CLASS.pages.keys().filter(|name| name.starts_with("grounds")) {
            let name = name.to_str().unwrap().replace('\\', "/");
            let sheets = printed(page, &name, folder.path()).await;
            assert_eq!(sheets.len(), 1, "{name}: {sheets:?}");
        }
        let sheets =
            printed(page, "grounds/rose.html#arrangement=AAB&colours=0b3d91-ffc20e", folder.path()).await;
        assert_eq!(sheets.len(), 1, "{sheets:?}");
        assert!(sheets[0].contains(hung), "{sheets:?}");
        // A few side by side, and every ground in every arrangement.
        for names in ["rose/plain,torchon/plain", "rose/plain,torchon/plain,spider/three,point/plain"] {
            let address = format!("compare.html#pick={names}&arrangement=AAB");
            let sheets = printed(page, &address, folder.path()).await;
            assert_eq!(sheets.len(), 1, "{sheets:?}");
            assert!(sheets[0].contains("hung A A B (A indigo, B apricot)"), "{sheets:?}");
            assert!(sheets[0].contains("yes, in every stitch"), "{sheets:?}");
            assert!(!sheets[0].contains("Change the colours"), "{sheets:?}");
        }
        let sheets = printed(page, "side-by-side.html", folder.path()).await;
        assert_eq!(sheets.len(), 1, "{sheets:?}");
        assert!(sheets[0].replace(' ', "").contains("AABB"), "{sheets:?}");
    });
}
