//! Repeats written in the order of working: pairs hang side by side, every stitch
//! takes two neighbours, the legs follow.

use crate::{Leg, Point, Problem, Repeat, Side, Stitch, work};

/// A repeat being worked stitch by stitch, with the pairs that hang on the
/// pillow.
///
/// Pairs are numbered from the left; pair `k + pairs` is pair `k` of the next
/// repeat to the right, and numbers below 0 belong to the repeat on the left. A
/// stitch of pair `k` takes pairs `k` and `k + 1` and hangs them back in their
/// places: whichever comes out on the left is pair `k` from then on.
///
/// The first mistake is kept and returned by [`Pillow::repeat`].
///
/// ```
/// use pairwise_sdk::Pillow;
///
/// // Torchon ground: two pairs hang in a width of two grid steps. There is one
/// // stitch; the next lies a step right and a step down and takes pairs 1 and 2.
/// let repeat = Pillow::new(2, 2).stitch("pin", (0, 0), 0, "CT pin CT").repeat((1, 1), 1).unwrap();
/// assert_eq!((repeat.stitches.len(), repeat.legs.len()), (1, 2));
/// ```
#[derive(Clone, Debug)]
pub struct Pillow {
    width: f64,
    stitches: Vec<Stitch>,
    legs: Vec<Leg>,
    pairs: Vec<Hanging>,
    mistake: Option<Problem>,
}

/// A hanging pair: where it was first taken up, where it was last left, and its
/// twists before the first and since the last.
#[derive(Clone, Copy, Debug, Default)]
struct Hanging {
    first: Option<Place>,
    last: Option<Place>,
    twists_before: u32,
    twists_since: u32,
}

/// One side of a stitch, in the repeat that lies `across` repeats to the right.
#[derive(Clone, Copy, Debug)]
struct Place {
    stitch: u32,
    side: Side,
    across: i32,
}

/// Most pairs that may hang in one repeat.
const MOST_PAIRS: i32 = 4000;

impl Pillow {
    /// `pairs` pairs hang across one repeat, which is `width` grid steps wide.
    ///
    /// ```
    /// use pairwise_sdk::Pillow;
    ///
    /// // Four pairs in a width of four grid steps, as in the rose ground.
    /// assert!(Pillow::new(4, 4).twist(0, 1).repeat((2, 2), 2).is_err(), "nothing has been worked yet");
    /// ```
    pub fn new(pairs: i32, width: impl Into<f64>) -> Pillow {
        let number = usize::try_from(pairs).ok().filter(|_| (1..=MOST_PAIRS).contains(&pairs));
        let mistake = number
            .is_none()
            .then(|| Problem::new(format!("{pairs} pairs cannot hang: give 1 to {MOST_PAIRS}")));
        Pillow {
            width: width.into(),
            stitches: Vec::new(),
            legs: Vec::new(),
            pairs: vec![Hanging::default(); number.unwrap_or(1)],
            mistake,
        }
    }

