//! `pairwise-trace/1`: where every pair goes, row by row.

use compare::trace::Traced;
use schemars::JsonSchema;
use serde::Serialize;

use crate::pattern::{Pattern, Period};
use crate::repeat::Side;
use crate::rounded::rounded;

/// Name and number of the format.
pub const FORMAT: &str = "pairwise-trace/1";

/// Where every pair goes, row by row.
///
/// Places are counted from 0 at the left along the pairs as they lie on the
/// pillow; along the threads, where a stitch parts the two threads of a pair.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[schemars(title = FORMAT)]
pub struct Trace {
    /// Name and number of the format.
    #[schemars(extend("const" = FORMAT))]
    pub format: &'static str,
    /// Id of the ground.
    pub ground: String,
    /// Id of the variety.
    pub variety: String,
    /// How the colours hang, a letter for every pair, such as `A A B B`.
    pub arrangement: String,
    /// Names of the colours of the letters A, B and so on.
    pub colours: Vec<String>,
    /// The colours that hang in each place, left and right thread: 0 for A, 1 for B and so on.
    pub hung: Vec<[u8; 2]>,
    /// Whether single threads are followed, because a stitch parts the threads of a pair.
    pub by_threads: bool,
    /// How many pairs, or threads, are followed.
    pub places: usize,
    /// Whether it is worked between two footsides. Else the width is endless, and the place just
    /// beyond the last is the first of the next time the colours hang.
    pub footsides: bool,
    /// For every row of repeats from 0, the place of each pair (thread) by the place in which it
    /// began. On an endless width places go on beyond both sides.
    pub rows: Vec<Vec<i64>>,
    /// When each is back. Between two footsides, the first row after which it is where it began.
    /// On an endless width, the row after which its places come again as from row 0; a place
    /// that looks the same counts as the same. Null: not within as many rows as are looked at
    /// (256).
    pub returns: Vec<Option<usize>>,
    /// The edge stitches in which each takes part.
    pub visits: Vec<Vec<EdgeVisit>>,
    /// Where each colour goes, in words.
    pub sentences: Vec<String>,
    /// What pattern the colours make on an endless width.
    pub pattern: Pattern,
    /// How clear it is, from 0 to 1.
    pub clearness: f64,
    /// After how much lace they come again.
    pub period: Period,
}

/// A pair at a footside.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct EdgeVisit {
    /// Row of repeats, from 1, in which the edge stitch is worked.
    pub row: usize,
    /// At which footside.
    pub side: Side,
    /// Which edge stitch of that side it is, from 1.
    pub number: usize,
}

impl From<&Traced> for Trace {
    fn from(traced: &Traced) -> Trace {
        let (request, trace) = (&traced.request, &traced.trace);
        let ground = &request.chosen.ground;
        let visit = |v: &lace::EdgeVisit| EdgeVisit { row: v.row, side: v.side.into(), number: v.number };
        Trace {
            format: FORMAT,
            ground: request.chosen.about().id.clone(),
            variety: request.chosen.variety.clone(),
            arrangement: request.arrangement.to_string(),
            colours: request.palette.names(),
            hung: traced.hung.clone(),
            by_threads: trace.by_threads,
            places: trace.places,
            footsides: trace.footsides,
            rows: trace.rows.clone(),
            returns: trace.returns.clone(),
            visits: trace.visits.iter().map(|all| all.iter().map(visit).collect()).collect(),
            sentences: traced.sentences.clone(),
            pattern: traced.seen.pattern.into(),
            clearness: rounded(traced.seen.clearness),
            period: ground.colour_period(&request.arrangement).into(),
        }
    }
}
