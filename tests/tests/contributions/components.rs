//! Every plugin in three forms: its crate built for this machine, the committed
//! component, and (if `PAIRWISE_REBUILT` names a folder) the component rebuilt
//! from source. All must have the same description and repeats.

use std::path::Path;

use crate::machine;
use pairwise_sdk::{Contribution, Settings};
use pairwise_tests::house::plugins;
use sandbox::{Sandbox, Source};

/// Compares a crate with the components of its id.
#[track_caller]
fn same<T: Contribution>(id: &str) {
    let file = format!("{id}.wasm");
    let committed = plugins().iter().find(|plugin| Path::new(&plugin.from).ends_with(&file));
    let mut components = vec![committed.unwrap_or_else(|| panic!("{file} is not there"))];
    let again;
    let rebuilt = std::env::var_os("PAIRWISE_REBUILT");
    if machine::has("components built again, PAIRWISE_REBUILT", rebuilt.is_some()) {
        let source = Source::File(Path::new(&rebuilt.unwrap()).join(&file));
        again = Sandbox::new(None).unwrap().load(&source).unwrap_or_else(|why| panic!("{why}"));
        components.push(&again);
    }
    let about = T::about();
    for plugin in components {
        assert_eq!(plugin.about.id, id);
        assert_eq!(about.id, id);
        assert_eq!(plugin.about.title, about.title, "{}", plugin.from);
        assert_eq!(plugin.about.notes, about.notes, "{}", plugin.from);
        assert_eq!(plugin.about.pin_spacing_mm, about.pin_spacing, "{}", plugin.from);
        // Those built in name a spacing each; the finest are the meshes of plaits, whose pins
        // stand more than a spacing apart (common practice, no source).
        assert!(about.pin_spacing.is_some_and(|mm| (1.0..=5.0).contains(&mm)), "{id}");
        let said = |v: &pairwise_sdk::Variety| (v.title.clone(), v.notes.clone(), v.source.clone());
        let said: Vec<_> = about.varieties.iter().map(said).collect();
        let read = |v: &catalogue::Variety| (v.title.clone(), v.notes.clone(), v.source.clone());
        assert_eq!(plugin.about.varieties.values().map(read).collect::<Vec<_>>(), said, "{}", plugin.from);
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

macro_rules! each {
    ($($name:ident: $contribution:ty),* $(,)?) => {
        $(
            #[test]
            fn $name() {
                same::<$contribution>(&stringify!($name).replace('_', "-"));
            }
        )*

        #[test]
        fn no_component_is_left_out() {
            let mut named = vec![$(stringify!($name).replace('_', "-")),*];
            named.sort();
            let built = Path::new(env!("CARGO_MANIFEST_DIR")).join("../plugins/built");
            let mut files: Vec<String> = std::fs::read_dir(built)
                .unwrap()
                .map(|file| file.unwrap().path().file_stem().unwrap().to_string_lossy().into_owned())
                .collect();
            files.sort();
            assert_eq!(named, files);
        }
    };
}

each! {
    brussels: pairwise_plugin_brussels::Brussels,
    cloth: pairwise_plugin_cloth::Cloth,
    diamond: pairwise_plugin_diamond::Diamond,
    flower: pairwise_plugin_flower::Flower,
    honeycomb: pairwise_plugin_honeycomb::Honeycomb,
    mechlin: pairwise_plugin_mechlin::Mechlin,
    net_tally: pairwise_plugin_net_tally::NetTally,
    pin_chain: pairwise_plugin_pin_chain::PinChain,
    plait: pairwise_plugin_plait::Plait,
    point: pairwise_plugin_point::Point,
    rose: pairwise_plugin_rose::Rose,
    rose_rows: pairwise_plugin_rose_rows::RoseRows,
    single_rose: pairwise_plugin_single_rose::SingleRose,
    spider: pairwise_plugin_spider::Spider,
    spiders: pairwise_plugin_spiders::Spiders,
    star: pairwise_plugin_star::Star,
    tally: pairwise_plugin_tally::Tally,
    torchon: pairwise_plugin_torchon::Torchon,
    trail: pairwise_plugin_trail::Trail,
    valenciennes: pairwise_plugin_valenciennes::Valenciennes,
}

/// Components made for the first version of the interface, which had no pin spacing:
/// point ground as it was then, and a chart.
#[test]
fn components_of_the_first_version_load_as_before() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("contributions/0.1.0");
    let sources = Source::folder(&folder).unwrap();
    let loaded = Sandbox::new(None).unwrap().load_all(&sources);
    assert!(loaded.failures.is_empty(), "{:?}", loaded.failures);
    let [chart, point] = &loaded.plugins[..] else { panic!("{loaded:?}") };
    for plugin in [chart, point] {
        let bytes = std::fs::read(&plugin.from).unwrap();
        let export = b"pairwise:ground/ground@0.1.0";
        assert!(bytes.windows(export.len()).any(|window| window == export), "{}", plugin.from);
        assert_eq!(plugin.about.pin_spacing_mm, None);
        assert_eq!(plugin.about.usual_pin_spacing_mm(), 4.0);
    }
    assert_eq!((chart.about.id.as_str(), chart.about.angle), ("empty-chart", 45.0));
    assert_eq!((point.about.id.as_str(), point.about.angle), ("point", 60.0));
    assert_eq!(point.about.varieties.keys().collect::<Vec<_>>(), ["plain", "light"]);
    let now = pairwise_plugin_point::Point::about();
    for variety in ["plain", "light"] {
        let then = point.define(&point.about.resolve(Some(variety), &[]).unwrap()).unwrap();
        let native = pairwise_plugin_point::Point::define(&Settings::variety(&now, variety)).unwrap();
        assert_eq!(then, pairwise_sdk::to_lace(&native).unwrap(), "{variety}");
    }
}
