//! A piece: what lies on the pillow, from the first pin to the last. A [`Plan`] says
//! what it is made of; [`Piece::new`] fills the outline with stitches, joins the pairs
//! of neighbouring areas, and finds an order of working.
//!
//! Places are in grid steps from the first pin, `x` to the right, `y` down. The first
//! pin is that of a pointed start, or the left one of a straight start.

mod closed;
mod clothwork;
mod fill;
mod finding;
mod join;
mod laid;
mod order;
mod patch;
mod plan;
mod region;
mod steer;
mod threads;

use crate::lattice::point::Point;
use crate::repeat::{End, Side};
use crate::stitch::Stitch;

pub use clothwork::Cloth;
pub use finding::{PieceCode, PieceFinding};
pub use plan::{Change, Edge, Filling, Footside, Plan, PlanArea, PlanGround, Shape};
pub use region::{Outline, Tip};
pub use steer::{PieceWish, Steered};
pub use threads::PieceThread;

/// Fewest and most pins across a piece.
pub const PIECE_WIDTH: [usize; 2] = [2, 60];
/// Most rows of a piece.
pub const MAX_PIECE_ROWS: usize = 400;

/// A piece without faults: every stitch has two pairs in and two out, and can be worked
/// in its turn. [`Piece::new`] is the only constructor.
#[derive(Clone, Debug)]
pub struct Piece {
    outline: Outline,
    stitches: Vec<PieceStitch>,
    pairs: Vec<PiecePair>,
    legs: Vec<PieceLeg>,
    /// The leg at each entry and each exit, by [`End::dart`].
    into: Vec<usize>,
    out: Vec<usize>,
    warnings: Vec<PieceFinding>,
}

/// A stitch of a piece.
#[derive(Clone, Debug, PartialEq)]
pub struct PieceStitch {
    /// Where it is worked.
    pub at: Point,
    /// What is worked.
    pub stitch: Stitch,
    /// Its area, by the position in the plan; `None` is the ground of the piece.
    pub area: Option<usize>,
    /// Its part in the edge, if it has one.
    pub edge: Option<EdgePart>,
}

/// The part of a stitch in an edge.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct EdgePart {
    /// The edge.
    pub side: Side,
    /// What it is there.
    pub kind: EdgeKind,
}

/// What a stitch is in an edge.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum EdgeKind {
    /// A stitch of the ground at an edge pin.
    Ground,
    /// A stitch with a passive pair of a footside.
    Passive,
    /// The stitch with the edge pair of a footside.
    Footside,
}

/// A pair of a piece.
#[derive(Clone, Debug, PartialEq)]
pub struct PiecePair {
    /// Which pair it is.
    pub name: PairName,
    /// Where it is hung.
    pub at: Point,
}

/// Which pair of a piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum PairName {
    /// One of the two at the first pin of a pointed start.
    Start(Side),
    /// One of those along a straight start, from 1 at the left.
    Top(usize),
    /// One of those hung at a side, from 1 at the top.
    Side(Side, usize),
    /// A passive pair of a footside, from 1 at the inside.
    Passive(Side, usize),
    /// The edge pair of a footside.
    Edge(Side),
}

impl std::fmt::Display for PairName {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            PairName::Start(side) => write!(f, "start {}", side.word()),
            PairName::Top(k) => write!(f, "top {k}"),
            PairName::Side(side, k) => write!(f, "{} {k}", side.word()),
            PairName::Passive(side, k) => write!(f, "passive {} {k}", side.word()),
            PairName::Edge(side) => write!(f, "edge {}", side.word()),
        }
    }
}

/// A pair on its way from where it is hung, or from a stitch, to the next stitch or to
/// its end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PieceLeg {
    /// Where it comes from.
    pub from: LegFrom,
    /// Where it goes.
    pub to: LegTo,
    /// Extra twists on the way.
    pub twists: u32,
}

/// Where a pair comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LegFrom {
    /// It is hung: its position among the pairs.
    Pair(usize),
    /// It leaves a stitch; the position is that in the order of working.
    Stitch(End),
}

/// Where a pair goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LegTo {
    /// To a stitch.
    Stitch(End),
    /// Nowhere: it ends.
    Ends(Ending),
}

/// How a pair ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ending {
    /// It is laid aside at an edge pin of a pointed finish.
    LaidAside,
    /// It hangs on below a straight finish, for a tassel or a plait.
    HangsOn,
}

impl Ending {
    /// `laid aside` or `hangs on`.
    pub const fn word(self) -> &'static str {
        match self {
            Ending::LaidAside => "laid aside",
            Ending::HangsOn => "hangs on",
        }
    }
}

