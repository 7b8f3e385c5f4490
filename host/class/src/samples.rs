//! A catalogue for tests: torchon ground, and a contribution left out.

use catalogue::{About, Catalogue, Contribution, DefineError, Kind, LeftOut, Settings, Variety};
use lace::samples::torchon;

struct Torchon(About);

impl Contribution for Torchon {
    fn about(&self) -> &About {
        &self.0
    }

    fn file(&self) -> &str {
        "torchon.wasm"
    }

    fn define(&self, _: &Settings) -> Result<lace::Repeat, DefineError> {
        Ok(torchon("CT pin CT", 0))
    }
}

pub fn catalogue() -> Catalogue {
    let plain = Variety {
        title: "Torchon ground".to_owned(),
        other_names: Vec::new(),
        settings: Settings::new(),
        notes: String::new(),
        source: "common practice".to_owned(),
    };
    let about = About {
        id: "torchon".to_owned(),
        title: "Torchon".to_owned(),
        kind: Kind::Ground,
        family: "torchon".to_owned(),
        other_names: Vec::new(),
        laces: Vec::new(),
        sits_in: None,
        angle: 45.0,
        pin_spacing_mm: None,
        notes: String::new(),
        source: "common practice".to_owned(),
        choices: Default::default(),
        varieties: [("plain".to_owned(), plain)].into_iter().collect(),
    };
    let broken = LeftOut { file: "more/broken.wasm".to_owned(), why: "it is no component".to_owned() };
    Catalogue::new([Torchon(about)], vec![broken])
}
