//! The kind of pattern that is seen when a ground is worked in an arrangement of
//! colours, and how clear it is.
//!
//! What is looked at is the lace as it is drawn: which threads are seen at each
//! place ([`SoftenedRepeat`]), and so how much of each colour, over the whole area
//! after which colours repeat. That is taken apart into waves, as the eye is taken to
//! do: fine ones count for less, and those of one direction count together. Nothing
//! is asked of the stitches or of where threads lead.
//!
//! *How clear* a pattern is says, to a teacher: 1 is pure stripes or blocks of each
//! colour side by side, and near 0 the colours are nearly mixed. To a programmer: the
//! share of the variance that the named pattern accounts for, times the standard
//! deviation of the colours' shares relative to that of pure colours, each a mean
//! over the colours that make the pattern.
//!
//! The bounds were chosen by pictures that people looked at: see
//! `tests/data/README.md`.

mod area;
mod fourier;
mod sight;
mod softened;
mod waves;

use lace::{Arrangement, Ground, Pattern};

use area::ColoursSeen;
use sight::{Shares, Sight};

pub use softened::{SeenThread, SoftenedRepeat};

/// Bounds by which kinds of pattern are told apart.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bounds {
    /// A colour that makes up more than this is the ground on which others are seen.
    pub commonest: f64,
    /// How far the eye blends what it sees close by, when it asks whether anything
    /// stands out, and from farther away: the standard deviation of a normal
    /// distribution, in grid steps.
    pub blends: [f64; 3],
    /// Even mix: the strongest direction is fainter than this: its strength, times that
    /// of all differences of colours relative to those of the ground itself, which
    /// hides what is weak beside it.
    pub faint: f64,
    /// A share of all differences in one direction that is stripes in any case.
    pub striped: f64,
    /// Spots: how closely a colour keeps to where the lace is dense, at least.
    pub dense: f64,
    /// Large patches: how much of all differences is left from farther away, at least.
    pub coarse: f64,
    /// Spots: the least skewness of large patches.
    pub skewed: f64,
    /// Zigzags: how far stripes down the lace swing at least, as a phase.
    pub swings: f64,
    /// The same, of how much their strength changes.
    pub steady: f64,
    /// The share of all differences that these stripes are at least.
    pub swinging: f64,
    /// Diagonals: how much stronger than its mirror image a slant is that the eye
    /// prefers to stripes down or across.
    pub lone: f64,
    /// How strong it is at least, of those stripes.
    pub slant: f64,
    /// Stripes: how much stronger than other directions, and than the mirror image.
    pub stronger: [f64; 2],
    /// Zigzags: the least strength of the direction down, and of the weaker slant, of
    /// the stronger slant; and the greatest one across, of the weaker slant.
    pub zigzags: [f64; 3],
    /// Columns: the share of the direction down from farther away, where what slants
    /// to both sides is lost, that is columns whatever is seen close by, unless a slant
    /// is preferred.
    pub upright: f64,
    /// Columns: how much of all differences is left from farther away, at least.
    pub columns: f64,
    /// Most places looked at.
    pub places: usize,
    /// How many times as high as wide the area looked at is at most.
    pub tallest: usize,
}

/// The bounds used.
pub const BOUNDS: Bounds = Bounds {
    commonest: 0.55,
    blends: [0.35, 0.62, 1.06],
    faint: 0.17,
    striped: 0.55,
    dense: 0.35,
    coarse: 0.6,
    skewed: 1.0,
    swings: 0.25,
    steady: 1.04,
    swinging: 0.759,
    lone: 2.0,
    slant: 0.45,
    stronger: [1.248, 1.45],
    zigzags: [0.95, 0.65, 0.25],
    upright: 0.6,
    columns: 0.1,
    places: area::MOST_PLACES,
    tallest: area::TALLEST,
};

