//! Repeats on a dot grid: the contributor places the dots, the legs follow.

use crate::{Leg, Point, Problem, Repeat, Side, Stitch, work};

/// A repeat being built on a dot grid.
///
/// A pair that leaves a dot on the left goes down the left-hand diagonal
/// (one step left, one step down, and so on) to the next dot there and enters
/// it on its right; one that leaves on the right goes down the right-hand
/// diagonal and enters on the left. Pairs run past dots that are left out.
/// [`Grid::leg`] sends a pair elsewhere.
///
/// The first mistake is kept and returned by [`Grid::repeat`].
///
/// ```
/// use pairwise_sdk::{Grid, Side::{Left, Right}};
///
/// // Two dots of a chequered ground: the one below the first is left out, so
/// // pairs run on from `lower` to `upper`, two steps down.
/// let repeat = Grid::new((2, 0), (0, 3))
///     .dot("upper", (0, 0), "CTCT pin CTCT")
///     .dot("lower", (1, 1), "CT pin CT")
///     .leg(("lower", Right), ("upper", Left), (2, 3))
///     .leg(("lower", Left), ("upper", Right), (0, 3))
///     .twist(("upper", Left), 1)
///     .repeat()
///     .unwrap();
/// assert_eq!(repeat.legs.len(), 4);
/// ```
#[derive(Clone, Debug)]
pub struct Grid {
    across: Point,
    down: Point,
    dots: Vec<Stitch>,
    legs: Vec<Leg>,
    twists: Vec<Twists>,
    twists_everywhere: i32,
    mistake: Option<Problem>,
}

#[derive(Clone, Copy, Debug)]
struct Twists {
    from: usize,
    side: Side,
    count: i32,
}

impl Grid {
    /// An empty grid. Set out in steps of `across` and `down` (grid steps, `x` to the
    /// right, `y` down) the repeat fills the area.
    /// `across.x * down.y - across.y * down.x` must be positive: `(1, 1)` and
    /// `(-1, 1)` are valid, the other way round they are not.
    ///
    /// ```
    /// use pairwise_sdk::Grid;
    ///
    /// let ground = Grid::new((1, 1), (-1, 1)).dot("pin", (0, 0), "CT pin CT");
    /// assert!(ground.repeat().is_ok());
    /// let turned_over = Grid::new((-1, 1), (1, 1)).dot("pin", (0, 0), "CT pin CT");
    /// assert!(turned_over.repeat().unwrap_err().sentence.contains("exchange the two steps"));
    /// ```
    pub fn new(across: (impl Into<f64>, impl Into<f64>), down: (impl Into<f64>, impl Into<f64>)) -> Grid {
        let (across, down) = (point(across), point(down));
        let area = across.x * down.y - across.y * down.x;
        let mistake = (!area.is_finite() || area <= 0.0).then(|| {
            Problem::new(format!(
                "a repeat that goes {} across and {} down has the area {area}: exchange the two steps, or choose others",
                show(across),
                show(down)
            ))
        });
        Grid {
            across,
            down,
            dots: Vec::new(),
            legs: Vec::new(),
            twists: Vec::new(),
            twists_everywhere: 0,
            mistake,
        }
    }

    /// Places a dot: its id (a plain word), its place, and the stitch worked there
    /// (see [`work()`]). A dot need not have a pin.
    ///
    /// ```
    /// // Dots may be on half steps.
    /// let repeat = pairwise_sdk::Grid::new((1, 1), (-1, 1))
    ///     .dot("pin", (0, 0), "CT pin CT")
    ///     .dot("between", (0.5, 0.5), "CTC")
    ///     .repeat();
    /// assert_eq!(repeat.unwrap().stitches[1].work.len(), 3);
    /// ```
    #[must_use]
    pub fn dot(mut self, id: &str, at: (impl Into<f64>, impl Into<f64>), worked: impl AsRef<str>) -> Grid {
        if self.dots.iter().any(|d| d.id == id) {
            self.keep(Problem::new(format!("two dots are called `{id}`")));
        }
        let moves = work(worked.as_ref()).unwrap_or_else(|problem| {
            self.keep(Problem { sentence: format!("at `{id}`: {}", problem.sentence), ..problem });
            Vec::new()
        });
        self.dots.push(Stitch { id: id.to_owned(), at: Some(point(at)), work: moves });
        self
    }

