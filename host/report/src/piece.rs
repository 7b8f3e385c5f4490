//! `pairwise-piece/1`: a piece, its stitches in the order of working, every pair and
//! every thread.

use ::piece::{Located, Worked};
use lace::{LegFrom, LegTo};
use schemars::JsonSchema;
use serde::Serialize;

use crate::finding::Severity;
use crate::repeat::Side;

/// Name and number of the format.
pub const FORMAT: &str = "pairwise-piece/1";

/// A piece: what lies on the pillow, from the first pin to the last.
///
/// Places are in grid steps from the first pin, to the right, then down. A grid step
/// is half the distance of two pins at a straight edge.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[schemars(title = FORMAT)]
pub struct Piece {
    /// Name and number of the format.
    #[schemars(extend("const" = FORMAT))]
    pub format: &'static str,
    /// Its title.
    pub title: String,
    /// The stitches in the order of working. None if the piece cannot be worked; the
    /// findings say why.
    pub stitches: Vec<Stitch>,
    /// The pairs in the order in which they are first worked.
    pub pairs: Vec<Pair>,
    /// The pairs on their way: from where they are hung, then from each stitch.
    pub legs: Vec<Leg>,
    /// Every thread.
    pub threads: Vec<Thread>,
    /// Gimps.
    pub gimps: Vec<Gimp>,
    /// The order of working: the stitches by their numbers.
    pub order: Vec<usize>,
    /// How many there are of everything.
    pub counts: Counts,
    /// The colours that hang anywhere.
    pub palette: Vec<Colour>,
    /// What was found, errors first.
    pub findings: Vec<Finding>,
}

/// A stitch of the piece.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Stitch {
    /// Its number in the order of working, from 1.
    pub id: usize,
    /// Its place.
    pub at: [f64; 2],
    /// What is worked, such as `CT pin CT`: moves in order, and `pin` where the pin is set.
    pub moves: String,
    /// The name of its area. Null: it is the ground of the piece.
    pub area: Option<String>,
}

/// A pair of the piece.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Pair {
    /// Its name, such as `left 3`, `start right`, `top 2`, `edge left` or `passive left 1`.
    pub id: String,
    /// Where it is hung.
    pub at: [f64; 2],
    /// The colours of its left and of its right thread when hung, by their names.
    pub colours: [String; 2],
}

/// A pair on its way.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Leg {
    /// Where it comes from.
    pub from: Origin,
    /// Where it goes.
    pub to: Goal,
    /// Extra twists on the way, each right over left.
    pub twists: u32,
}

/// Where a pair comes from.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[serde(untagged)]
pub enum Origin {
    /// It is hung: the word `pair`, and its name.
    Hung(PairWord, String),
    /// It leaves a stitch: the number of the stitch, and on which side.
    Stitch(usize, Side),
}

/// Where a pair goes.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[serde(untagged)]
pub enum Goal {
    /// It ends: the word `end`, and how.
    Ends(EndWord, Ending),
    /// It enters a stitch: the number of the stitch, and on which side.
    Stitch(usize, Side),
}

/// The word `pair`.
#[derive(Clone, Copy, Debug, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum PairWord {
    /// A pair that is hung.
    Pair,
}

/// The word `end`.
#[derive(Clone, Copy, Debug, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum EndWord {
    /// The end of a pair.
    End,
}

/// How a pair ends.
#[derive(Clone, Copy, Debug, Serialize, JsonSchema)]
pub enum Ending {
    /// It is laid aside at an edge pin of a pointed finish.
    #[serde(rename = "laid aside")]
    LaidAside,
    /// It hangs on below a straight finish, for a tassel or a plait.
    #[serde(rename = "hangs on")]
    HangsOn,
}

/// A thread of the piece.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Thread {
    /// The pair in which it is hung, by its name.
    pub pair: String,
    /// 1 for the left thread of that pair when hung, 2 for the right one.
    #[schemars(range(min = 1, max = 2))]
    pub thread: usize,
    /// The stitches it lies in, by their numbers, from the first to the last.
    pub stitches: Vec<usize>,
}

/// A gimp. None are worked yet.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Gimp {}

/// How many there are of everything.
#[derive(Clone, Copy, Debug, Default, Serialize, JsonSchema)]
pub struct Counts {
    /// Pairs.
    pub pairs: usize,
    /// Pins.
    pub pins: usize,
    /// Stitches.
    pub stitches: usize,
    /// Moves of the hands: those of the stitches, and the extra twists.
    pub moves: usize,
}