impl Piece {
    /// Works out a plan.
    ///
    /// # Errors
    /// All findings, warnings too, when at least one is an error.
    pub fn new(plan: &Plan<'_>) -> Result<Piece, Vec<PieceFinding>> {
        let mut findings = Vec::new();
        let filled = fill::fill(plan, &mut findings);
        let Some(joined) = filled.and_then(|filled| join::join(plan, filled, &mut findings)) else {
            return Err(findings);
        };
        let Some(piece) = order::in_order(plan.outline, joined, &mut findings) else {
            return Err(findings);
        };
        piece.look_for_faults(plan, &mut findings);
        if findings.iter().any(|finding| finding.code.severity() == crate::Severity::Error) {
            return Err(findings);
        }
        Ok(Piece { warnings: findings, ..piece })
    }

    fn look_for_faults(&self, plan: &Plan<'_>, findings: &mut Vec<PieceFinding>) {
        if let Some(most) = plan.most_pairs.filter(|&most| self.pairs.len() > most) {
            findings.push(PieceFinding::new(
                PieceCode::TooManyPairs,
                format!("the piece takes {} pairs, but it may have {most} at most", self.pairs.len()),
                "make it narrower, or allow more pairs",
            ));
        }
        if let Some(stitch) = self.not_side_by_side() {
            let at = self.stitches[stitch].at;
            findings.push(
                PieceFinding::new(
                    PieceCode::PairsCross,
                    format!("the two pairs of the stitch at {}, {} do not lie side by side", at.x, at.y),
                    "make the piece one pin wider or narrower, or longer or shorter, so that its edge meets the ground elsewhere",
                )
                .at(at)
                .of([self.stitches[stitch].area]),
            );
        }
        let mut pinned = vec![false; self.pairs.len()];
        for thread in self.threads() {
            pinned[thread.pair] |= thread.stitches.iter().any(|&s| self.stitches[s].stitch.pin().is_some());
        }
        let passive = |name: PairName| matches!(name, PairName::Passive(..));
        for (pair, _) in self.pairs.iter().zip(pinned).filter(|(pair, pinned)| !pinned && !passive(pair.name))
        {
            findings.push(
                PieceFinding::new(
                    PieceCode::NeverPinned,
                    format!("the pair {} never comes to a pin", pair.name),
                    "give one of the stitches it meets a pin",
                )
                .at(pair.at),
            );
        }
    }

    /// The first stitch whose pairs do not lie side by side, worked in order with pairs
    /// that hang in a line. A pair is hung beside the one it meets; those of a straight
    /// start hang from the beginning.
    fn not_side_by_side(&self) -> Option<usize> {
        let top = |&pair: &usize| matches!(self.pairs[pair].name, PairName::Top(_));
        let mut line: Vec<usize> = (0..self.pairs.len()).filter(top).collect();
        line.sort_by_key(|&pair| self.pairs[pair].name);
        for stitch in 0..self.stitches.len() {
            let [left, right] = Side::BOTH.map(|side| self.leg_to(End::new(stitch, side)));
            let hung = |leg: usize| matches!(self.legs[leg].from, LegFrom::Pair(_));
            let [in_left, in_right] = [left, right].map(|leg| line.iter().position(|&one| one == leg));
            let at = match (in_left, in_right) {
                (Some(at), Some(next)) if next == at + 1 => at,
                (Some(at), None) if hung(right) => {
                    line.insert(at + 1, right);
                    at
                }
                (None, Some(at)) if hung(left) => {
                    line.insert(at, left);
                    at
                }
                (None, None) if hung(left) && hung(right) => {
                    // Outside of all others, on the side where they are hung.
                    let on_right = self.stitches[stitch].at.x > self.outline.middle();
                    let at = if on_right { line.len() } else { 0 };
                    line.splice(at..at, [left, right]);
                    at
                }
                _ => return Some(stitch),
            };
            for (k, side) in Side::BOTH.into_iter().enumerate() {
                line[at + k] = self.leg_from(End::new(stitch, side));
            }
        }
        None
    }

    /// The outline.
    pub fn outline(&self) -> Outline {
        self.outline
    }

    /// The stitches in the order of working: each comes after those from which its two
    /// pairs come.
    pub fn stitches(&self) -> &[PieceStitch] {
        &self.stitches
    }

    /// The pairs in the order in which they are hung.
    pub fn pairs(&self) -> &[PiecePair] {
        &self.pairs
    }

    /// The legs: those of the pairs from where they are hung, in their order, then those
    /// that leave the stitches, in the order of working, the left one of each first.
    pub fn legs(&self) -> &[PieceLeg] {
        &self.legs
    }

    /// Position of the leg that arrives at an entry.
    pub fn leg_to(&self, entry: End) -> usize {
        self.into[entry.dart()]
    }

