//! The colours of an arrangement over the whole area after which they repeat.

use lace::Arrangement;

use super::softened::SoftenedRepeat;

/// Most places looked at. Where colours repeat only after more, fewer repeats and
/// rows of repeats are looked at.
pub const MOST_PLACES: usize = 1 << 16;
/// How many times as high as wide the area is at most.
pub const TALLEST: usize = 16;
/// How far to either side the eye blends what it sees from farther away, in places,
/// and how often: the mean of so many places, taken so often, is nearly a normal
/// distribution with a standard deviation of one grid step.
const FAR: i64 = 3;
const TIMES: usize = 3;

/// An area whose edges meet: the right edge is its left edge, the lower one its
/// upper edge, `twist` places farther right. Values are given for its places row by
/// row.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Area {
    /// Places across.
    pub wide: usize,
    /// Places down.
    pub high: usize,
    /// See above.
    pub twist: i64,
}

impl Area {
    /// Number of places.
    pub fn places(&self) -> usize {
        self.wide * self.high
    }

    /// Values as they are seen from farther away, times a constant.
    fn far(&self, values: &[f64]) -> Vec<f64> {
        let mut seen = values.to_vec();
        for _ in 0..TIMES {
            seen = self.summed(&self.summed(&seen, [1, 0]), [0, 1]);
        }
        seen
    }

    /// The sums of each place and those [`FAR`] to either side of it in a direction.
    fn summed(&self, values: &[f64], step: [i64; 2]) -> Vec<f64> {
        let [wide, high] = [self.wide as i64, self.high as i64];
        let mut sums = vec![0.0; values.len()];
        for by in -FAR..=FAR {
            for y in 0..high {
                let below = y + by * step[1];
                let row = below.rem_euclid(high) * wide;
                let shift = (by * step[0] - below.div_euclid(high) * self.twist).rem_euclid(wide);
                let (from, to) = (&values[row as usize..][..self.wide], &mut sums[(y * wide) as usize..]);
                let (first, rest) = from.split_at(shift as usize);
                for (sum, value) in to.iter_mut().zip(rest.iter().chain(first)) {
                    *sum += value;
                }
            }
        }
        sums
    }
}

/// What is seen of each colour.
#[derive(Clone, Debug)]
pub struct ColoursSeen {
    /// The area.
    pub area: Area,
    /// How much of each colour is seen at each place, close by.
    pub ink: Vec<Vec<f64>>,
    /// The share of each colour in what is seen at each place, close by.
    pub near: Vec<Vec<f64>>,
    /// The same from farther away.
    pub far: Vec<Vec<f64>>,
}

impl ColoursSeen {
    /// The colours of an arrangement, given for the pairs until it and the ground
    /// both repeat.
    pub fn new(softened: &SoftenedRepeat, arrangement: &Arrangement) -> ColoursSeen {
        let (area, ink) = inks(softened, &arrangement.threads(), arrangement.colours());
        let far: Vec<Vec<f64>> = ink.iter().map(|values| area.far(values)).collect();
        ColoursSeen { area, near: shares(&ink), far: shares(&far), ink }
    }
}

/// The share of each colour at each place; none where nothing is seen.
fn shares(of_colours: &[Vec<f64>]) -> Vec<Vec<f64>> {
    let places = of_colours.first().map_or(0, Vec::len);
    let all: Vec<f64> = (0..places).map(|at| of_colours.iter().map(|values| values[at]).sum()).collect();
    let share = |(value, all): (&f64, &f64)| if *all > 0.0 { value / all } else { 0.0 };
    of_colours.iter().map(|values| values.iter().zip(&all).map(share).collect()).collect()
}

/// How much of each colour is seen at each place.
fn inks(softened: &SoftenedRepeat, colours: &[u8], count: usize) -> (Area, Vec<Vec<f64>>) {
    let own = softened.slots();
    let [across, down] = softened.size;
    let columns = (colours.len() / own).min((MOST_PLACES / (across * down)).max(1));
    let wide = columns * across;
    let most = (MOST_PLACES / (wide * down)).min(TALLEST * wide / down).max(1);
    let mut inks: Vec<Vec<f64>> = vec![Vec::new(); count];
    // Where the threads in the slots of a row of repeats were at the top.
    let mut came = Came((0..own as i64).collect());
    let colour = |came: &Came, slot: i64| colours[came.from(slot).rem_euclid(colours.len() as i64) as usize];
    let mut rows = 0;
    loop {
        let offset = softened.offset(rows as i64);
        inks.iter_mut().for_each(|ink| ink.resize((rows + 1) * down * wide, 0.0));
        for (at, threads) in softened.places.iter().enumerate() {
            let row = (rows * down + at / across) * wide;
            for column in 0..columns {
                let x = ((column * across + at % across) as i64 + offset).rem_euclid(wide as i64);
                for thread in threads {
                    let of = colour(&came, thread.slot + (column * own) as i64);
                    inks[usize::from(of)][row + x as usize] += f64::from(thread.ink);
                }
            }
        }
        rows += 1;
        came = Came((0..own as i64).map(|slot| came.from(softened.row.apply(slot))).collect());
        let again = colours.iter().zip(0..).all(|(c, slot)| colour(&came, slot) == *c);
        if again || rows == most {
            return (Area { wide, high: rows * down, twist: softened.offset(rows as i64) }, inks);
        }
    }
}

/// For each slot of a repeat, the slot at the top from which its thread came.
struct Came(Vec<i64>);

impl Came {
    fn from(&self, slot: i64) -> i64 {
        let own = self.0.len() as i64;
        self.0[slot.rem_euclid(own) as usize] + slot.div_euclid(own) * own
    }
}