/// A colour.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Colour {
    /// Its name.
    pub name: String,
    /// `#rrggbb`.
    pub rgb: String,
}

/// One thing found.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Finding {
    /// What kind of fault, by its word, such as `pairs-do-not-match`.
    pub code: &'static str,
    /// How serious it is.
    pub severity: Severity,
    /// The line of the text that it concerns, counted from 1.
    pub line: usize,
    /// The areas it concerns, by their names; null for the ground of the piece.
    pub areas: Vec<Option<String>>,
    /// Where it lies, in grid steps from the first pin. Null: everywhere.
    pub at: Option<[f64; 2]>,
    /// What exactly, in one sentence.
    pub sentence: String,
    /// Why it matters on the pillow.
    pub why: String,
    /// What to do.
    pub remedy: String,
}

impl Piece {
    /// A piece that has been worked out.
    pub fn new(worked: &Worked) -> Piece {
        let piece = &worked.piece;
        let names: Vec<String> = piece.pairs().iter().map(|pair| pair.name.to_string()).collect();
        let area = |k: usize| worked.design.areas.get(k).map(|area| area.name.clone());
        let colour = |colour: usize| worked.colour(colour).to_owned();
        let stitches = piece.stitches().iter().enumerate().map(|(k, stitch)| Stitch {
            id: k + 1,
            at: stitch.at.into(),
            moves: stitch.stitch.to_string(),
            area: stitch.area.and_then(area),
        });
        let pairs = piece.pairs().iter().zip(&names).zip(&worked.colours).map(|((pair, name), colours)| {
            Pair { id: name.clone(), at: pair.at.into(), colours: colours.map(colour) }
        });
        let legs = piece.legs().iter().map(|leg| Leg {
            from: match leg.from {
                LegFrom::Pair(pair) => Origin::Hung(PairWord::Pair, names[pair].clone()),
                LegFrom::Stitch(end) => Origin::Stitch(end.stitch + 1, end.side.into()),
            },
            to: match leg.to {
                LegTo::Stitch(end) => Goal::Stitch(end.stitch + 1, end.side.into()),
                LegTo::Ends(lace::Ending::LaidAside) => Goal::Ends(EndWord::End, Ending::LaidAside),
                LegTo::Ends(lace::Ending::HangsOn) => Goal::Ends(EndWord::End, Ending::HangsOn),
            },
            twists: leg.twists,
        });
        let threads = piece.threads().into_iter().map(|thread| Thread {
            pair: names[thread.pair].clone(),
            thread: thread.side.index() + 1,
            stitches: thread.stitches.iter().map(|stitch| stitch + 1).collect(),
        });
        let colours = worked.palette.colours().iter().map(|colour| Colour {
            name: colour.name.clone(),
            rgb: format!("#{:02x}{:02x}{:02x}", colour.rgb[0], colour.rgb[1], colour.rgb[2]),
        });
        Piece {
            format: FORMAT,
            title: worked.design.title.clone(),
            stitches: stitches.collect(),
            pairs: pairs.collect(),
            legs: legs.collect(),
            threads: threads.collect(),
            gimps: Vec::new(),
            order: (1..=piece.stitches().len()).collect(),
            counts: Counts {
                pairs: piece.pairs().len(),
                pins: piece.pins(),
                stitches: piece.stitches().len(),
                moves: worked.moves(),
            },
            palette: colours.collect(),
            findings: findings(&worked.warnings),
        }
    }

    /// A piece that cannot be worked: its title, and why.
    pub fn unworkable(title: &str, found: &[Located]) -> Piece {
        Piece {
            format: FORMAT,
            title: title.to_owned(),
            stitches: Vec::new(),
            pairs: Vec::new(),
            legs: Vec::new(),
            threads: Vec::new(),
            gimps: Vec::new(),
            order: Vec::new(),
            counts: Counts::default(),
            palette: Vec::new(),
            findings: findings(found),
        }
    }
}

fn findings(found: &[Located]) -> Vec<Finding> {
    let finding = |one: &Located| {
        let Located { finding, line, areas, .. } = one;
        Finding {
            code: finding.code.word(),
            severity: finding.code.severity().into(),
            line: *line,
            areas: areas.clone(),
            at: finding.at.map(Into::into),
            sentence: finding.sentence.clone(),
            why: finding.code.why().to_owned(),
            remedy: finding.remedy.clone(),
        }
    };
    let mut found: Vec<&Located> = found.iter().collect();
    found.sort_by_key(|one| !one.is_error());
    found.into_iter().map(finding).collect()
}
