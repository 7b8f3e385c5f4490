//! What pattern a colour order makes on a ground, decided by where the threads
//! go.
//!
//! Threads of one course (all that travel left by the same slope, all that
//! stay, …) keep their order among themselves for ever, so a course in which
//! every thread has one colour draws nothing: it *bears* no pattern. Which
//! courses bear one decides what is seen.

use std::fmt;

use petgraph::unionfind::UnionFind;
use serde::Serialize;

use crate::colour::arrangement::Arrangement;
use crate::ground::Ground;
use crate::repeat::End;
use crate::threads::hanging::AffinePermutation;
use crate::threads::orbits::Travel;

/// Kinds of pattern.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Pattern {
    /// One colour.
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
    /// Threads that travel to either side cross, and make blocks of each
    /// colour.
    Checks,
    /// As checks, but no two stitches beside each other are all in one of the
    /// colours.
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

    /// As a lacemaker says it.
    pub const fn words(self) -> &'static str {
        match self {
            Pattern::Plain => "plain",
            Pattern::Columns => "columns",
            Pattern::DiagonalsLeft => "diagonals to the left",
            Pattern::DiagonalsRight => "diagonals to the right",
            Pattern::Zigzags => "zigzags",
            Pattern::Checks => "checks",
            Pattern::Spots => "spots",
            Pattern::EvenMix => "even mix",
        }
    }
}

impl fmt::Display for Pattern {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.words())
    }
}

/// After how much lace the colours come again.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct ColourPeriod {
    /// Pairs until the colours come again to the right.
    pub pairs_across: usize,
    /// Grid steps until then.
    pub steps_across: f64,
    /// Rows of repeats until the same colours lie straight below, and grid
    /// steps until then; `None` when that takes more than [`MOST_ROWS`] rows.
    pub down: Option<(usize, f64)>,
}

/// Farthest rows looked at.
pub const MOST_ROWS: usize = 256;
/// A thread that stays and goes this many grid steps to and fro is a worker.
const FAR: f64 = 2.5;

/// Where the thread of a slot goes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SlotCourse {
    /// Left, right or staying.
    pub travel: Travel,
    /// Grid steps to the right for every step down.
    pub slope: f64,
    /// How far it goes to and fro on the way, in grid steps across.
    pub sway: f64,
}

impl Ground {
    /// Where the thread in each slot of one repeat goes.
    pub fn slot_courses(&self) -> Vec<SlotCourse> {
        let courses: Vec<SlotCourse> = self
            .orbits()
            .iter()
            .map(|orbit| {
                let moved = self.lattice().place(orbit.cells);
                let travel = self.travel(orbit);
                let slope = if travel == Travel::Stays { 0.0 } else { moved.x / moved.y };
                SlotCourse { travel, slope, sway: self.sway(&orbit.entries, slope) }
            })
            .collect();
        self.slot_orbits().into_iter().map(|orbit| courses[orbit]).collect()
    }

    /// How far a closed thread goes to and fro across the line of its slope.
    fn sway(&self, entries: &[(usize, usize)], slope: f64) -> f64 {
        let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
        let mut cell = [0i64; 2];
        for &(stitch, position) in entries {
            let at = self.places()[stitch] + self.lattice().place(cell);
            let off = at.x - slope * at.y;
            low = low.min(off);
            high = high.max(off);
            let order = self.stitches()[stitch].stitch.end_order();
            let end = order.iter().position(|&p| p == position).unwrap_or(position);
            let side = crate::repeat::Side::BOTH[end / 2];
            let step = self.legs()[self.leg_from(End::new(stitch, side))].cell;
            cell = [cell[0] + i64::from(step[0]), cell[1] + i64::from(step[1])];
        }
        high - low
    }

    /// The colour of the thread in each slot until ground and order both begin
    /// again.
    fn slot_colours(&self, order: &Arrangement) -> Vec<u8> {
        order.extended(self.pairs_until_both_repeat(order.pairs().len())).threads()
    }