    /// Position of the leg that leaves by an exit.
    pub fn leg_from(&self, exit: End) -> usize {
        self.out[exit.dart()]
    }

    /// How many pins it takes, with those over which pairs are hung.
    pub fn pins(&self) -> usize {
        self.pin_places().len()
    }

    /// Where its pins stand: first those over which pairs are hung where no stitch has a
    /// pin, then those of the stitches in the order of working.
    pub fn pin_places(&self) -> Vec<Point> {
        let pinned: Vec<Point> =
            self.stitches.iter().filter(|s| s.stitch.pin().is_some()).map(|s| s.at).collect();
        let mut all: Vec<Point> = Vec::new();
        for pair in &self.pairs {
            if ![&pinned, &all].iter().any(|pins| pins.contains(&pair.at)) {
                all.push(pair.at);
            }
        }
        all.extend(pinned);
        all
    }

    /// The warnings.
    pub fn warnings(&self) -> &[PieceFinding] {
        &self.warnings
    }
}
#[cfg(test)]
mod tests {
    use super::*;
    use crate::ground::Ground;
    use crate::lattice::point::point;
    use crate::repeat::samples::torchon;

    fn strip(width: usize, sides: usize) -> Outline {
        Outline { start: Tip::Pointed, finish: Tip::Pointed, width, sides }
    }

    // Common practice, no source: one more pair at every edge pin of the point, and as many
    // laid aside below.
    #[test]
    fn a_pointed_strip_takes_two_pairs_a_pin() {
        let ground = Ground::new(torchon("CT pin CT", 0)).unwrap();
        let plan = Plan {
            outline: strip(4, 3),
            ground: PlanGround { ground: &ground, anchor: 0 },
            areas: Vec::new(),
            edge: Edge::default(),
            first: None,
            changes: Vec::new(),
            most_pairs: None,
        };
        let piece = Piece::new(&plan).unwrap();
        // Rows of 1 to 4 pins, then of 3 and of 4 in turn, then of 3 to 1.
        assert_eq!((piece.pairs().len(), piece.pins()), (8, 37));
        assert_eq!(piece.stitches()[0].at, point(0.0, 0.0));
        let mut ends = piece.legs().iter().filter(|leg| leg.to == LegTo::Ends(Ending::LaidAside));
        assert_eq!(ends.by_ref().count(), 8);
    }

    // Common practice, no source: with half stitches in the ground the pairs of the start
    // run down the edges from the first straight pin if half stitch is worked there, and
    // with cloth stitch and twist there they go back in.
    #[test]
    fn one_stitch_at_each_edge_pin_sends_a_pair_down_the_edge() {
        let ground = Ground::new(torchon("CT pin CT", 0)).unwrap();
        let closed: Stitch = "CTCT pin CTCT".parse().unwrap();
        let plan = Plan {
            outline: Outline { finish: Tip::Straight, ..strip(5, 6) },
            ground: PlanGround { ground: &ground, anchor: 0 },
            areas: Vec::new(),
            edge: Edge { stitch: Some(closed.clone()), footside: None },
            first: Some("CTCT".parse().unwrap()),
            changes: Vec::new(),
            most_pairs: None,
        };
        let piece = Piece::new(&plan).unwrap();
        let half: Stitch = "CT pin CT".parse().unwrap();
        let works = [half.clone(), closed];
        let start = piece.pairs().iter().position(|p| p.name == PairName::Start(Side::Left)).unwrap();
        let way = piece.steer(start, PieceWish::DownTheEdge(Side::Left), &works);
        // It comes to the second pin of the side: it cannot run down the whole edge.
        assert_eq!(way.map(|way| way.changes.len()), None);
        let last = piece.pairs().iter().position(|p| p.name == PairName::Side(Side::Left, 4)).unwrap();
        let steered = piece.steer(last, PieceWish::DownTheEdge(Side::Left), &works).unwrap();
        assert_eq!(steered.changes, []);
        let steered = piece.steer(start, PieceWish::EndsAt(Side::Right), &works).unwrap();
        // Tried out: the pair then ends there.
        let changes = steered.changes.iter().map(|(s, stitch)| Change {
            at: Some(piece.stitches()[*s].at),
            stitch: stitch.clone(),
            ..Change::default()
        });
        let changed = Piece::new(&Plan { changes: changes.collect(), ..plan }).unwrap();
        let threads = changed.threads();
        let ends: Vec<usize> = threads.iter().filter(|t| t.pair == start).map(|t| t.end.0).collect();
        assert_eq!(ends[0], ends[1]);
        let LegFrom::Stitch(end) = changed.legs()[ends[0]].from else { panic!("{ends:?}") };
        assert!(changed.stitches()[end.stitch].at.x > 0.0);
    }
}
