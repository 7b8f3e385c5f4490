//! Directions, and how much of what is seen runs along each: its strongest
//! directions.
//!
//! Along a direction that leads back to where it began, a colour is evened out. The
//! differences that are left are those between lines in that direction: the part of
//! the spectrum whose waves run straight across it.

use std::cmp::Ordering;

use lace::Pattern;

use super::area::Area;

/// Farthest to either side that a direction leads, for each place down.
const FLATTEST: i64 = 2;
/// Longest direction, in widths or heights of the area, whichever is greater.
const LONGEST: i64 = 2;
/// Most directions.
pub const MOST_WAYS: usize = 400;

/// A direction: places to the right and down.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Way {
    /// Places to the right (negative: left).
    pub right: i64,
    /// Places down.
    pub down: i64,
}

/// How much of all differences runs along a direction, 0 to 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Strength {
    /// The direction.
    pub way: Way,
    /// How much.
    pub share: f64,
}

impl Way {
    /// Whether one is the other's mirror image, left and right exchanged.
    pub fn mirrors(self, other: Way) -> bool {
        self.right != 0 && self.right * other.down == -other.right * self.down
    }

    /// The kind of pattern that stripes in this direction make.
    pub fn stripes(self) -> Pattern {
        match (self.down, self.right.cmp(&0)) {
            (0, _) => Pattern::Rows,
            (_, Ordering::Less) => Pattern::DiagonalsLeft,
            (_, Ordering::Equal) => Pattern::Columns,
            (_, Ordering::Greater) => Pattern::DiagonalsRight,
        }
    }
}

/// The directions that lead back to where they began.
pub fn ways(area: &Area) -> Vec<Way> {
    let [wide, high] = [area.wide as i64, area.high as i64];
    let mut ways = vec![Way { right: wide, down: 0 }];
    for times in 1..=LONGEST * wide.max(high) / high {
        let (down, twist) = (times * high, times * area.twist);
        let columns =
            (-FLATTEST * down - twist).div_euclid(wide)..=(FLATTEST * down - twist).div_euclid(wide);
        for column in columns {
            let right = column * wide + twist;
            if gcd(column, times) == 1 && right.abs() <= FLATTEST * down && ways.len() < MOST_WAYS {
                ways.push(Way { right, down });
            }
        }
    }
    ways
}

fn gcd(a: i64, b: i64) -> i64 {
    if b == 0 { a.abs() } else { gcd(b, a.rem_euclid(b)) }
}

/// All directions, the strongest first.
pub fn strongest(area: &Area, ways: &[Way], values: &[f64]) -> Vec<Strength> {
    let mut all: Vec<Strength> =
        ways.iter().map(|&way| Strength { way, share: along(area, way, values) }).collect();
    all.sort_by(|a, b| b.share.total_cmp(&a.share));
    all
}

/// How much of all differences is left when values are evened out along a
/// direction.
fn along(area: &Area, Way { right, down }: Way, values: &[f64]) -> f64 {
    let [wide, whole] = [area.wide as i64, area.places() as i64];
    let long = ((right * right + down * down) as f64).sqrt();
    let lines = ((whole as f64 / long + 0.5).floor() as i64).max(1);
    let mut sums = vec![[0.0, 0.0]; lines as usize];
    let (mut sum, mut squares) = (0.0, 0.0);
    for (&value, at) in values.iter().zip(0i64..) {
        let line = (at % wide * down - at / wide * right).rem_euclid(whole) * lines / whole;
        let [count, of_line] = &mut sums[line as usize];
        *count += 1.0;
        *of_line += value;
        sum += value;
        squares += value * value;
    }
    let even = sum * sum / whole as f64;
    let all = squares - even;
    // What rounding leaves is no difference.
    if all <= 1e-9 * squares {
        return 0.0;
    }
    let mut left = -even;
    for [count, of_line] in sums {
        if count > 0.0 {
            left += of_line * of_line / count;
        }
    }
    (left / all).clamp(0.0, 1.0)
}