    /// What pattern a colour order makes.
    pub fn pattern(&self, order: &Arrangement) -> Pattern {
        let colours = self.slot_colours(order);
        let courses = self.slot_courses();
        if colours.iter().all(|&c| c == colours[0]) {
            return Pattern::Plain;
        }
        // Whether the threads for which something holds have several colours.
        let bears = |of: &dyn Fn(&SlotCourse) -> bool| {
            let mut seen = colours.iter().enumerate().filter(|(s, _)| of(&courses[s % courses.len()]));
            let first = seen.next().map(|(_, c)| c);
            seen.any(|(_, c)| Some(c) != first)
        };
        let side = |travel: Travel| {
            // Threads of different slopes are different courses.
            courses
                .iter()
                .filter(|c| c.travel == travel)
                .any(|c| bears(&|d| d.travel == travel && (d.slope - c.slope).abs() < 1e-9))
        };
        let staying = courses.iter().filter(|c| c.travel == Travel::Stays).count();
        match (side(Travel::Left), side(Travel::Stays), side(Travel::Right)) {
            (false, false, false) => Pattern::EvenMix,
            (true, false, false) => Pattern::DiagonalsLeft,
            (false, false, true) => Pattern::DiagonalsRight,
            (false, true, false) => {
                let narrow = bears(&|c| c.travel == Travel::Stays && c.sway < FAR);
                let wide = courses.iter().any(|c| c.travel == Travel::Stays && c.sway >= FAR);
                if wide && !narrow { Pattern::Zigzags } else { Pattern::Columns }
            }
            // Where most threads stay, stripes are seen before what crosses them.
            (_, true, _) if 3 * staying >= 2 * courses.len() => Pattern::Columns,
            _ => self.blocks(&colours),
        }
    }

