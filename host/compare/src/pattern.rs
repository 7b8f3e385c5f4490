//! The kind of pattern that is seen when a ground is worked in an arrangement of
//! colours, and how clear it is.
//!
//! What is looked at is the lace as it is drawn: which threads are seen at each
//! place ([`SoftenedRepeat`]), and then how much of each colour, over the whole
//! area after which colours repeat, close by and from farther away. Then it is
//! measured how much of all differences runs along each direction. Nothing is asked
//! of the stitches or of where threads lead.
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
mod softened;
mod ways;

use lace::{Arrangement, Ground, Pattern};

use area::ColoursSeen;
use ways::{Strength, Way, strongest, ways};

pub use softened::{SeenThread, SoftenedRepeat};

/// Bounds by which kinds of pattern are told apart.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bounds {
    /// A colour that makes up more than this is the ground on which others are seen.
    pub commonest: f64,
    /// Colours that are less pure than this, close by, are evenly mixed: the standard
    /// deviation of a colour's share relative to that of pure colours.
    pub mixed: f64,
    /// Stripes: the least share of all differences in one direction, close by.
    pub stripes: f64,
    /// The same from farther away, and close by where there are large patches.
    pub far_stripes: f64,
    /// How much stronger the direction of stripes is than any other, and than its
    /// mirror image.
    pub stronger: [f64; 2],
    /// Stripes that cross: the least share of all differences in two directions.
    pub crossing: f64,
    /// The least standard deviation of the share of a colour seen from farther away.
    pub coarse: f64,
    /// Zigzags: the least strength of the direction down, of the strongest.
    pub zigzags: f64,
    /// Spots: how much farther shares rise above their mean than fall below it.
    pub spots: f64,
    /// Spots: the greatest share of their colour.
    pub spots_share: f64,
    /// Most places looked at.
    pub places: usize,
    /// How many times as high as wide the area looked at is at most.
    pub tallest: usize,
    /// Most directions.
    pub ways: usize,
}

/// The bounds used.
pub const BOUNDS: Bounds = Bounds {
    commonest: 0.55,
    mixed: 0.19,
    stripes: 0.33,
    far_stripes: 0.45,
    stronger: [1.5, 1.7],
    crossing: 0.68,
    coarse: 0.1,
    zigzags: 0.85,
    spots: 1.6,
    spots_share: 0.3,
    places: area::MOST_PLACES,
    tallest: area::TALLEST,
    ways: ways::MOST_WAYS,
};

/// What is seen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Seen {
    /// The kind of pattern.
    pub pattern: Pattern,
    /// How clear it is, 0 to 1; 0 where there is none.
    pub clearness: f64,
}

/// What is seen of one colour.
struct ColourSeen {
    pattern: Pattern,
    /// How much it counts.
    weight: f64,
    clearness: f64,
}

impl Seen {
    /// What is seen of a ground in an arrangement.
    pub fn new(softened: &SoftenedRepeat, ground: &Ground, arrangement: &Arrangement) -> Seen {
        let threads = arrangement.threads();
        if threads.iter().all(|colour| *colour == threads[0]) {
            return Seen { pattern: Pattern::Plain, clearness: 0.0 };
        }
        let length = ground.pairs_until_both_repeat(arrangement.pairs().len());
        let seen = ColoursSeen::new(softened, &arrangement.extended(length));
        let ways = ways(&seen.area);
        let all: f64 = seen.ink.iter().flatten().sum();
        let of_colours: Vec<ColourSeen> = (0..seen.ink.len())
            .filter_map(|colour| {
                let share = seen.ink[colour].iter().sum::<f64>() / all;
                let counts = share > 0.0 && share <= BOUNDS.commonest;
                counts.then(|| ColourSeen::new(&seen, &ways, colour, share))
            })
            .collect();
        Seen::of(&of_colours)
    }

    /// The kind that counts most among those of the colours; the first of several.
    fn of(colours: &[ColourSeen]) -> Seen {
        let mut best = Seen { pattern: Pattern::EvenMix, clearness: 0.0 };
        let (mut most, mut all) = (0.0, 0.0);
        for colour in colours {
            all += colour.weight;
        }
        for &pattern in Pattern::ALL {
            let (mut weight, mut clear) = (0.0, 0.0);
            for colour in colours.iter().filter(|colour| colour.pattern == pattern) {
                weight += colour.weight;
                clear += colour.weight * colour.clearness;
            }
            if weight > most {
                most = weight;
                best = Seen { pattern, clearness: clear / all };
            }
        }
        best
    }
}

