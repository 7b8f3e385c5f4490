//! The colours of an arrangement over the whole area after which they repeat.

use lace::Arrangement;

use super::softened::SoftenedRepeat;

/// Most places looked at. Where colours repeat only after more, fewer repeats and
/// rows of repeats are looked at.
pub const MOST_PLACES: usize = 1 << 16;
/// How many times as high as wide the area is at most.
pub const TALLEST: usize = 16;

/// An area whose edges meet: the right edge is its left edge, the lower one its
/// upper edge, `twist` places farther right. Values are given for its places row by
/// row.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Area {
    /// Places across.
    pub wide: usize,
    /// Places down.
    pub high: usize,
    /// See above.
    pub twist: i64,
    /// Width and height of a place, in grid steps down the lace.
    pub place: [f64; 2],
}

impl Area {
    /// Number of places.
    pub fn places(&self) -> usize {
        self.wide * self.high
    }
}

/// What is seen of each colour.
#[derive(Clone, Debug)]
pub struct ColoursSeen {
    /// The area.
    pub area: Area,
    /// How much of each colour is seen at each place.
    pub ink: Vec<Vec<f64>>,
    /// The share of each colour in what is seen at each place.
    pub near: Vec<Vec<f64>>,
}

impl ColoursSeen {
    /// The colours of an arrangement, given for the pairs until it and the ground
    /// both repeat.
    pub fn new(softened: &SoftenedRepeat, arrangement: &Arrangement) -> ColoursSeen {
        let (area, ink) = inks(softened, &arrangement.threads(), arrangement.colours());
        ColoursSeen { area, near: shares(&ink), ink }
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
            let (high, twist) = (rows * down, softened.offset(rows as i64));
            return (Area { wide, high, twist, place: softened.place }, inks);
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