    /// Checks, spots or an even mix, by the stitches that are all in one
    /// colour.
    fn blocks(&self, colours: &[u8]) -> Pattern {
        let torus = ColourTorus::new(self, colours.len());
        // The colour of each stitch everywhere, if it has one alone.
        let solid: Vec<Option<u8>> = torus
            .places()
            .map(|(stitch, [p, q])| {
                let colour = |position| colours[torus.slot(self, stitch, position, [p, q])];
                let first = colour(0);
                (1..4).all(|position| colour(position) == first).then_some(first)
            })
            .collect();
        let mut groups = UnionFind::new(solid.len());
        let mut beside: Vec<u8> = Vec::new();
        for (at, (stitch, cell)) in torus.places().enumerate() {
            for leg in self.legs().iter().filter(|l| l.from.stitch == stitch) {
                let there = torus.number(self, leg.to.stitch, cell, leg.cell.map(i64::from));
                if let (Some(a), Some(b)) = (solid[at], solid[there])
                    && a == b
                    && at != there
                {
                    groups.union(at, there);
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

    /// After how much lace the colours of an order come again.
    pub fn colour_period(&self, order: &Arrangement) -> ColourPeriod {
        let colours = self.slot_colours(order);
        let own = self.hanging().pairs().len();
        let repeats = colours.len() / 2 / own;
        let turned =
            |by: usize| (0..colours.len()).all(|s| colours[s] == colours[(s + 2 * own * by) % colours.len()]);
        let across = (1..=repeats).find(|&p| repeats.is_multiple_of(p) && turned(p)).unwrap_or(repeats);
        let upright = self.upright();
        let row_inverse = self.hanging().row().inverse();
        let mut below = AffinePermutation::identity(2 * own);
        let down = (1..=MOST_ROWS).find_map(|rows| {
            below = row_inverse.then(&below);
            // So many repeats to the left lies straight below.
            let back = upright.step_down.x * rows as f64 / upright.width;
            if (back - back.round()).abs() > 1e-6 {
                return None;
            }
            let shift = back.round() as i64 * 2 * own as i64;
            let same = (0..colours.len() as i64).all(|s| {
                let origin = below.apply(s - shift).rem_euclid(colours.len() as i64);
                colours[origin as usize] == colours[s as usize]
            });
            same.then_some((rows, rows as f64 * upright.step_down.y))
        });
        ColourPeriod { pairs_across: across * own, steps_across: across as f64 * upright.width, down }
    }
}

/// All copies of the stitches of a repeat until the colours of a number of
/// slots come again, across and down.
pub(crate) struct ColourTorus {
    slots: usize,
    repeats: usize,
    rows: usize,
    stitches: usize,
}

impl ColourTorus {
    pub(crate) fn new(ground: &Ground, slots: usize) -> ColourTorus {
        let own = 2 * ground.hanging().pairs().len();
        let row = ground.hanging().row();
        let mut after = row.clone();
        let mut rows = 1;
        // The slots come back to themselves, whole turns apart.
        while rows < MOST_ROWS && (0..own as i64).any(|s| (after.apply(s) - s).rem_euclid(slots as i64) != 0)
        {
            after = after.then(row);
            rows += 1;
        }
        ColourTorus { slots, repeats: slots / own, rows, stitches: ground.stitches().len() }
    }

    /// Every copy of every stitch: its position in the repeat, and its cell in
    /// upright coordinates.
    pub(crate) fn places(&self) -> impl Iterator<Item = (usize, [i64; 2])> {
        let (rows, stitches) = (self.rows as i64, self.stitches);
        (0..self.repeats as i64)
            .flat_map(move |p| (0..rows).flat_map(move |q| (0..stitches).map(move |s| (s, [p, q]))))
    }

    /// The slot at the top of the thread at a position of a copy of a stitch.
    pub(crate) fn slot(&self, ground: &Ground, stitch: usize, position: usize, cell: [i64; 2]) -> usize {
        ground.hanging().origin(stitch, position, cell).rem_euclid(self.slots as i64) as usize
    }

    /// The number in [`ColourTorus::places`] of the stitch to which a leg
    /// leads out of a upright cell by a step in cells of the definition.
    fn number(&self, ground: &Ground, stitch: usize, [p, q]: [i64; 2], step: [i64; 2]) -> usize {
        let [i, j] = ground.upright().from_cell(step);
        let p = (p + i).rem_euclid(self.repeats as i64) as usize;
        let q = (q + j).rem_euclid(self.rows as i64) as usize;
        (p * self.rows + q) * self.stitches + stitch
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::repeat::samples::{rose, torchon};

    fn pattern(repeat: crate::repeat::Repeat, order: &str) -> Pattern {
        Ground::new(repeat).unwrap().pattern(&order.parse().unwrap())
    }

    // Common practice, no source: half stitch, pin, half stitch sends colours
    // along the diagonals; cloth stitch and twist either side of the pin keeps
    // them in columns.
    #[test]
    fn torchon_makes_diagonals_and_double_torchon_columns() {
        let single = |order: &str| pattern(torchon("CT pin CT", 0), order);
        assert_eq!(single("A"), Pattern::Plain);
        // Pairs hang in turn for either way.
        assert_eq!(single("A B"), Pattern::EvenMix);
        let one_way = [single("A B A A"), single("B A A A")];
        assert!(
            one_way.contains(&Pattern::DiagonalsLeft) && one_way.contains(&Pattern::DiagonalsRight),
            "{one_way:?}"
        );
        assert_eq!(single("4A 4B"), Pattern::Checks);
        assert_eq!(single("6A 2B"), Pattern::Spots);
        for order in ["A B", "A A B B", "A A A B"] {
            assert_eq!(pattern(torchon("CTCT pin CTCT", 0), order), Pattern::Columns, "{order}");
        }
    }

    #[test]
    fn every_order_makes_one_of_the_patterns() {
        let ground = Ground::new(rose("CTCT", "CT pin CT")).unwrap();
        let sameness = [crate::ArrangementSymmetry::new(&ground, 8)];
        for order in crate::DistinctArrangements::new(&sameness, 2, false) {
            let pattern = ground.pattern(&order);
            // Orders that look the same make the same pattern, but for left and right.
            let colours: Vec<u8> = order.pairs().iter().map(|p| p[0]).collect();
            let sides = [Pattern::DiagonalsLeft, Pattern::DiagonalsRight];
            for alike in sameness[0].alike(&colours) {
                let other = ground.pattern(&Arrangement::of_pairs(&alike));
                assert!(other == pattern || sides.contains(&other) && sides.contains(&pattern), "{order}");
            }
        }
    }

    #[test]
    fn colours_come_again_where_they_must() {
        let ground = Ground::new(torchon("CT pin CT", 0)).unwrap();
        let period = |order: &str| ground.colour_period(&order.parse().unwrap());
        // One dot across for every dot down: 4 pairs lie over 4 steps.
        let four = period("A A A B");
        assert_eq!((four.pairs_across, four.steps_across), (4, 4.0));
        assert_eq!(four.down.unwrap().1, 4.0);
        assert_eq!(period("A").pairs_across, 2);
        let double = Ground::new(torchon("CTCT pin CTCT", 0)).unwrap();
        let period = double.colour_period(&"A A B B".parse().unwrap());
        assert_eq!(period.down.unwrap().1, 2.0);
    }
}
