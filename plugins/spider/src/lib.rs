//! Spiders in torchon ground. The legs, twisted, come in from both sides, are
//! woven through each other in cloth stitch, pinned in the middle and woven
//! back, so that each leaves on the side it came from.

use pairwise_sdk::Side::{self, Left, Right};
use pairwise_sdk::{About, Contribution, Grid, Problem, Repeat, Settings, Variety, contribution};

/// What is worked at the pins round the spiders: id, what the lacemaker reads, the moves.
const GROUNDS: [(&str, &str, &str); 2] = [
    ("half-half", "half stitch, pin, half stitch", "CT pin CT"),
    ("half-half-twist", "half stitch, pin, half stitch and a twist", "CT pin CTT"),
];

/// From stitch to stitch of a body, across and down: close together, in grid steps.
const CLOSE: (f64, f64) = (0.5, 0.23);

/// Spiders with two to five legs a side.
pub struct Spider;

impl Contribution for Spider {
    fn about() -> About {
        let legs = |id, title, count: i32| Variety::new(id, title).set("legs", count);
        About::filling("spider", "Spider", "torchon")
            .also_called("de", "Spinne", "common practice")
            .also_called("fr", "araignée", "common practice")
            .used_in(["Torchon"])
            .notes(
                "A round woven body in the middle of a diamond, on long twisted legs. The pairs of the legs \
                 stay, turning back at every spider; those that run between the spiders travel.",
            )
            .source("common practice, from memory")
            .choose_count("legs", "Legs on each side", 2..=5, 3)
            .choose_count("twists", "Twists on the legs", 1..=5, 2)
            .choose_count("rows", "Rows of ground between the spiders", 1..=3, 1)
            .choose("ground", "Stitch at the pins of the ground", &GROUNDS)
            .variety(
                legs("three", "Spider, three legs a side", 3).notes("Of eight pairs six stay, two travel."),
            )
            .variety(legs("two", "Spider, two legs a side", 2).notes("Of six pairs four stay, two travel."))
            .variety(
                legs("four", "Spider, four legs a side", 4).notes("Of ten pairs eight stay, two travel."),
            )
            .variety(
                legs("five", "Spider, five legs a side", 5).notes("Of twelve pairs ten stay, two travel."),
            )
    }

    fn define(settings: &Settings) -> Result<Repeat, Problem> {
        let (legs, rows) = (settings.count("legs")?, settings.count("rows")?);
        let (twists, ground) = (settings.count("twists")?, settings.pick("ground", &GROUNDS)?);
        // Dots are counted along the diagonals: `u` down to the right, `v` down
        // to the left. The spider stands in for `legs` times `legs` of them.
        let size = rows + legs;
        let dot = |u: i32, v: i32| Spot {
            id: format!("dot-{}-{}", u % size, v % size),
            at: (f64::from(u - v), f64::from(u + v)),
        };
        // The body: leg `a` of the left meets leg `b` of the right above the pin
        // and again below it. The topmost leg is 0; the last two meet at the pin.
        let last = legs - 1;
        let middle = f64::from(2 * rows + last);
        let above = |a: i32, b: i32| Spot {
            id: format!("above-{a}-{b}"),
            at: (f64::from(b - a) * CLOSE.0, middle - (f64::from(2 * last - a - b) + 0.25) * CLOSE.1),
        };
        let pin = Spot { id: "middle".to_owned(), at: (0.0, middle) };
        let woven = |a: i32, b: i32| {
            let upper = above(a, b);
            let lower = Spot { id: format!("below-{a}-{b}"), at: (upper.at.0, 2.0 * middle - upper.at.1) };
            if (a, b) == (last, last) { [pin.clone(), pin.clone()] } else { [upper, lower] }
        };

        let mut grid = Grid::new((size, size), (-size, size)).dot(&pin.id, pin.at, "CTC pin CTC");
        for (u, v) in square(size).filter(|&(u, v)| u < rows || v < rows) {
            let dot = dot(u, v);
            grid = grid.dot(&dot.id, dot.at, ground);
        }
        for (a, b) in square(legs).filter(|&meet| meet != (last, last)) {
            for stitch in woven(a, b) {
                grid = grid.dot(&stitch.id, stitch.at, "CTC");
            }
        }
        for leg in 0..legs {
            // In from the ground above and out to the ground below: what comes in
            // topmost goes out lowest.
            let ([left_in, left_out], [right_in, right_out]) = (woven(leg, 0), woven(0, leg));
            let (from, to) = (rows + leg, rows + last - leg);
            grid = lead(grid, (dot(rows - 1, from), Right), (left_in, Left), twists);
            grid = lead(grid, (dot(from, rows - 1), Left), (right_in, Right), twists);
            grid = lead(grid, (left_out, Left), (dot(to, size), Right), twists);
            grid = lead(grid, (right_out, Right), (dot(size, to), Left), twists);
        }
        for (a, b) in square(legs) {
            let [here, below] = woven(a, b);
            // Above the pin the left legs go right and the right legs left; below it back again.
            if b < last {
                let [next, before] = woven(a, b + 1);
                grid = lead(grid, (here.clone(), Right), (next, Left), 0);
                grid = lead(grid, (before, Left), (below.clone(), Right), 0);
            } else if a < last {
                grid = lead(grid, (here.clone(), Right), (below.clone(), Right), 0);
            }
            if a < last {
                let [next, before] = woven(a + 1, b);
                grid = lead(grid, (here, Left), (next, Right), 0);
                grid = lead(grid, (before, Right), (below, Left), 0);
            } else if b < last {
                grid = lead(grid, (here, Left), (below, Left), 0);
            }
        }
        grid.repeat()
    }
}

/// A stitch by its name and place.
#[derive(Clone)]
struct Spot {
    id: String,
    at: (f64, f64),
}

/// Every place of a square, counted from 0.
fn square(side: i32) -> impl Iterator<Item = (i32, i32)> {
    (0..side * side).map(move |k| (k / side, k % side))
}

/// Leads a pair from an exit to an entry.
fn lead(grid: Grid, from: (Spot, Side), to: (Spot, Side), twists: i32) -> Grid {
    let exit = (from.0.id.as_str(), from.1);
    grid.leg(exit, (&to.0.id, to.1), to.0.at).twist(exit, twists)
}

contribution!(Spider);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_variety_can_be_worked() {
        let warnings = pairwise_sdk::check::<Spider>();
        assert!(warnings.is_empty(), "{warnings:#?}");
    }

    // Threads of a repeat that travel left, stay, travel right: what the notes say.
    #[test]
    fn colours_go_where_the_notes_say() {
        let legs = [("three", 3), ("two", 2), ("four", 4), ("five", 5)];
        let expected = legs.map(|(id, legs)| (id.to_owned(), [2, 4 * legs, 2]));
        assert_eq!(pairwise_sdk::travels::<Spider>(), expected);
    }
}
