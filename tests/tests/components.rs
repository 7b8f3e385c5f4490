//! Every plugin three times: its crate built for this machine, the component
//! that is committed, and (where `PAIRWISE_REBUILT` names a folder) the
//! component built again from source. All must say and define the same.

use std::path::{Path, PathBuf};

use pairwise_sdk::{Contribution, Settings};
use sandbox::{Plugin, Sandbox, Source};

fn load(sandbox: &Sandbox, file: PathBuf) -> Plugin {
    sandbox.load(&Source::File(file)).unwrap_or_else(|why| panic!("{why}"))
}

/// Compares a crate with the components of its id.
fn same<T: Contribution>(id: &str) {
    let sandbox = Sandbox::new(None).unwrap();
    let built = Path::new(env!("CARGO_MANIFEST_DIR")).join("../plugins/built").join(format!("{id}.wasm"));
    let mut components = vec![load(&sandbox, built)];
    if let Some(folder) = std::env::var_os("PAIRWISE_REBUILT") {
        components.push(load(&sandbox, Path::new(&folder).join(format!("{id}.wasm"))));
    }
    let about = T::about();
    for plugin in components {
        assert_eq!(plugin.about.id, id);
        assert_eq!(about.id, id);
        assert_eq!(plugin.about.title, about.title, "{}", plugin.from);
        let varieties: Vec<&str> = about.varieties.iter().map(|v| v.id.as_str()).collect();
        assert_eq!(plugin.about.varieties.keys().collect::<Vec<_>>(), varieties, "{}", plugin.from);
        assert!(!varieties.is_empty());
        for variety in varieties {
            let native = T::define(&Settings::variety(&about, variety)).unwrap();
            let native = pairwise_sdk::to_lace(&native).unwrap();
            let settings = plugin.about.resolve(Some(variety), &[]).unwrap();
            assert_eq!(plugin.define(&settings).unwrap(), native, "{} {variety}", plugin.from);
            // And each is a ground.
            lace::Ground::new(native).unwrap_or_else(|f| panic!("{id}/{variety}: {f:?}"));
        }
    }
}

#[test]
fn torchon() {
    same::<pairwise_plugin_torchon::Torchon>("torchon");
}

#[test]
fn rose() {
    same::<pairwise_plugin_rose::Rose>("rose");
}

#[test]
fn honeycomb() {
    same::<pairwise_plugin_honeycomb::Honeycomb>("honeycomb");
}

#[test]
fn point() {
    same::<pairwise_plugin_point::Point>("point");
}

#[test]
fn cloth() {
    same::<pairwise_plugin_cloth::Cloth>("cloth");
}

#[test]
fn spider() {
    same::<pairwise_plugin_spider::Spider>("spider");
}
