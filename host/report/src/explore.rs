//! `pairwise-explore/2`: what the pages of a gallery work on that recolour and
//! compare.

use schemars::JsonSchema;
use serde::Serialize;

use crate::grounds::{ColoursGo, Kind};

/// Name and number of the format.
pub const FORMAT: &str = "pairwise-explore/2";

/// Every variety with its facts and names, the colours, and how to begin.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[schemars(title = FORMAT)]
pub struct Explore {
    /// Name and number of the format.
    #[schemars(extend("const" = FORMAT))]
    pub format: &'static str,
    /// Colours of the letters from A on.
    pub colours: Vec<Swatch>,
    /// How many of them the gallery was made with.
    pub given: usize,
    /// The arrangement of colours to begin with, such as `A A B B`.
    pub arrangement: String,
    /// How many pairs an arrangement may have to be chosen from a list.
    pub most_pairs: usize,
    /// How many pairs it may have at most.
    pub longest: usize,
    /// Within how many rows of repeats colours are looked for that repeat straight down.
    pub most_rows: usize,
    /// Arrangements that are one click away.
    pub ready: Vec<Ready>,
    /// Who sees the colours to begin with; empty: they are painted as they are.
    pub seen_by: String,
    /// Ways to see colours.
    pub sights: Vec<Sight>,
    /// Colour of threads that are not followed, `#rrggbb`.
    pub grey: String,
    /// Width and height of a small picture, pixels.
    pub small_px: u32,
    /// Width and height of a large picture, pixels.
    pub large_px: u32,
    /// Cloths behind the threads, the usual one first, `#rrggbb`.
    pub backdrops: Vec<String>,
    /// Contrast ratio from which a thread stands out on a cloth.
    pub stands_out: f64,
    /// Width and height of the lace in a small picture, mm: the usual ones, then wider ones.
    pub windows: Vec<f64>,
    /// Width and height of the lace that was asked for in all small pictures, mm; null: a whole
    /// repeat of each.
    pub window: Option<f64>,
    /// Width and height of the lace in a large picture, mm, unless it shows more.
    pub large_mm: f64,
    /// Distance of two footside pins, mm; where each variety has its own, the widest.
    pub pin_spacing_mm: f64,
    /// Whether each variety is drawn at its own usual distance of two footside pins.
    pub usual_pin_spacings: bool,
    /// Kinds of pattern, in the order in which they are listed.
    pub patterns: Vec<PatternName>,
    /// By what kinds of pattern are told apart.
    pub bounds: PatternBounds,
    /// The class, if the gallery was made for one.
    pub class: Option<Class>,
    /// The varieties.
    pub varieties: Vec<Variety>,
}

/// Bounds by which kinds of pattern are told apart, as in `compare::pattern` of the program.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct PatternBounds {
    /// A colour that makes up more than this is the ground on which others are seen.
    pub commonest: f64,
    /// How far the eye blends what it sees, in grid steps: close by, to ask whether anything
    /// stands out, and from farther away.
    pub blends: [f64; 3],
    /// A strongest direction fainter than this is an even mix: its strength, times that of all
    /// differences of colours relative to those of the ground.
    pub faint: f64,
    /// A share of all differences in one direction that is stripes in any case.
    pub striped: f64,
    /// How closely the colour of spots keeps to where the lace is dense, at least.
    pub dense: f64,
    /// How much of all differences is left from farther away, at least, for large patches.
    pub coarse: f64,
    /// Least skewness of large patches that are spots.
    pub skewed: f64,
    /// How far stripes down the lace swing at least, as a phase, for zigzags.
    pub swings: f64,
    /// The same, of how much their strength changes.
    pub steady: f64,
    /// Least share of all differences that these stripes are.
    pub swinging: f64,
    /// How much stronger than its mirror image a slant is that is preferred.
    pub lone: f64,
    /// Its least strength, of stripes down or across.
    pub slant: f64,
    /// How much stronger stripes are than other directions, and than the mirror image.
    pub stronger: [f64; 2],
    /// For zigzags, the least strength of the direction down and of the weaker slant, of the
    /// stronger slant, and the greatest one across, of the weaker slant.
    pub zigzags: [f64; 3],
    /// The share of the direction down from farther away that is columns, unless a slant is
    /// preferred.
    pub upright: f64,
    /// For columns, how much of all differences is left from farther away, at least.
    pub columns: f64,
    /// Most places looked at.
    pub places: usize,
    /// How many times as high as wide the area looked at is at most.
    pub tallest: usize,
}

impl From<compare::pattern::Bounds> for PatternBounds {
    fn from(bounds: compare::pattern::Bounds) -> PatternBounds {
        PatternBounds {
            commonest: bounds.commonest,
            blends: bounds.blends,
            faint: bounds.faint,
            striped: bounds.striped,
            dense: bounds.dense,
            coarse: bounds.coarse,
            skewed: bounds.skewed,
            swings: bounds.swings,
            steady: bounds.steady,
            swinging: bounds.swinging,
            lone: bounds.lone,
            slant: bounds.slant,
            stronger: bounds.stronger,
            zigzags: bounds.zigzags,
            upright: bounds.upright,
            columns: bounds.columns,
            places: bounds.places,
            tallest: bounds.tallest,
        }
    }
}

