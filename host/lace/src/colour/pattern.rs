//! The pattern that a colour arrangement makes on a ground, decided by where the
//! threads go.
//!
//! Threads of one course (all that travel left in the same direction, all that
//! stay, …) never change their order among themselves, so a course whose threads
//! all have one colour shows nothing: it *bears* no pattern. The courses that do
//! bear one decide what is seen.

use crate::colour::arrangement::Arrangement;
use crate::colour::torus::{ColourTorus, StitchCopy};
use crate::ground::Ground;
use crate::repeat::{End, Side};
use crate::threads::courses::{ThreadCourse, Travel};

/// A thread that stays but swings at least this many grid steps to and fro is a
/// worker.
const WORKER_SWAY: f64 = 2.5;

/// Kinds of pattern.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Pattern {
    /// All threads have one colour.
    Plain,
    /// Only threads that stay bear the pattern: stripes down the lace.
    Columns,
    /// Only threads that travel to the left bear the pattern.
    DiagonalsLeft,
    /// Only threads that travel to the right bear the pattern.
    DiagonalsRight,
    /// Threads that stay but go far to and fro on the way (workers) bear the
    /// pattern, and those that hardly leave their column have one colour.
    Zigzags,
    /// Threads that travel left and right cross, and make blocks of each colour.
    Checks,
    /// Like checks, but for one of the colours no two neighbouring stitches are all
    /// in that colour.
    Spots,
    /// No stitch is all in one colour, or no course bears a pattern: the
    /// colours mix everywhere.
    EvenMix,
}

impl Pattern {
    /// Every kind, in the order in which they are listed.
    pub const ALL: [Pattern; 8] = [
        Pattern::Plain,
        Pattern::Columns,
        Pattern::DiagonalsLeft,
        Pattern::DiagonalsRight,
        Pattern::Zigzags,
        Pattern::Checks,
        Pattern::Spots,
        Pattern::EvenMix,
    ];
}

impl Ground {
    /// The pattern that an arrangement of colours makes.
    pub fn pattern(&self, arrangement: &Arrangement) -> Pattern {
        let colours = self.slot_colours(arrangement);
        if colours.iter().all(|&c| c == colours[0]) {
            return Pattern::Plain;
        }
        let hung = HungColours { ground: self, colours: &colours };
        let staying = |course: &ThreadCourse| course.travel == Travel::Stays;
        let own = 2 * self.hanging().pairs().len();
        let stay = (0..own).filter(|&slot| staying(self.slot_course(slot))).count();
        match [Travel::Left, Travel::Stays, Travel::Right].map(|travel| hung.side_bears(travel)) {
            [false, false, false] => Pattern::EvenMix,
            [true, false, false] => Pattern::DiagonalsLeft,
            [false, false, true] => Pattern::DiagonalsRight,
            [false, true, false] => {
                let narrow = hung.bears(|c| staying(c) && c.sway < WORKER_SWAY);
                let wide =
                    (0..own).map(|slot| self.slot_course(slot)).any(|c| staying(c) && c.sway >= WORKER_SWAY);
                if wide && !narrow { Pattern::Zigzags } else { Pattern::Columns }
            }
            // Where most threads stay, the eye sees stripes before the threads that
            // cross them.
            [_, true, _] if 3 * stay >= 2 * own => Pattern::Columns,
            _ => self.blocks(&colours),
        }
    }