    /// Works a stitch: its id (a plain word), its place (grid steps), the left of its
    /// two pairs, its moves (see [`work()`]).
    ///
    /// ```
    /// let repeat = pairwise_sdk::Pillow::new(4, 4)
    ///     .stitch("left", (-1, 0), 0, "CTCT")
    ///     .stitch("right", (1, 0), 2, "CTCT")
    ///     .stitch("middle", (0, 0.75), 1, "CT pin CT")
    ///     .repeat((2, 1.5), 2)
    ///     .unwrap();
    /// // Pair 1 goes from the right of `left` to the left of `middle`.
    /// let leg = repeat.legs.iter().find(|leg| leg.from == 0 && leg.to == 2).unwrap();
    /// assert_eq!((leg.from_side, leg.to_side), (pairwise_sdk::Side::Right, pairwise_sdk::Side::Left));
    /// ```
    #[must_use]
    pub fn stitch(
        mut self,
        id: &str,
        at: (impl Into<f64>, impl Into<f64>),
        pair: i32,
        worked: impl AsRef<str>,
    ) -> Pillow {
        if self.stitches.iter().any(|s| s.id == id) {
            self.keep(Problem::new(format!("two stitches are called `{id}`")));
        }
        let moves = work(worked.as_ref()).unwrap_or_else(|problem| {
            self.keep(Problem { sentence: format!("at `{id}`: {}", problem.sentence), ..problem });
            Vec::new()
        });
        let stitch = self.stitches.len() as u32;
        for (pair, side) in [(pair, Side::Left), (pair + 1, Side::Right)] {
            let (hangs, round) = self.find(pair);
            // Relative to the repeat in which the pair has its number, the stitch
            // lies this many repeats to the right.
            let here = Place { stitch, side, across: -round };
            let hanging = &mut self.pairs[hangs];
            match hanging.last {
                Some(last) => self.legs.push(leg(last, here, 0, hanging.twists_since)),
                None => hanging.first = Some(here),
            }
            hanging.last = Some(here);
            hanging.twists_since = 0;
        }
        self.stitches.push(Stitch { id: id.to_owned(), at: Some(point(at)), work: moves });
        self
    }

    /// Works a stitch at a dot when every pair takes one grid step (`pairs` equals
    /// `width`): its two pairs are those on either side of `x`, `x - 1` and `x`.
    ///
    /// ```
    /// use pairwise_sdk::Pillow;
    ///
    /// let by_place = Pillow::new(2, 2).dot("pin", (1, 0), "CT pin CT").repeat((1, 1), 1);
    /// let by_number = Pillow::new(2, 2).stitch("pin", (1, 0), 0, "CT pin CT").repeat((1, 1), 1);
    /// assert_eq!(by_place, by_number);
    /// ```
    #[must_use]
    pub fn dot(self, id: &str, at: (i32, i32), worked: impl AsRef<str>) -> Pillow {
        self.stitch(id, at, at.0 - 1, worked)
    }

    /// Twists one pair where it hangs now, right over left, `times` times.
    ///
    /// ```
    /// let repeat = pairwise_sdk::Pillow::new(2, 2)
    ///     .stitch("pin", (0, 0), 0, "CT pin CT")
    ///     .twist(1, 2)
    ///     .repeat((1, 1), 1);
    /// let legs = repeat.unwrap().legs;
    /// assert_eq!((legs[0].twists, legs[1].twists), (0, 2));
    /// ```
    #[must_use]
    pub fn twist(mut self, pair: i32, times: i32) -> Pillow {
        let Ok(times) = u32::try_from(times) else {
            self.keep(Problem::new(format!("pair {pair} is to have {times} twists: give 0 or more")));
            return self;
        };
        let (hangs, _) = self.find(pair);
        let hanging = &mut self.pairs[hangs];
        match hanging.last {
            Some(_) => hanging.twists_since += times,
            None => hanging.twists_before += times,
        }
        self
    }

    /// Twists every pair of a range, see [`Pillow::twist`].
    ///
    /// ```
    /// let repeat = pairwise_sdk::Pillow::new(2, 2)
    ///     .dot("pin", (0, 0), "CT pin CT")
    ///     .twist_all(-1..1, 1)
    ///     .repeat((1, 1), 1);
    /// assert!(repeat.unwrap().legs.iter().all(|leg| leg.twists == 1));
    /// ```
    #[must_use]
    pub fn twist_all(self, pairs: std::ops::Range<i32>, times: i32) -> Pillow {
        pairs.fold(self, |pillow, pair| pillow.twist(pair, times))
    }

