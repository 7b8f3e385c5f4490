//! Which colours hang where: the pairs that an entry means, and the colour of every
//! thread of a piece.

use lace::{PairName, Piece, Side};

/// Colours hung at a place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Hung {
    /// The pairs meant.
    pub whose: Whose,
    /// The colours of the left and of the right thread, by their position in the palette.
    pub colours: [usize; 2],
}

/// The pairs that an entry means.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Whose {
    /// All of them.
    All,
    /// The two at the first pin of a pointed start.
    Start,
    /// Those along a straight start.
    Top,
    /// Those hung down a side.
    Side(Side),
    /// The passive pairs of the footsides.
    Passive,
    /// The edge pairs of the footsides.
    Edge,
    /// One pair.
    Pair(PairName),
}

impl Whose {
    /// The places that can be named, besides single pairs.
    pub(crate) const PLACES: [(&'static str, Whose); 7] = [
        ("all", Whose::All),
        ("start", Whose::Start),
        ("top", Whose::Top),
        ("left", Whose::Side(Side::Left)),
        ("right", Whose::Side(Side::Right)),
        ("passive", Whose::Passive),
        ("edge", Whose::Edge),
    ];

    /// Whether it means a pair.
    pub fn means(self, name: PairName) -> bool {
        match self {
            Whose::All => true,
            Whose::Start => matches!(name, PairName::Start(_)),
            Whose::Top => matches!(name, PairName::Top(_)),
            Whose::Side(side) => matches!(name, PairName::Side(of, _) if of == side),
            Whose::Passive => matches!(name, PairName::Passive(..)),
            Whose::Edge => matches!(name, PairName::Edge(_)),
            Whose::Pair(one) => one == name,
        }
    }

    /// The more it says, the later it is heeded.
    fn rank(self) -> usize {
        match self {
            Whose::All => 0,
            Whose::Pair(_) => 2,
            _ => 1,
        }
    }
}

/// The colours of the left and the right thread of every pair: what is said of the pair
/// itself, or else of its place, or else of all.
pub(crate) fn of_pairs(hung: &[Hung], piece: &Piece) -> Vec<[usize; 2]> {
    let of = |name: PairName| {
        let meant = hung.iter().filter(|hung| hung.whose.means(name));
        meant.max_by_key(|hung| hung.whose.rank()).map_or([0; 2], |hung| hung.colours)
    };
    piece.pairs().iter().map(|pair| of(pair.name)).collect()
}
