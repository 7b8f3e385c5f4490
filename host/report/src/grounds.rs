//! `pairwise-grounds/1`: the catalogue, or what is left of it by filters.

use catalogue::list::{Listing, StitchCount, ThreadCounts};
use indexmap::IndexMap;
use schemars::JsonSchema;
use serde::Serialize;

use crate::measures::Measures;

/// Name and number of the format.
pub const FORMAT: &str = "pairwise-grounds/1";

/// Grounds and fillings with their varieties.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[schemars(title = FORMAT)]
pub struct Grounds {
    /// Name and number of the format.
    #[schemars(extend("const" = FORMAT))]
    pub format: &'static str,
    /// Those that are kept, in the order in which they are listed.
    pub grounds: Vec<Ground>,
}

/// A ground or filling.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Ground {
    /// The plain word by which users name it.
    pub id: String,
    /// What the lacemaker reads.
    pub title: String,
    /// Ground or filling.
    pub kind: Kind,
    /// The family in which it is listed, a plain word.
    pub family: String,
    /// Names of the whole family in the trade.
    pub other_names: Vec<OtherName>,
    /// Laces in which it is used.
    pub laces: Vec<String>,
    /// Angle between the footside and the diagonals of the grid at which it is usually pricked.
    pub angle_degrees: f64,
    /// Usual distance of two footside pins, mm; null: it names none, and is drawn as torchon at 4.
    pub usual_pin_spacing_mm: Option<f64>,
    /// Of a filling: id of the ground in which it is usually set.
    pub sits_in: Option<String>,
    /// What is worth knowing.
    pub notes: String,
    /// Where the order of the stitches comes from.
    pub source: String,
    /// By which of the ground's own names `--search` found it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub found_by: Option<FoundBy>,
    /// Those of its varieties that are kept.
    pub varieties: Vec<Variety>,
    /// The file of its contribution, or that it is built in.
    pub from: String,
}

/// What a contribution is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Kind {
    /// Fills an area of any size.
    Ground,
    /// Is set into a ground.
    Filling,
}

/// Another name that the trade uses.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct OtherName {
    /// Language as a BCP 47 tag.
    pub language: String,
    /// The name.
    pub name: String,
    /// Where it is found.
    pub source: String,
}

/// The name by which a search found something.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct FoundBy {
    /// What kind of name it is, such as `title` or `other name`.
    pub what: String,
    /// The name itself.
    pub name: String,
    /// Its language as a BCP 47 tag, of another name.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub language: Option<String>,
}

/// A variety. Numbers of stitches, pins, pairs and moves are those of one
/// repeat.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Variety {
    /// Its id; users name it GROUND/VARIETY.
    pub id: String,
    /// What the lacemaker reads.
    pub title: String,
    /// Its names in the trade.
    pub other_names: Vec<OtherName>,
    /// What is peculiar to it.
    pub notes: String,
    /// Where the order of its stitches comes from.
    pub source: String,
    /// Every choice with its value.
    pub settings: IndexMap<String, String>,
    /// Stitches.
    pub stitches: usize,
    /// Pins.
    pub pins: usize,
    /// Pairs that hang across one upright repeat.
    pub pairs_across: usize,
    /// Moves of the hands.
    pub moves: Moves,
    /// Where the threads of one upright repeat go in the long run.
    pub threads: Threads,
    /// What the threads do, and so the colours that hang on them.
    pub colours_go: ColoursGo,
    /// The different stitches; how many is what there is to remember.
    pub works: Vec<DistinctStitch>,
    /// Pairs, pins and moves at the pin spacing.
    pub measures: Measures,
    /// By which name `--search` found it, where it did not find the whole ground.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub found_by: Option<FoundBy>,
}

/// Moves of one repeat.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Moves {
    /// Crosses; a cross of two pairs counts once.
    pub crosses: usize,
    /// Twists, in stitches and between them; each pair that twists counts.
    pub pair_twists: usize,
    /// Pins.
    pub pins: usize,
}

/// How many threads of one upright repeat go where.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Threads {
    /// Across the area to the left.
    pub left: usize,
    /// Back to their own columns.
    pub stay: usize,
    /// Across the area to the right.
    pub right: usize,
}

