//! Building [`About`] in a few lines.

use std::ops::RangeInclusive;

use crate::{About, Choice, Kind, OptionOf, OtherName, Range, Setting, Value, Variety};

impl About {
    /// A ground, which fills an area of any size, from its id (a plain word)
    /// and title.
    ///
    /// ```
    /// use pairwise_sdk::{About, Kind};
    ///
    /// let about = About::ground("torchon", "Torchon ground");
    /// assert_eq!((about.kind, about.family.as_str(), about.angle), (Kind::Ground, "torchon", 45.0));
    /// ```
    pub fn ground(id: &str, title: &str) -> About {
        About {
            id: id.to_owned(),
            title: title.to_owned(),
            kind: Kind::Ground,
            family: id.to_owned(),
            other_names: Vec::new(),
            laces: Vec::new(),
            sits_in: None,
            angle: 45.0,
            pin_spacing: None,
            notes: String::new(),
            source: String::new(),
            choices: Vec::new(),
            varieties: Vec::new(),
        }
    }

    /// A filling, which is set into the ground with the id `sits_in`.
    ///
    /// ```
    /// use pairwise_sdk::{About, Kind};
    ///
    /// let about = About::filling("tally", "Tallies in torchon ground", "torchon");
    /// assert_eq!((about.kind, about.sits_in.as_deref()), (Kind::Filling, Some("torchon")));
    /// ```
    pub fn filling(id: &str, title: &str, sits_in: &str) -> About {
        About { kind: Kind::Filling, sits_in: Some(sits_in.to_owned()), ..About::ground(id, title) }
    }

    /// The family in which it is listed, a plain word; its own id if not set.
    ///
    /// ```
    /// let about = pairwise_sdk::About::ground("rose-rows", "Roses in rows").family("rose");
    /// assert_eq!((about.id.as_str(), about.family.as_str()), ("rose-rows", "rose"));
    /// ```
    #[must_use]
    pub fn family(mut self, family: &str) -> About {
        family.clone_into(&mut self.family);
        self
    }

    /// Adds a trade name: language as a BCP 47 tag, name, and the source of the name
    /// (a book, or `common practice`).
    ///
    /// ```
    /// let about = pairwise_sdk::About::ground("torchon", "Torchon ground")
    ///     .also_called("de", "Torchongrund", "common practice")
    ///     .also_called("fr", "fond torchon", "common practice");
    /// assert_eq!(about.other_names[1].name, "fond torchon");
    /// ```
    #[must_use]
    pub fn also_called(mut self, language: &str, name: &str, source: &str) -> About {
        self.other_names.push(other_name(language, name, source));
        self
    }

    /// The laces in which it is used.
    ///
    /// ```
    /// let about = pairwise_sdk::About::ground("rose", "Rose ground").used_in(["Torchon", "Bucks Point"]);
    /// assert_eq!(about.laces, ["Torchon", "Bucks Point"]);
    /// ```
    #[must_use]
    pub fn used_in<const N: usize>(mut self, laces: [&str; N]) -> About {
        self.laces.extend(laces.map(str::to_owned));
        self
    }

    /// The usual angle in degrees between the footside and the diagonal lines of
    /// pins; 45 if not set.
    ///
    /// ```
    /// let about = pairwise_sdk::About::ground("point", "Point ground").angle(60.0);
    /// assert_eq!(about.angle, 60.0);
    /// ```
    #[must_use]
    pub fn angle(mut self, degrees: f64) -> About {
        self.angle = degrees;
        self
    }

    /// The usual distance in millimetres between two footside pins, 0.5 to 100. It is
    /// drawn so unless the lacemaker asks for another; without it, as torchon at 4.
    ///
    /// ```
    /// let about = pairwise_sdk::About::ground("point", "Point ground").pin_spacing(1.75);
    /// assert_eq!(about.pin_spacing, Some(1.75));
    /// ```
    #[must_use]
    pub fn pin_spacing(mut self, mm: f64) -> About {
        self.pin_spacing = Some(mm);
        self
    }

    /// Notes for the lacemaker: how it is worked, how it looks.
    ///
    /// ```
    /// let about = pairwise_sdk::About::ground("torchon", "Torchon ground").notes("A stitch at every dot.");
    /// assert_eq!(about.notes, "A stitch at every dot.");
    /// ```
    #[must_use]
    pub fn notes(mut self, notes: &str) -> About {
        notes.clone_into(&mut self.notes);
        self
    }

    /// Where the stitch order comes from: a book and page, or
    /// `common practice, from memory`. Varieties added later inherit it.
    ///
    /// ```
    /// use pairwise_sdk::{About, Variety};
    ///
    /// let about = About::ground("torchon", "Torchon ground")
    ///     .source("common practice, from memory")
    ///     .variety(Variety::new("plain", "Torchon ground"));
    /// assert_eq!(about.varieties[0].source, "common practice, from memory");
    /// ```
    #[must_use]
    pub fn source(mut self, source: &str) -> About {
        source.clone_into(&mut self.source);
        self
    }