/// What is seen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Seen {
    /// The kind of pattern.
    pub pattern: Pattern,
    /// How clear it is, 0 to 1; 0 where there is none.
    pub clearness: f64,
}

/// Kinds of stripes, by direction.
const STRIPES: [Pattern; 4] =
    [Pattern::Columns, Pattern::Rows, Pattern::DiagonalsLeft, Pattern::DiagonalsRight];

impl Seen {
    /// What is seen of a ground in an arrangement.
    pub fn new(softened: &SoftenedRepeat, ground: &Ground, arrangement: &Arrangement) -> Seen {
        let threads = arrangement.threads();
        if threads.iter().all(|colour| *colour == threads[0]) {
            return Seen { pattern: Pattern::Plain, clearness: 0.0 };
        }
        let length = ground.pairs_until_both_repeat(arrangement.pairs().len());
        let seen = ColoursSeen::new(softened, &arrangement.extended(length));
        Sight::new(&seen).map_or(Seen { pattern: Pattern::EvenMix, clearness: 0.0 }, |sight| {
            let (pattern, share) = sight.kind();
            Seen { pattern, clearness: (share * sight.purity).clamp(0.0, 1.0) }
        })
    }
}

/// A kind of pattern, and the share of all differences that it accounts for.
type Fit = (Pattern, f64);

impl Sight {
    /// The kind of pattern.
    fn kind(&self) -> Fit {
        let strongest = self.near.iter().copied().fold(0.0, f64::max);
        if self.dense >= BOUNDS.dense && strongest < BOUNDS.striped {
            return (Pattern::Spots, 1.0);
        }
        if self.strongest * self.stands_out < BOUNDS.faint {
            return (Pattern::EvenMix, 0.0);
        }
        if let Some(fit) = self.swinging() {
            return fit;
        }
        let large = self.coarse >= BOUNDS.coarse;
        if large && self.skewness >= BOUNDS.skewed && strongest < BOUNDS.striped {
            return (Pattern::Spots, 1.0);
        }
        let looked = if large { self.far } else { self.near };
        let striped = self.stripes(&looked).or_else(|| self.zigzags(&looked));
        let fit = striped.unwrap_or_else(|| self.checks());
        // Threads hang straight down themselves: fine columns are lost among them.
        if fit.0 == Pattern::Columns && self.coarse < BOUNDS.columns {
            return (Pattern::EvenMix, 0.0);
        }
        fit
    }

    /// Two directions, neither of which stands out.
    fn checks(&self) -> Fit {
        let mut sorted = self.near;
        sorted.sort_by(|a, b| b.total_cmp(a));
        (Pattern::Checks, sorted[0] + sorted[1])
    }

    /// Stripes down the lace whose places swing, rather than their strength.
    fn swinging(&self) -> Option<Fit> {
        let swings = self.swings;
        let places = BOUNDS.swings.max(BOUNDS.steady * swings.strength);
        (swings.share >= BOUNDS.swinging && swings.places >= places)
            .then_some((Pattern::Zigzags, swings.share))
    }

    /// Stripes that slant without a mirror image, that go straight down as seen from
    /// farther away, or that stand out among all others.
    fn stripes(&self, shares: &Shares) -> Option<Fit> {
        let [down, across, left, right] = *shares;
        let (slant, other, direction) = if left > right { (left, right, 2) } else { (right, left, 3) };
        let fit = |direction: usize| Some((STRIPES[direction], self.near[direction]));
        if slant >= BOUNDS.lone * other && slant >= BOUNDS.slant * down.max(across) {
            return fit(direction);
        }
        if self.far[0] >= BOUNDS.upright {
            return fit(0);
        }
        let mut order = [0, 1, 2, 3];
        order.sort_by(|a, b| shares[*b].total_cmp(&shares[*a]));
        let [first, second, ..] = order;
        // Down and across, and the two slants.
        let mirrors = first / 2 == second / 2;
        let stands_out = shares[first] >= BOUNDS.stronger[usize::from(mirrors)] * shares[second];
        if stands_out { fit(first) } else { None }
    }