    /// Sends a pair elsewhere than down its diagonal: from an exit of one dot to an
    /// entry of another. `at` is the place of that other dot, in the coordinates in
    /// which the dots were placed; it says which copy of the repeat is meant. Both
    /// dots must have been placed before.
    ///
    /// ```
    /// use pairwise_sdk::{Grid, Side::{Left, Right}};
    ///
    /// // The next stitch lies straight below: both pairs come back to it, on their
    /// // own sides, and never leave the column.
    /// let column = Grid::new((2, 0), (0, 2))
    ///     .dot("pin", (0, 0), "CTC pin CTC")
    ///     .leg(("pin", Left), ("pin", Left), (0, 2))
    ///     .leg(("pin", Right), ("pin", Right), (0, 2))
    ///     .repeat()
    ///     .unwrap();
    /// assert_eq!((column.legs[0].cell_across, column.legs[0].cell_down), (0, 1));
    /// ```
    #[must_use]
    pub fn leg(mut self, from: (&str, Side), to: (&str, Side), at: (impl Into<f64>, impl Into<f64>)) -> Grid {
        let at = point(at);
        match self.find_leg(from, to, at) {
            Ok(leg) => self.legs.push(leg),
            Err(problem) => self.keep(problem),
        }
        self
    }

    /// Extra twists on every leg.
    ///
    /// ```
    /// let repeat = pairwise_sdk::Grid::new((1, 1), (-1, 1))
    ///     .dot("pin", (0, 0), "CT pin CT")
    ///     .twists(2)
    ///     .repeat();
    /// assert!(repeat.unwrap().legs.iter().all(|leg| leg.twists == 2));
    /// ```
    #[must_use]
    pub fn twists(mut self, count: i32) -> Grid {
        self.twists_everywhere = count;
        self
    }

    /// Extra twists on the leg that leaves a dot by this exit, instead of those given
    /// to all. The dot must have been placed before.
    ///
    /// ```
    /// use pairwise_sdk::{Grid, Side};
    ///
    /// let repeat = Grid::new((1, 1), (-1, 1))
    ///     .dot("pin", (0, 0), "CT pin CT")
    ///     .twists(1)
    ///     .twist(("pin", Side::Right), 3)
    ///     .repeat()
    ///     .unwrap();
    /// assert_eq!((repeat.legs[0].twists, repeat.legs[1].twists), (1, 3));
    /// ```
    #[must_use]
    pub fn twist(mut self, from: (&str, Side), count: i32) -> Grid {
        match self.number(from.0) {
            Ok(number) => self.twists.push(Twists { from: number, side: from.1, count }),
            Err(problem) => self.keep(problem),
        }
        self
    }

    /// The repeat.
    ///
    /// # Errors
    /// The first mistake, or a pair whose diagonal meets no dot.
    ///
    /// # Examples
    /// ```
    /// let mistaken = pairwise_sdk::Grid::new((1, 1), (-1, 1)).dot("pin", (0, 0), "CX pin CT").repeat();
    /// assert!(mistaken.unwrap_err().sentence.starts_with("at `pin`: `CX` is not a move"));
    /// ```
    pub fn repeat(mut self) -> Result<Repeat, Problem> {
        if let Some(mistake) = self.mistake {
            return Err(mistake);
        }
        let mut legs = Vec::with_capacity(2 * self.dots.len());
        for from in 0..self.dots.len() {
            for side in [Side::Left, Side::Right] {
                let given = self.legs.iter().find(|l| l.from as usize == from && l.from_side == side);
                let leg = given.copied().map_or_else(|| self.diagonal(from, side), Ok)?;
                let own = self.twists.iter().rfind(|t| t.from == from && t.side == side);
                let count = own.map_or(self.twists_everywhere, |t| t.count);
                let twists = u32::try_from(count).map_err(|_| {
                    Problem::new(format!(
                        "`{}` is to have {count} twists: give 0 or more",
                        self.dots[from].id
                    ))
                })?;
                legs.push(Leg { twists, ..leg });
            }
        }
        Ok(Repeat { across: self.across, down: self.down, stitches: std::mem::take(&mut self.dots), legs })
    }