/// What the threads of a variety do.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum ColoursGo {
    /// All travel across the lace, to the left or to the right.
    Travels,
    /// All come back to their own columns.
    Stays,
    /// Some travel, some stay.
    Both,
}

/// A stitch of which there may be several in a repeat.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct DistinctStitch {
    /// What is worked, such as `CT pin CT`: moves in order, and `pin` where the pin is set.
    pub moves: String,
    /// The same in words.
    pub words: String,
    /// How many stitches of the repeat are worked so.
    pub stitches: usize,
}

impl Grounds {
    /// A list of varieties, those of a ground one behind the other.
    pub fn new(listings: &[Listing]) -> Grounds {
        let by_ground = listings.chunk_by(|one, next| one.about().id == next.about().id);
        Grounds { format: FORMAT, grounds: by_ground.map(Ground::new).collect() }
    }
}

impl Ground {
    /// A ground, from some of its varieties.
    ///
    /// # Panics
    /// Without any.
    fn new(varieties: &[Listing]) -> Ground {
        let chosen = &varieties[0].chosen;
        let about = chosen.about();
        Ground {
            id: about.id.clone(),
            title: about.title.clone(),
            kind: about.kind.into(),
            family: about.family.clone(),
            other_names: about.other_names.iter().map(OtherName::from).collect(),
            laces: about.laces.clone(),
            angle_degrees: about.angle,
            usual_pin_spacing_mm: about.pin_spacing_mm,
            sits_in: about.sits_in.clone(),
            notes: about.notes.clone(),
            source: about.source.clone(),
            found_by: varieties.iter().find_map(|listing| found_by(listing, true)),
            varieties: varieties.iter().map(Variety::from).collect(),
            from: chosen.entry.file().to_owned(),
        }
    }
}

impl From<&Listing> for Variety {
    fn from(listing: &Listing) -> Variety {
        let m = &listing.measures;
        let said = listing.variety();
        let stitch = |count: &StitchCount| DistinctStitch {
            moves: count.stitch.to_string(),
            words: listing.chosen.ground.kind_in_words(&count.stitch),
            stitches: count.times,
        };
        Variety {
            id: listing.chosen.variety.clone(),
            title: said.title.clone(),
            other_names: said.other_names.iter().map(OtherName::from).collect(),
            notes: said.notes.clone(),
            source: said.source.clone(),
            settings: listing.chosen.settings_as_typed(),
            stitches: m.stitches_per_repeat,
            pins: m.pins_per_repeat,
            pairs_across: listing.pairs_across(),
            moves: Moves {
                crosses: m.crosses_per_repeat,
                pair_twists: m.pair_twists_in_stitches_per_repeat + m.pair_twists_on_legs_per_repeat,
                pins: m.pins_per_repeat,
            },
            threads: listing.threads.into(),
            colours_go: listing.colours_go().into(),
            works: listing.stitches.iter().map(stitch).collect(),
            measures: m.into(),
            found_by: found_by(listing, false),
        }
    }
}

/// By which name a variety was found: one of its ground, or one of its own.
fn found_by(listing: &Listing, of_ground: bool) -> Option<FoundBy> {
    let found = listing.found.as_ref().filter(|found| found.of_ground == of_ground)?;
    Some(FoundBy { what: found.what.to_owned(), name: found.name.clone(), language: found.language.clone() })
}

impl From<catalogue::Kind> for Kind {
    fn from(kind: catalogue::Kind) -> Kind {
        match kind {
            catalogue::Kind::Ground => Kind::Ground,
            catalogue::Kind::Filling => Kind::Filling,
        }
    }
}

impl From<&catalogue::OtherName> for OtherName {
    fn from(other: &catalogue::OtherName) -> OtherName {
        OtherName { language: other.language.clone(), name: other.name.clone(), source: other.source.clone() }
    }
}

impl From<catalogue::list::ColoursGo> for ColoursGo {
    fn from(go: catalogue::list::ColoursGo) -> ColoursGo {
        match go {
            catalogue::list::ColoursGo::Travels => ColoursGo::Travels,
            catalogue::list::ColoursGo::Stays => ColoursGo::Stays,
            catalogue::list::ColoursGo::Both => ColoursGo::Both,
        }
    }
}

impl From<ThreadCounts> for Threads {
    fn from(threads: ThreadCounts) -> Threads {
        Threads { left: threads.left, stay: threads.stay, right: threads.right }
    }
}