    /// Stripes down the lace that slant to one side, then to the other.
    fn zigzags(&self, shares: &Shares) -> Option<Fit> {
        let [down, across, left, right] = *shares;
        let (slant, other) = (left.max(right), left.min(right));
        let [least, alike, level] = BOUNDS.zigzags;
        let swings = down >= least * slant && other >= alike * slant && across < level * other;
        swings.then(|| (Pattern::Zigzags, 1.0 - self.near[1]))
    }
}

#[cfg(test)]
mod tests {
    use lace::samples::{rose, torchon};
    use lace::{ArrangementSymmetry, DistinctArrangements, Grid, Repeat};
    use picture::layout::lay_out;

    use super::*;

    fn seen(repeat: Repeat) -> impl Fn(&str) -> Seen {
        let ground = Ground::new(repeat).unwrap();
        let layout = lay_out(&ground, &Grid::new(4.0, 45.0).unwrap(), 4.0 / 12.0);
        let softened = SoftenedRepeat::new(&ground, &layout);
        move |hung| Seen::new(&softened, &ground, &hung.parse().unwrap())
    }

    // Common practice, no source: half stitch, pin, half stitch sends colours
    // along the diagonals; cloth stitch and twist either side of the pin keeps
    // them in columns.
    #[test]
    fn torchon_makes_diagonals_and_double_torchon_columns() {
        let single = seen(torchon("CT pin CT", 0));
        assert_eq!(single("A"), Seen { pattern: Pattern::Plain, clearness: 0.0 });
        assert_eq!(single("A B").pattern, Pattern::EvenMix);
        assert_eq!(single("A A A B").pattern, Pattern::DiagonalsRight);
        assert_eq!(single("A A B A").pattern, Pattern::DiagonalsLeft);
        assert_eq!(single("4A 4B").pattern, Pattern::Checks);
        let double = seen(torchon("CTCT pin CTCT", 0));
        // Looked at: a single pair swings too little from side to side to be seen.
        for colours in ["A A B B", "4A 4B", "A A A B"] {
            assert_eq!(double(colours).pattern, Pattern::Columns, "{colours}");
        }
        // Looked at: columns of single pairs are too narrow to stand out.
        for colours in ["A B", "A B C"] {
            assert_eq!(double(colours).pattern, Pattern::EvenMix, "{colours}");
        }
    }

    #[test]
    fn broad_stripes_of_pure_colours_are_clearest() {
        let double = seen(torchon("CTCT pin CTCT", 0));
        let clear = ["4A 4B", "A A B B", "A B"].map(|colours| double(colours).clearness);
        assert!(clear.is_sorted_by(|a, b| a > b), "{clear:?}");
        assert!(clear[0] > 0.7 && clear[2] < 0.5, "{clear:?}");
    }

    #[test]
    fn equivalent_arrangements_make_the_same_pattern() {
        let ground = Ground::new(rose("CTCT", "CT pin CT")).unwrap();
        let pattern = seen(rose("CTCT", "CT pin CT"));
        let symmetry = [ArrangementSymmetry::new(&ground, 8)];
        for arrangement in DistinctArrangements::new(&symmetry, 2, false).step_by(5) {
            let first = pattern(&arrangement.to_string()).pattern;
            // Left and right may be swapped.
            let colours: Vec<u8> = arrangement.pairs().iter().map(|p| p[0]).collect();
            let sides = [Pattern::DiagonalsLeft, Pattern::DiagonalsRight];
            for equivalent in symmetry[0].equivalents(&colours) {
                let other = pattern(&Arrangement::of_pairs(&equivalent).to_string()).pattern;
                let same = other == first || sides.contains(&other) && sides.contains(&first);
                assert!(same, "{arrangement}");
            }
        }
    }
}
