//! What can be wrong with the plan of a piece, in a lacemaker's words.

use crate::check::findings::Severity;
use crate::lattice::point::Point;

/// The kind of fault.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum PieceCode {
    /// The outline is too small or too large.
    BadOutline,
    /// An area lies partly or wholly outside the outline.
    AreaSticksOut,
    /// Two areas lie over each other.
    AreasOverlap,
    /// Not as many pairs come to a boundary as are wanted behind it.
    PairsDoNotMatch,
    /// Some stitches wait for each other in a circle.
    NoOrder,
    /// Pairs of a stitch do not lie side by side.
    PairsCross,
    /// There are more pairs than the piece may have.
    TooManyPairs,
    /// A stitch is to be changed where there is none.
    NoStitchThere,
    /// A pair is never held by a pin.
    NeverPinned,
}

impl PieceCode {
    /// Every code, errors first.
    pub const ALL: [PieceCode; 9] = [
        PieceCode::BadOutline,
        PieceCode::AreaSticksOut,
        PieceCode::AreasOverlap,
        PieceCode::PairsDoNotMatch,
        PieceCode::NoOrder,
        PieceCode::PairsCross,
        PieceCode::TooManyPairs,
        PieceCode::NoStitchThere,
        PieceCode::NeverPinned,
    ];

    /// Its word.
    pub const fn word(self) -> &'static str {
        match self {
            PieceCode::BadOutline => "bad-outline",
            PieceCode::AreaSticksOut => "area-sticks-out",
            PieceCode::AreasOverlap => "areas-overlap",
            PieceCode::PairsDoNotMatch => "pairs-do-not-match",
            PieceCode::NoOrder => "no-order",
            PieceCode::PairsCross => "pairs-cross",
            PieceCode::TooManyPairs => "too-many-pairs",
            PieceCode::NoStitchThere => "no-stitch-there",
            PieceCode::NeverPinned => "never-pinned",
        }
    }

    /// Error or warning.
    pub const fn severity(self) -> Severity {
        match self {
            PieceCode::NeverPinned => Severity::Warning,
            _ => Severity::Error,
        }
    }

    /// Why it matters on the pillow.
    pub const fn why(self) -> &'static str {
        match self {
            PieceCode::BadOutline => "There is nothing to work, or more than a pillow holds.",
            PieceCode::AreaSticksOut => "A unit cut in half has pairs with nowhere to go.",
            PieceCode::AreasOverlap => "Each pin can be worked in one way only.",
            PieceCode::PairsDoNotMatch => {
                "Pairs would be left over at the boundary, or be missing behind it."
            }
            PieceCode::NoOrder => "None of them can be the first to be worked.",
            PieceCode::PairsCross => "A pair would have to be led over others without a stitch.",
            PieceCode::TooManyPairs => "The bobbins have no room on the pillow.",
            PieceCode::NoStitchThere => "The change would not be seen.",
            PieceCode::NeverPinned => "Nothing holds it while the lace is worked; it can slip.",
        }
    }
}

/// A fault of a plan.
#[derive(Clone, Debug, PartialEq)]
pub struct PieceFinding {
    /// Its kind.
    pub code: PieceCode,
    /// The areas it concerns, by their position in the plan; `None` is the ground of the
    /// piece.
    pub areas: Vec<Option<usize>>,
    /// The change it concerns, by its position in the plan.
    pub change: Option<usize>,
    /// Where it lies, in grid steps from the first pin.
    pub at: Option<Point>,
    /// What is wrong.
    pub sentence: String,
    /// What to do.
    pub remedy: String,
}

impl PieceFinding {
    pub(crate) fn new(code: PieceCode, sentence: String, remedy: impl Into<String>) -> PieceFinding {
        PieceFinding { code, areas: Vec::new(), change: None, at: None, sentence, remedy: remedy.into() }
    }

    pub(crate) fn at(mut self, at: Point) -> PieceFinding {
        self.at = Some(at);
        self
    }

    pub(crate) fn of(mut self, areas: impl IntoIterator<Item = Option<usize>>) -> PieceFinding {
        self.areas = areas.into_iter().collect();
        self
    }
}