    /// Adds a choice among named options. Each has an id, a title and a value, which
    /// [`crate::Settings::pick`] returns. The first option is the default.
    ///
    /// ```
    /// use pairwise_sdk::{About, Settings, Value};
    ///
    /// const STITCHES: [(&str, &str, &str); 2] =
    ///     [("half", "half stitch, pin, half stitch", "CT pin CT"), ("open", "half stitch, pin", "CT pin")];
    /// let about = About::ground("torchon", "Torchon ground")
    ///     .choose("stitch", "Stitch at every pin", &STITCHES);
    /// assert_eq!(about.choices[0].default, Value::Named("half".to_owned()));
    /// assert_eq!(Settings::defaults(&about).pick("stitch", &STITCHES), Ok(&"CT pin CT"));
    /// ```
    #[must_use]
    pub fn choose<T>(mut self, id: &str, title: &str, options: &[(&str, &str, T)]) -> About {
        let default = options.first().map_or("", |(id, ..)| *id);
        self.choices.push(Choice {
            id: id.to_owned(),
            title: title.to_owned(),
            default: Value::Named(default.to_owned()),
            range: Range::Named(
                options
                    .iter()
                    .map(|(id, title, _)| OptionOf { id: (*id).to_owned(), title: (*title).to_owned() })
                    .collect(),
            ),
        });
        self
    }

    /// Adds a choice of a whole number in a range, with its default. The range may
    /// hold 10,000 numbers at most; a contribution with more is refused.
    ///
    /// ```
    /// use pairwise_sdk::{About, Range};
    ///
    /// let about = About::ground("torchon", "Torchon ground")
    ///     .choose_count("twists", "Extra twists", 0..=3, 1);
    /// assert_eq!(about.choices[0].range, Range::Count((0, 3)));
    /// ```
    #[must_use]
    pub fn choose_count(mut self, id: &str, title: &str, range: RangeInclusive<i32>, default: i32) -> About {
        self.choices.push(Choice {
            id: id.to_owned(),
            title: title.to_owned(),
            range: Range::Count(range.into_inner()),
            default: Value::Count(default),
        });
        self
    }

    /// Adds a named variety; the first is the usual one. A variety without a source
    /// inherits that of the whole.
    ///
    /// ```
    /// use pairwise_sdk::{About, Variety};
    ///
    /// let about = About::ground("torchon", "Torchon ground")
    ///     .variety(Variety::new("plain", "Torchon ground"))
    ///     .variety(Variety::new("double", "Double torchon ground").source("a book, page 7"));
    /// assert_eq!(about.varieties[1].source, "a book, page 7");
    /// ```
    #[must_use]
    pub fn variety(mut self, mut variety: Variety) -> About {
        if variety.source.is_empty() {
            variety.source.clone_from(&self.source);
        }
        self.varieties.push(variety);
        self
    }
}

impl Variety {
    /// A variety from its id (a plain word) and title, every choice at its
    /// default.
    ///
    /// ```
    /// let variety = pairwise_sdk::Variety::new("plain", "Torchon ground");
    /// assert!(variety.settings.is_empty());
    /// ```
    pub fn new(id: &str, title: &str) -> Variety {
        Variety {
            id: id.to_owned(),
            title: title.to_owned(),
            other_names: Vec::new(),
            settings: Vec::new(),
            notes: String::new(),
            source: String::new(),
        }
    }

    /// Sets a choice: the id of an option, or a number.
    ///
    /// ```
    /// use pairwise_sdk::{Value, Variety};
    ///
    /// let variety = Variety::new("firm", "Firm ground").set("stitch", "double").set("twists", 2);
    /// assert_eq!(variety.settings[1].value, Value::Count(2));
    /// ```
    #[must_use]
    pub fn set(mut self, choice: &str, value: impl Into<Value>) -> Variety {
        self.settings.push(Setting { choice: choice.to_owned(), value: value.into() });
        self
    }

    /// Adds a trade name: language as a BCP 47 tag, name, and the source of the name.
    ///
    /// ```
    /// let variety = pairwise_sdk::Variety::new("twisted", "Torchon ground with a twist")
    ///     .also_called("fr", "fond de Dieppe", "common practice");
    /// assert_eq!(variety.other_names[0].language, "fr");
    /// ```
    #[must_use]
    pub fn also_called(mut self, language: &str, name: &str, source: &str) -> Variety {
        self.other_names.push(other_name(language, name, source));
        self
    }

    /// Notes on what is special about it: how it looks, what its colours do.
    ///
    /// ```
    /// let variety = pairwise_sdk::Variety::new("double", "Double ground").notes("Colours stay in their columns.");
    /// assert_eq!(variety.notes, "Colours stay in their columns.");
    /// ```
    #[must_use]
    pub fn notes(mut self, notes: &str) -> Variety {
        notes.clone_into(&mut self.notes);
        self
    }

    /// Where its stitch order comes from.
    ///
    /// ```
    /// let variety = pairwise_sdk::Variety::new("mine", "My ground").source("made up");
    /// assert_eq!(variety.source, "made up");
    /// ```
    #[must_use]
    pub fn source(mut self, source: &str) -> Variety {
        source.clone_into(&mut self.source);
        self
    }
}

/// The option with this id.
///
/// ```
/// assert_eq!(pairwise_sdk::Value::from("half"), pairwise_sdk::Value::Named("half".to_owned()));
/// ```
impl From<&str> for Value {
    fn from(option: &str) -> Value {
        Value::Named(option.to_owned())
    }
}

/// This number.
///
/// ```
/// assert_eq!(pairwise_sdk::Value::from(2), pairwise_sdk::Value::Count(2));
/// ```
impl From<i32> for Value {
    fn from(count: i32) -> Value {
        Value::Count(count)
    }
}

fn other_name(language: &str, name: &str, source: &str) -> OtherName {
    OtherName { language: language.to_owned(), name: name.to_owned(), source: source.to_owned() }
}
