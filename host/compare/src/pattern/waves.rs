//! Waves: what is seen of a colour, taken apart into even stripes of every width and
//! direction. Together they are the discrete Fourier transform of the area.

use super::area::Area;
use super::fourier::{Complex, Transform, turned};

/// Finest waves: the square of how many there are to a grid step. Finer ones are
/// blended away.
const FINEST: f64 = 1.0;
/// Waves within fifteen degrees of level or straight down count as such: the
/// tangent of that.
const LEANS: f64 = 0.268;

/// The directions told apart: stripes straight down, level, and slanting down to
/// the left and to the right.
pub const DIRECTIONS: usize = 4;

/// How stripes of one width and direction follow each other.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wave {
    /// How many there are across the area.
    pub across: i64,
    /// How many there are down it, times its width in places.
    pub down: i64,
    /// The direction in which the stripes run, as in [`DIRECTIONS`].
    pub direction: usize,
    /// The square of how many there are to a grid step.
    pub fine: f64,
}

/// How much of each wave there is, as a complex number.
pub type Spectrum = Vec<Complex>;

/// The waves of an area, and how to find them.
pub struct Waves {
    area: Area,
    /// Those that the eye could tell, one of each two that differ in sign only:
    /// by their number across, then down.
    pub all: Vec<Wave>,
    transform: Transform,
    /// For each row and number of waves across, the turn that the twist asks for.
    turns: Vec<Complex>,
}

impl Waves {
    /// The waves of an area.
    pub fn new(area: Area) -> Waves {
        let [wide, high] = [area.wide as i64, area.high as i64];
        let mut all = Vec::new();
        for across in 0..(wide + 1) / 2 {
            let columns = across as f64 / (wide as f64 * area.place[0]);
            if columns * columns > FINEST {
                break;
            }
            let most = ((wide * high) as f64 * area.place[1]).min(((wide * high - 1) / 2) as f64) as i64;
            // Such that the area meets its copy below.
            let mut down = -most + (most - across * area.twist).rem_euclid(wide);
            while down <= most {
                let rows = down as f64 / ((wide * high) as f64 * area.place[1]);
                let fine = columns * columns + rows * rows;
                if fine <= FINEST && (across > 0 || down > 0) {
                    all.push(Wave { across, down, direction: direction(columns, rows), fine });
                }
                down += wide;
            }
        }
        let widest = all.last().map_or(1, |wave| wave.across + 1);
        let turns = (0..high * widest).map(|at| {
            let (row, across) = (at / widest, at % widest);
            turned((across * area.twist * row).rem_euclid(wide * high), wide * high)
        });
        Waves { area, transform: Transform::new(area.wide, area.high), turns: turns.collect(), all }
    }

    /// How much of each wave there is in values for each place.
    pub fn spectrum(&self, values: &[f64]) -> Spectrum {
        let [wide, high] = [self.area.wide, self.area.high];
        let widest = self.turns.len() / high;
        let mut columns = vec![Vec::with_capacity(high); widest];
        for (row, turns) in values.chunks(wide).zip(self.turns.chunks(widest)) {
            let row = self.transform.across(row.iter().map(|&value| [value, 0.0]).collect());
            for (column, (value, turn)) in columns.iter_mut().zip(row.iter().zip(turns)) {
                column
                    .push([value[0] * turn[0] + value[1] * turn[1], value[1] * turn[0] - value[0] * turn[1]]);
            }
        }
        let columns: Vec<Spectrum> = columns.into_iter().map(|column| self.transform.down(column)).collect();
        let of = |wave: &Wave| {
            let row = (wave.down + wave.across * self.area.twist).div_euclid(wide as i64);
            columns[wave.across as usize][row.rem_euclid(high as i64) as usize]
        };
        let all = (wide * high) as f64;
        self.all.iter().map(|wave| of(wave).map(|part| part / all)).collect()
    }
}

/// The direction of stripes of which there are so many to a grid step across and down.
fn direction(across: f64, down: f64) -> usize {
    match (across.abs(), down.abs()) {
        (x, y) if y <= LEANS * x => 0,
        (x, y) if x <= LEANS * y => 1,
        _ if (across > 0.0) == (down > 0.0) => 2,
        _ => 3,
    }
}
