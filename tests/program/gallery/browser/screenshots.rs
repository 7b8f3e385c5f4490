//! Screenshots of the pages, for people to look at.

use std::path::Path;

use super::super::CLASS;
use super::compare::come;
use super::{png, visit};

const THREE: &str = "pick=rose/plain,spider/three,torchon/plain";

/// Written to the folder PAIRWISE_SCREENSHOTS, at the widths of a phone, a
/// laptop and a very large screen.
#[test]
#[ignore = "only for pictures to be looked at"]
fn pages_are_photographed() {
    let folder = std::env::var_os("PAIRWISE_SCREENSHOTS").expect("PAIRWISE_SCREENSHOTS names a folder");
    std::fs::create_dir_all(&folder).unwrap();
    let recoloured = "order=A/BCB&colours=0b3d91-ffc20e-0a7f5a";
    let shots = [
        ("index", "index.html".to_owned()),
        ("explore", "explore.html".to_owned()),
        ("explore-filtered", format!("explore.html#kind=filling&sort=pins&{THREE}")),
        ("explore-nothing", "explore.html#search=qqq&kind=filling".to_owned()),
        ("explore-recoloured", format!("explore.html#threads=1&{recoloured}")),
        ("compare", format!("compare.html#{THREE}")),
        ("compare-pairs", format!("compare.html#view=pairs&{THREE}")),
        ("compare-pricking", format!("compare.html#view=pricking&{THREE}")),
        ("compare-following", format!("compare.html#follow=3&{recoloured}&{THREE}")),
        ("side-by-side", "side-by-side.html".to_owned()),
        ("ground", "grounds/rose.html".to_owned()),
        ("names", "names.html".to_owned()),
        ("class", "class.html".to_owned()),
    ];
    visit(async |page| {
        for (width, height) in [(360, 900), (1280, 900), (2560, 1440)] {
            page.screen(width, height, width < 1000).await;
            for (name, address) in &shots {
                if !CLASS.pages.contains_key(Path::new(address.split('#').next().unwrap())) {
                    continue;
                }
                let schemes = if *name == "explore" { &["light", "dark"][..] } else { &["light"] };
                for scheme in schemes {
                    page.prefers("prefers-color-scheme", scheme).await;
                    page.open(address).await;
                    come(page).await;
                    page.read_through().await;
                    let file = Path::new(&folder).join(format!("{name}-{scheme}-{width}.png"));
                    std::fs::write(&file, page.client.screenshot().await.unwrap()).unwrap();
                    assert_eq!(png(&file).0, width as usize, "{file:?}");
                }
            }
        }
    });
}
