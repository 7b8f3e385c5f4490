//! A contribution for tests.

use lace::Repeat;

use crate::about::{About, Choice, Kind, OtherName, Range, Settings, Value, Variety};
use crate::contribution::{Contribution, DefineError};

/// A fixed rose ground with 0 to 3 twists: with 2 it refuses, and with 3 its
/// repeat is not a ground.
pub struct Sample {
    about: About,
    asked: Box<dyn Fn() + Send + Sync>,
}

impl Sample {
    /// A contribution with this id.
    pub fn new(id: &str) -> Sample {
        let twists = |n: i32| Settings::from([("twists".to_owned(), Value::Count(n))]);
        let variety = |title: &str, settings| Variety {
            title: title.to_owned(),
            other_names: Vec::new(),
            settings,
            notes: String::new(),
            source: "made up".to_owned(),
        };
        let choice = Choice {
            title: "Twists".to_owned(),
            range: Range::Count { least: 0, most: 3 },
            default: Value::Count(0),
        };
        let about = About {
            id: id.to_owned(),
            title: "Rose ground".to_owned(),
            kind: Kind::Ground,
            family: "rose".to_owned(),
            other_names: Vec::new(),
            laces: vec!["Torchon".to_owned()],
            sits_in: None,
            angle: 45.0,
            pin_spacing_mm: None,
            notes: String::new(),
            source: "made up".to_owned(),
            choices: [("twists".to_owned(), choice)].into_iter().collect(),
            varieties: [
                ("plain".to_owned(), variety("Plain rose", Settings::new())),
                ("twisted".to_owned(), variety("Twisted rose", twists(1))),
            ]
            .into_iter()
            .collect(),
        };
        Sample { about, asked: Box::new(|| {}) }
    }

    /// The same with another title.
    pub fn titled(mut self, title: &str) -> Sample {
        self.about.title = title.to_owned();
        self
    }

    /// The same with another name in the trade.
    pub fn also_called(mut self, name: &str) -> Sample {
        let (language, source) = ("de".to_owned(), "made up".to_owned());
        self.about.other_names.push(OtherName { language, name: name.to_owned(), source });
        self
    }

    /// Calls `asked` whenever a repeat is requested.
    pub fn watched(self, asked: impl Fn() + Send + Sync + 'static) -> Sample {
        Sample { asked: Box::new(asked), ..self }
    }
}

impl Contribution for Sample {
    fn about(&self) -> &About {
        &self.about
    }

    fn file(&self) -> &str {
        "rose.wasm"
    }

    fn define(&self, settings: &Settings) -> Result<Repeat, DefineError> {
        (self.asked)();
        let Some(Value::Count(twists)) = settings.get("twists") else {
            return Err(DefineError::new("no twists are set"));
        };
        match twists {
            2 => Err(DefineError::new("two twists are not to be had")),
            3 => {
                let mut repeat = lace::samples::torchon("CTC", 1);
                repeat.legs.clear();
                Ok(repeat)
            }
            n => Ok(lace::samples::torchon("CTC", n.unsigned_abs())),
        }
    }
}