    /// The repeat. The next one lies `down` from this one (grid steps) and is worked
    /// in the same way; its pair 0 is pair `shift` of this one.
    ///
    /// # Errors
    /// The first mistake, or a pair that no stitch takes up.
    ///
    /// # Examples
    /// ```
    /// use pairwise_sdk::Pillow;
    ///
    /// // With a shift of 1 the next stitch takes pairs 1 and 2: each pair runs on.
    /// // With a shift of 0 it takes the same two pairs again.
    /// let pin = Pillow::new(2, 2).stitch("pin", (0, 0), 0, "CT pin CT");
    /// let (ground, plait) = (pin.clone().repeat((1, 1), 1).unwrap(), pin.repeat((0, 1), 0).unwrap());
    /// assert_ne!(ground.legs[0].to_side, ground.legs[0].from_side);
    /// assert_eq!(plait.legs[0].to_side, plait.legs[0].from_side);
    /// ```
    pub fn repeat(self, down: (impl Into<f64>, impl Into<f64>), shift: i32) -> Result<Repeat, Problem> {
        if let Some(mistake) = self.mistake {
            return Err(mistake);
        }
        let mut legs = self.legs.clone();
        for (number, hanging) in self.pairs.iter().enumerate() {
            let (next, twists, rows, across) = self.next_taken(number as i32, shift)?;
            let Some(last) = hanging.last else { continue };
            let taken = Place { across: next.across + across, ..next };
            legs.push(leg(last, taken, rows, hanging.twists_since + twists));
        }
        legs.sort_by_key(|leg| (leg.from, leg.from_side == Side::Right));
        Ok(Repeat {
            across: Point { x: self.width, y: 0.0 },
            down: point(down),
            stitches: self.stitches,
            legs,
        })
    }

    /// The stitch that takes up a pair left hanging at the end of the repeat: its
    /// end, the twists on the way, how many repeats down and across.
    fn next_taken(&self, mut number: i32, shift: i32) -> Result<(Place, u32, i32, i32), Problem> {
        let (mut across, mut twists) = (0, 0);
        for rows in 1..=self.pairs.len() as i32 {
            let (hangs, round) = self.find(number - shift);
            let hanging = &self.pairs[hangs];
            across += round;
            twists += hanging.twists_before;
            if let Some(first) = hanging.first {
                return Ok((first, twists, rows, across));
            }
            number = hangs as i32;
        }
        Err(Problem::new(format!("no stitch takes up pair {number}: it would hang down for ever")))
    }

    fn keep(&mut self, problem: Problem) {
        self.mistake.get_or_insert(problem);
    }

    /// The hanging pair for any number, and how many repeats to the right it is.
    fn find(&self, pair: i32) -> (usize, i32) {
        let pairs = self.pairs.len() as i32;
        (pair.rem_euclid(pairs) as usize, pair.div_euclid(pairs))
    }
}

fn leg(from: Place, to: Place, rows: i32, twists: u32) -> Leg {
    Leg {
        from: from.stitch,
        from_side: from.side,
        to: to.stitch,
        to_side: to.side,
        cell_across: to.across - from.across,
        cell_down: rows,
        twists,
    }
}