impl ColourSeen {
    fn new(seen: &ColoursSeen, ways: &[Way], colour: usize, share: f64) -> ColourSeen {
        let deviation = |of: &[Vec<f64>]| deviation(&of[colour]);
        let [ink, near, far] = [&seen.ink, &seen.near, &seen.far].map(|of| deviation(of));
        let close = strongest(&seen.area, ways, &seen.ink[colour]);
        // Where there are large patches, weak stripes do not stand out.
        let least = if far < BOUNDS.coarse { BOUNDS.stripes } else { BOUNDS.far_stripes };
        let close = stripes(&close, least).or_else(|| crossing(&close));
        let purity = near / (share * (1.0 - share)).sqrt();
        let (pattern, fits) = match close {
            _ if purity < BOUNDS.mixed => (Pattern::EvenMix, 0.0),
            Some(fit) => fit,
            None if far < BOUNDS.coarse => (Pattern::EvenMix, 0.0),
            None => {
                let directions = strongest(&seen.area, ways, &seen.far[colour]);
                let (pattern, fits) = from_afar(&directions, &seen.far[colour], share);
                (pattern, fits * (far / near).min(1.0))
            }
        };
        let clearness = (fits * purity).min(1.0);
        ColourSeen { pattern, weight: ink * ink, clearness }
    }
}

/// A kind of pattern, and the share of all differences that it accounts for.
type Fit = (Pattern, f64);

/// Stripes, if one direction has at least this share and stands out among the
/// others.
fn stripes(strengths: &[Strength], least: f64) -> Option<Fit> {
    let [first, second] = two(strengths);
    let stronger = BOUNDS.stronger[usize::from(first.way.mirrors(second.way))];
    let stands_out = first.share >= least && first.share >= stronger * second.share;
    stands_out.then(|| (first.way.stripes(), first.share))
}

/// Two directions that together account for nearly all: stripes that cross, if one
/// is the mirror image of the other; else the stronger of them.
fn crossing(strengths: &[Strength]) -> Option<Fit> {
    let [first, second] = two(strengths);
    let both = first.share + second.share;
    let kind = if first.way.mirrors(second.way) {
        (Pattern::Checks, both)
    } else {
        (first.way.stripes(), first.share)
    };
    (both >= BOUNDS.crossing).then_some(kind)
}

/// What is seen from farther away, where colours lie in large patches.
fn from_afar(strengths: &[Strength], shares: &[f64], mean: f64) -> Fit {
    if let Some(fit) = stripes(strengths, BOUNDS.far_stripes) {
        return fit;
    }
    let of = |pattern: Pattern| {
        let own = strengths.iter().find(|strength| strength.way.stripes() == pattern);
        own.map_or(0.0, |strength| strength.share)
    };
    let [first, _] = two(strengths);
    let down = of(Pattern::Columns);
    if down >= BOUNDS.zigzags * first.share && of(Pattern::Rows) < down / 2.0 {
        let swings = of(Pattern::DiagonalsLeft) + of(Pattern::DiagonalsRight);
        return (Pattern::Zigzags, (down + swings).min(1.0));
    }
    let (mut most, mut least) = (shares[0], shares[0]);
    for &share in shares {
        most = most.max(share);
        least = least.min(share);
    }
    let spots = mean < BOUNDS.spots_share && most - mean >= BOUNDS.spots * (mean - least);
    (if spots { Pattern::Spots } else { Pattern::Checks }, 1.0)
}

/// The two strongest directions.
fn two(strengths: &[Strength]) -> [Strength; 2] {
    let none = Strength { way: Way { right: 0, down: 1 }, share: 0.0 };
    [0, 1].map(|k| strengths.get(k).copied().unwrap_or(none))
}

/// The standard deviation of values.
fn deviation(values: &[f64]) -> f64 {
    let count = values.len() as f64;
    let (mut sum, mut squares) = (0.0, 0.0);
    for value in values {
        sum += value;
        squares += value * value;
    }
    let mean = sum / count;
    (squares / count - mean * mean).max(0.0).sqrt()
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
        for colours in ["A A B B", "A A A B", "A B C"] {
            assert_eq!(double(colours).pattern, Pattern::Columns, "{colours}");
        }
        // Looked at: columns of single pairs are too narrow to stand out.
        assert_eq!(double("A B").pattern, Pattern::EvenMix);
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
