//! Grounds for tests.

use std::sync::Arc;

use catalogue::{About, Choice, Chosen, Contribution, DefineError, Entry, Kind, Settings, Variety};
use indexmap::IndexMap;
use lace::Repeat;

struct Sample(About, Repeat);

impl Contribution for Sample {
    fn about(&self) -> &About {
        &self.0
    }

    fn file(&self) -> &str {
        "sample.wasm"
    }

    fn define(&self, _: &Settings) -> Result<Repeat, DefineError> {
        Ok(self.1.clone())
    }
}

/// A ground with a title; its id is the same in small letters and hyphens, its
/// only variety `plain`.
pub(crate) fn chosen(title: &str, repeat: Repeat) -> Chosen {
    sample(title, IndexMap::new(), None, repeat)
}

/// The same with choices, which make no difference to its repeat.
pub(crate) fn chosen_with(title: &str, choices: IndexMap<String, Choice>, repeat: Repeat) -> Chosen {
    sample(title, choices, None, repeat)
}

/// The same with a usual pin spacing, in mm.
pub(crate) fn chosen_at(title: &str, pin_spacing_mm: Option<f64>, repeat: Repeat) -> Chosen {
    sample(title, IndexMap::new(), pin_spacing_mm, repeat)
}

fn sample(
    title: &str,
    choices: IndexMap<String, Choice>,
    pin_spacing_mm: Option<f64>,
    repeat: Repeat,
) -> Chosen {
    let plain = Variety {
        title: title.to_owned(),
        other_names: Vec::new(),
        settings: Settings::new(),
        notes: String::new(),
        source: "made up".to_owned(),
    };
    let about = About {
        id: title.to_lowercase().replace(' ', "-"),
        title: title.to_owned(),
        kind: Kind::Ground,
        family: "made-up".to_owned(),
        other_names: Vec::new(),
        laces: Vec::new(),
        sits_in: None,
        angle: 45.0,
        pin_spacing_mm,
        notes: String::new(),
        source: "made up".to_owned(),
        choices,
        varieties: [("plain".to_owned(), plain)].into_iter().collect(),
    };
    Arc::new(Entry::new(Sample(about, repeat))).choose(None, &[]).expect("a ground that can be worked")
}