fn point((x, y): (impl Into<f64>, impl Into<f64>)) -> Point {
    Point { x: x.into(), y: y.into() }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Grid;
    use crate::Side::{Left, Right};

    /// A leg in short form, with the place of its end relative to its beginning.
    fn legs(repeat: &Repeat) -> Vec<(String, bool, String, bool, i64, i64, u32)> {
        let place = |stitch: u32| repeat.stitches[stitch as usize].at.unwrap();
        let mut legs: Vec<_> = (repeat.legs.iter())
            .map(|l| {
                let (from, to) = (place(l.from), place(l.to));
                let (i, j) = (f64::from(l.cell_across), f64::from(l.cell_down));
                let run = (
                    to.x - from.x + i * repeat.across.x + j * repeat.down.x,
                    to.y - from.y + i * repeat.across.y + j * repeat.down.y,
                );
                let id = |stitch: u32| repeat.stitches[stitch as usize].id.clone();
                let (x, y) = ((run.0 * 4.0).round() as i64, (run.1 * 4.0).round() as i64);
                (id(l.from), l.from_side == Right, id(l.to), l.to_side == Right, x, y, l.twists)
            })
            .collect();
        legs.sort();
        legs
    }

    // The rose ground, once by its legs and once by working it.
    #[test]
    fn working_gives_the_legs_that_a_grid_says() {
        let grid = Grid::new((2, 2), (-2, 2))
            .dot("crossing-left", (-1, 0), "CTCT")
            .dot("crossing-right", (1, 0), "CTCT")
            .dot("top", (0, 0), "CT pin CT")
            .dot("left", (-1, 1), "CT pin CT")
            .dot("right", (1, 1), "CT pin CT")
            .dot("bottom", (0, 2), "CT pin CT")
            .leg(("crossing-left", Left), ("left", Left), (-1, 1))
            .leg(("crossing-left", Right), ("top", Left), (0, 0))
            .leg(("crossing-right", Left), ("top", Right), (0, 0))
            .leg(("crossing-right", Right), ("right", Right), (1, 1))
            .leg(("left", Left), ("crossing-right", Left), (-1, 2))
            .leg(("bottom", Left), ("crossing-right", Right), (-1, 2))
            .leg(("bottom", Right), ("crossing-left", Left), (1, 2))
            .leg(("right", Right), ("crossing-left", Right), (1, 2))
            .twist(("right", Right), 2)
            .repeat()
            .unwrap();
        let pillow = Pillow::new(4, 4)
            .stitch("crossing-left", (-1, 0), 0, "CTCT")
            .stitch("crossing-right", (1, 0), 2, "CTCT")
            .stitch("top", (0, 0), 1, "CT pin CT")
            .stitch("left", (-1, 1), 0, "CT pin CT")
            .stitch("right", (1, 1), 2, "CT pin CT")
            .stitch("bottom", (0, 2), 1, "CT pin CT")
            .twist(3, 2)
            .repeat((2, 2), 2)
            .unwrap();
        assert_eq!(legs(&pillow), legs(&grid));
    }

    #[test]
    fn pairs_may_be_numbered_from_the_middle_and_twisted_before_they_are_taken() {
        let by_number = Pillow::new(2, 2).stitch("pin", (0, 0), 0, "CT").twist_all(0..2, 1);
        let by_place = Pillow::new(2, 2).twist(-1, 1).twist(0, 1).dot("pin", (0, 0), "CT");
        assert_eq!(legs(&by_number.repeat((1, 1), 1).unwrap()), legs(&by_place.repeat((1, 1), 1).unwrap()));
    }

    // Pair 1 hangs past the first row and is taken up in the second.
    #[test]
    fn a_pair_may_pass_rows_that_do_not_take_it() {
        let repeat = Pillow::new(3, 3).stitch("a", (0, 0), 0, "CT").repeat((1, 1), 1).unwrap();
        let found: Vec<_> = repeat.legs.iter().map(|l| (l.cell_across, l.cell_down)).collect();
        assert_eq!(found, [(-1, 2), (0, 1)]);
    }

    #[test]
    fn mistakes_are_told_in_words() {
        let told = |pillow: Pillow| pillow.repeat((1, 1), 1).unwrap_err().sentence;
        let pillow = || Pillow::new(2, 2).stitch("a", (0, 0), 0, "CT");
        assert!(told(pillow().stitch("a", (0, 0), 0, "CT")).contains("two stitches are called `a`"));
        assert!(told(pillow().stitch("b", (0, 0), 0, "X")).contains("at `b`: `X` is not a move"));
        assert!(told(pillow().twist(0, -1)).contains("-1 twists"));
        assert!(told(Pillow::new(0, 1)).contains("0 pairs"));
        let never = Pillow::new(3, 3).stitch("a", (0, 0), 0, "CT").repeat((0, 1), 0).unwrap_err();
        assert!(never.sentence.contains("no stitch takes up pair 2"));
    }
}