/// A kind of pattern.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PatternName {
    /// Its word on the command line.
    pub id: String,
    /// The same as a person says it.
    pub words: String,
}

/// A colour.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Swatch {
    /// Its letter.
    pub letter: char,
    /// Its name.
    pub name: String,
    /// The colour, `#rrggbb`.
    pub rgb: String,
}

/// An arrangement of colours that has a name.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Ready {
    /// Its name in words.
    pub name: String,
    /// The arrangement.
    pub arrangement: String,
}

/// A way to see colours.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Sight {
    /// Its word on the command line.
    pub id: String,
    /// The same as a person says it.
    pub words: String,
    /// What becomes of red, green and blue light (linear, 0 to 1): a row for each of the three.
    pub matrix: [[f64; 3]; 3],
}

/// A variety.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Variety {
    /// As users name it, GROUND/VARIETY.
    pub name: String,
    /// Its page and place on it, from the folder of the gallery.
    pub page: String,
    /// What the lacemaker reads.
    pub title: String,
    /// Title of its ground.
    pub ground: String,
    /// Ground or filling.
    pub kind: Kind,
    /// The family in which it is listed, a plain word.
    pub family: String,
    /// The family as a person reads it.
    pub family_title: String,
    /// Laces in which it is used.
    pub laces: Vec<String>,
    /// What the threads do, and so the colours that hang on them.
    pub goes: ColoursGo,
    /// The same in a sentence.
    pub travel: String,
    /// Distance of two footside pins at which it is drawn, mm.
    pub pin_spacing_mm: f64,
    /// Width and height of the lace that its working diagram shows, mm.
    pub diagram_mm: f64,
    /// Pairs that hang across one upright repeat.
    pub pairs: usize,
    /// Pins in a repeat.
    pub pins: usize,
    /// How many different stitches there are to remember.
    pub works: usize,
    /// Pairs per cm of width.
    pub pairs_per_cm: f64,
    /// Pins per square cm.
    pub pins_per_cm2: f64,
    /// Moves of the hands per square cm.
    pub moves_per_cm2: f64,
    /// Share of the small picture in which no thread lies, per cent.
    pub open: f64,
    /// What is seen at each place of a repeat, by which kinds of pattern are told apart.
    pub softened: Softened,
    /// Width and height of the lace in its small picture, mm.
    pub small_mm: f64,
    /// Width and height of the lace in its large picture, mm.
    pub large_mm: f64,
    /// What repeats.
    pub repeat: Repeat,
    /// All its names.
    pub names: Vec<String>,
    /// The same in small letters without accents.
    pub folded: Vec<String>,
    /// The facts that are laid side by side.
    pub facts: Vec<Fact>,
}

/// One repeat as the eye takes it in.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Softened {
    /// Places across a repeat and down a row of repeats.
    pub size: [usize; 2],
    /// Width and height of a place, in grid steps down the lace.
    pub place: [f64; 2],
    /// How far each row of repeats lies to the right of the row above, in places.
    pub shift: f64,
    /// For the thread in each slot at the top of a row of repeats, its slot at the top of the row
    /// above.
    pub row: Vec<i64>,
    /// The threads seen at each place: packed, compressed (RFC 1951), in base64 (RFC 4648).
    pub places: String,
}

/// The repeat of a variety, as far as the colours of its threads go.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Repeat {
    /// Its width, mm.
    pub width_mm: f64,
    /// Height of a row of repeats, mm.
    pub row_mm: f64,
    /// For each thread of a repeat below a row, from the left, the place from which it came
    /// above the row; 0 is the place of the first.
    pub row: Vec<i64>,
    /// After how many rows a repeat lies straight below another.
    pub every: i64,
    /// How many repeats to the left it is then.
    pub back: i64,
}

/// A class: what a recipe says that is not a colour of the page.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Class {
    /// Its title.
    pub title: String,
    /// A line about the class; may be empty.
    pub class: String,
    /// Words for the cover; may be empty.
    pub notes: String,
    /// The paper.
    pub paper: String,
    /// Distance of two footside pins, mm; null: the usual one of each ground.
    pub pin_spacing_mm: Option<f64>,
    /// The thread as it is written, if it is.
    pub thread: Option<String>,
    /// Colours of the letters from A on.
    pub colours: Vec<Swatch>,
    /// Its grounds that are in the gallery.
    pub grounds: Vec<ClassGround>,
}

/// A ground of a class.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct ClassGround {
    /// GROUND/VARIETY.
    pub name: String,
    /// How its colours hang.
    pub arrangement: String,
    /// Distance of two footside pins, mm; null: as in the class.
    pub pin_spacing_mm: Option<f64>,
    /// The area of its pricking, such as `40x60`.
    pub area: String,
    /// The teacher's notes; may be empty.
    pub notes: String,
}

/// What a fact is called, and what it says.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Fact(pub String, pub String);

/// What is only wanted large: `data/GROUND/VARIETY.js`, behind
/// `pairwise.large["GROUND/VARIETY"] = `.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Large {
    /// The picture as a stencil: packed, compressed (RFC 1951), in base64 (RFC 4648).
    pub picture: String,
    /// Where each pair goes that hangs in the picture, in words.
    pub ways: Vec<String>,
}