    fn keep(&mut self, problem: Problem) {
        self.mistake.get_or_insert(problem);
    }

    fn number(&self, id: &str) -> Result<usize, Problem> {
        self.dots.iter().position(|d| d.id == id).ok_or_else(|| {
            let known: Vec<_> = self.dots.iter().map(|d| format!("`{}`", d.id)).collect();
            Problem::new(format!("no dot is called `{id}`; so far there are {}", known.join(", ")))
        })
    }

    fn place(&self, dot: usize) -> Point {
        self.dots[dot].at.unwrap_or(Point { x: 0.0, y: 0.0 })
    }

    /// The repeat, across and down, in which the dot lies at `at`.
    fn cell(&self, dot: usize, at: Point) -> Option<(i32, i32)> {
        const NEAR: f64 = 1e-6;
        let own = self.place(dot);
        let (x, y) = (at.x - own.x, at.y - own.y);
        let area = self.across.x * self.down.y - self.across.y * self.down.x;
        let across = (x * self.down.y - y * self.down.x) / area;
        let down = (self.across.x * y - self.across.y * x) / area;
        let whole = |n: f64| (n - n.round()).abs() < NEAR;
        (whole(across) && whole(down)).then(|| (across.round() as i32, down.round() as i32))
    }

    fn find_leg(&self, from: (&str, Side), to: (&str, Side), at: Point) -> Result<Leg, Problem> {
        let (start, end) = (self.number(from.0)?, self.number(to.0)?);
        if self.legs.iter().any(|l| l.from as usize == start && l.from_side == from.1) {
            return Err(Problem::new(format!("two legs leave `{}` on the {}", from.0, word(from.1))));
        }
        let cell = self.cell(end, at).ok_or_else(|| {
            Problem::new(format!(
                "`{}` never stands at {}: it stands at {} and in steps of {} and {} from there",
                to.0,
                show(at),
                show(self.place(end)),
                show(self.across),
                show(self.down)
            ))
        })?;
        Ok(leg((start, from.1), (end, to.1), cell))
    }

    /// The leg down the diagonal to the next dot.
    fn diagonal(&self, from: usize, side: Side) -> Result<Leg, Problem> {
        // Dots may be on half steps. A diagonal of a dot grid soon closes; one
        // that runs as far as this belongs to a repeat whose steps do not fit
        // the grid.
        const STEP: f64 = 0.5;
        const FARTHEST: u32 = 4000;
        let (start, lean) = (self.place(from), if side == Side::Left { -1.0 } else { 1.0 });
        for steps in 1..=FARTHEST {
            let gone = f64::from(steps) * STEP;
            let at = Point { x: start.x + lean * gone, y: start.y + gone };
            let next = (0..self.dots.len()).find_map(|dot| Some((dot, self.cell(dot, at)?)));
            if let Some((dot, cell)) = next {
                let entry = if side == Side::Left { Side::Right } else { Side::Left };
                return Ok(leg((from, side), (dot, entry), cell));
            }
        }
        Err(Problem::new(format!(
            "the pair that leaves `{}` on the {} meets no dot on its diagonal: say with a leg of its own where it goes",
            self.dots[from].id,
            word(side)
        )))
    }
}

fn leg(from: (usize, Side), to: (usize, Side), cell: (i32, i32)) -> Leg {
    Leg {
        from: from.0 as u32,
        from_side: from.1,
        to: to.0 as u32,
        to_side: to.1,
        cell_across: cell.0,
        cell_down: cell.1,
        twists: 0,
    }
}

fn point((x, y): (impl Into<f64>, impl Into<f64>)) -> Point {
    Point { x: x.into(), y: y.into() }
}

fn show(p: Point) -> String {
    format!("({}, {})", p.x, p.y)
}

fn word(side: Side) -> &'static str {
    match side {
        Side::Left => "left",
        Side::Right => "right",
    }
}

#[cfg(test)]
mod tests {
    use super::Side::{Left, Right};
    use super::*;