    /// Checks, spots or an even mix, judged by the stitches that are all in one
    /// colour.
    fn blocks(&self, colours: &[u8]) -> Pattern {
        let torus = ColourTorus::new(self, colours.len());
        // The colour of every copy of a stitch that is all in one colour.
        let solid: Vec<Option<u8>> = torus
            .copies()
            .map(|copy| {
                let [first, others @ ..] = [0, 1, 2, 3].map(|position| colours[torus.slot(copy, position)]);
                others.iter().all(|&c| c == first).then_some(first)
            })
            .collect();
        let mut beside: Vec<u8> = Vec::new();
        for (at, StitchCopy { stitch, cell }) in torus.copies().enumerate() {
            for side in Side::BOTH {
                let leg = &self.legs()[self.leg_from(End::new(stitch, side))];
                let there = torus.number_after(leg, cell);
                if let (Some(a), Some(b)) = (solid[at], solid[there])
                    && a == b
                    && at != there
                {
                    beside.push(a);
                }
            }
        }
        let mut present: Vec<u8> = solid.iter().flatten().copied().collect();
        present.sort_unstable();
        present.dedup();
        match present.iter().filter(|c| beside.contains(c)).count() {
            _ if present.is_empty() => Pattern::EvenMix,
            0 => Pattern::Checks,
            n if n == present.len() => Pattern::Checks,
            _ => Pattern::Spots,
        }
    }
}

/// Colours in the slots of a ground.
struct HungColours<'a> {
    ground: &'a Ground,
    colours: &'a [u8],
}

impl HungColours<'_> {
    /// Whether the threads of the courses that satisfy `of` have several colours.
    fn bears(&self, of: impl Fn(&ThreadCourse) -> bool) -> bool {
        let mut seen = self
            .colours
            .iter()
            .enumerate()
            .filter(|(slot, _)| of(self.ground.slot_course(*slot)))
            .map(|(_, c)| c);
        let first = seen.next();
        seen.any(|c| Some(c) != first)
    }

    /// Whether any course that travels this way bears a pattern.
    fn side_bears(&self, travel: Travel) -> bool {
        let mut courses = self.ground.courses().iter().filter(|c| c.travel == travel);
        courses.any(|course| self.bears(|c| c.direction == course.direction))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::colour::arrangement_symmetry::ArrangementSymmetry;
    use crate::colour::distinct_arrangements::DistinctArrangements;
    use crate::repeat::Repeat;
    use crate::repeat::samples::{rose, torchon};

    fn pattern(repeat: Repeat, arrangement: &str) -> Pattern {
        Ground::new(repeat).unwrap().pattern(&arrangement.parse().unwrap())
    }

    // Common practice, no source: half stitch, pin, half stitch sends colours
    // along the diagonals; cloth stitch and twist either side of the pin keeps
    // them in columns.
    #[test]
    fn torchon_makes_diagonals_and_double_torchon_columns() {
        let single = |colours: &str| pattern(torchon("CT pin CT", 0), colours);
        assert_eq!(single("A"), Pattern::Plain);
        // Pairs that go left and pairs that go right hang alternately.
        assert_eq!(single("A B"), Pattern::EvenMix);
        let one_way = [single("A B A A"), single("B A A A")];
        assert!(
            one_way.contains(&Pattern::DiagonalsLeft) && one_way.contains(&Pattern::DiagonalsRight),
            "{one_way:?}"
        );
        assert_eq!(single("4A 4B"), Pattern::Checks);
        assert_eq!(single("6A 2B"), Pattern::Spots);
        for colours in ["A B", "A A B B", "A A A B"] {
            assert_eq!(pattern(torchon("CTCT pin CTCT", 0), colours), Pattern::Columns, "{colours}");
        }
    }

    #[test]
    fn equivalent_arrangements_make_the_same_pattern() {
        let ground = Ground::new(rose("CTCT", "CT pin CT")).unwrap();
        let symmetry = [ArrangementSymmetry::new(&ground, 8)];
        for arrangement in DistinctArrangements::new(&symmetry, 2, false) {
            let pattern = ground.pattern(&arrangement);
            // Left and right may be swapped.
            let colours: Vec<u8> = arrangement.pairs().iter().map(|p| p[0]).collect();
            let sides = [Pattern::DiagonalsLeft, Pattern::DiagonalsRight];
            for equivalent in symmetry[0].equivalents(&colours) {
                let other = ground.pattern(&Arrangement::of_pairs(&equivalent));
                let same = other == pattern || sides.contains(&other) && sides.contains(&pattern);
                assert!(same, "{arrangement}");
            }
        }
    }
}