    fn ends(repeat: &Repeat) -> Vec<(&str, Side, &str, Side, i32, i32)> {
        let id = |n: u32| repeat.stitches[n as usize].id.as_str();
        let legs = repeat.legs.iter();
        legs.map(|l| (id(l.from), l.from_side, id(l.to), l.to_side, l.cell_across, l.cell_down)).collect()
    }

    #[test]
    fn one_dot_meets_itself_on_both_diagonals() {
        let repeat = Grid::new((1, 1), (-1, 1)).dot("pin", (0, 0), "CT pin CT").repeat().unwrap();
        assert_eq!(ends(&repeat), [("pin", Left, "pin", Right, 0, 1), ("pin", Right, "pin", Left, 1, 0)]);
    }

    // Every fourth dot is left out: pairs run past the empty place.
    #[test]
    fn a_pair_passes_an_empty_dot() {
        let repeat = Grid::new((2, 2), (-2, 2))
            .dot("top", (0, 0), "CT")
            .dot("left", (-1, 1), "CT")
            .dot("right", (1, 1), "CT")
            .repeat()
            .unwrap();
        let expected = [
            ("top", Left, "left", Right, 0, 0),
            ("top", Right, "right", Left, 0, 0),
            ("left", Left, "top", Right, 0, 1),
            ("left", Right, "left", Left, 1, 0),
            ("right", Left, "right", Right, 0, 1),
            ("right", Right, "top", Left, 1, 0),
        ];
        assert_eq!(ends(&repeat), expected);
    }

    #[test]
    fn dots_may_stand_on_half_steps() {
        let repeat =
            Grid::new((1, 1), (-1, 1)).dot("a", (0, 0), "CT").dot("b", (0.5, 0.5), "CT").repeat().unwrap();
        assert_eq!(ends(&repeat)[1], ("a", Right, "b", Left, 0, 0));
        assert_eq!(ends(&repeat)[3], ("b", Right, "a", Left, 1, 0));
    }

    // The rose ground: four pins, and two crossings without a pin that lie level
    // with the top pin, so their pairs follow no diagonal.
    #[test]
    fn a_leg_names_the_repeat_by_its_place() {
        let repeat = Grid::new((2, 2), (-2, 2))
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
            .twists(1)
            .twist(("top", Left), 0)
            .repeat()
            .unwrap();
        let ends = ends(&repeat);
        assert_eq!(ends[4], ("top", Left, "left", Right, 0, 0));
        assert_eq!(ends[6], ("left", Left, "crossing-right", Left, 0, 1));
        assert_eq!(ends[7], ("left", Right, "bottom", Left, 0, 0));
        assert_eq!(ends[8], ("right", Left, "bottom", Right, 0, 0));
        assert_eq!(ends[11], ("bottom", Right, "crossing-left", Left, 1, 0));
        let entries: std::collections::BTreeSet<_> =
            repeat.legs.iter().map(|l| (l.to, l.to_side == Right)).collect();
        assert_eq!(entries.len(), 12, "every entry is used once");
        assert_eq!(repeat.legs.iter().map(|l| l.twists).sum::<u32>(), 11);
    }

    #[test]
    fn mistakes_are_told_in_words() {
        let told = |grid: Grid| grid.repeat().unwrap_err().sentence;
        let grid = || Grid::new((2, 2), (-2, 2)).dot("a", (0, 0), "CT");
        assert!(told(grid().dot("a", (1, 1), "CT")).contains("two dots are called `a`"));
        assert!(told(grid().dot("b", (1, 1), "X")).contains("at `b`: `X` is not a move"));
        assert!(told(grid().leg(("a", Left), ("b", Left), (0, 0))).contains("no dot is called `b`"));
        assert!(told(grid().leg(("a", Left), ("a", Left), (1, 1))).contains("never stands at (1, 1)"));
        assert!(told(grid().twists(-1)).contains("-1 twists"));
        let twice = grid().leg(("a", Left), ("a", Left), (0, 4)).leg(("a", Left), ("a", Left), (0, 4));
        assert!(told(twice).contains("two legs leave `a` on the left"));
        assert!(told(Grid::new((-1, 1), (1, 1))).contains("exchange the two steps"));
        let never = Grid::new((1, 0), (0, 2.0_f64.sqrt())).dot("a", (0, 0), "CT");
        assert!(told(never).contains("meets no dot on its diagonal"));
    }
}
