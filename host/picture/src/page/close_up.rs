//! Close-ups: how much lace a picture on a page shows, enlarged so that its
//! threads can be followed.

use lace::Ground;

use crate::colour::Rgb;
use crate::layout::Layout;

/// How much lace is shown, and how much it is enlarged.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct CloseUp {
    /// Width of lace shown, mm.
    pub across: f64,
    /// Enlargement: 1 is actual size.
    pub times: f64,
    /// Whether a whole repeat of the colours is in it.
    pub whole: bool,
}

impl CloseUp {
    /// The close-up for a picture of a width in mm: about two and a half repeats,
    /// enlarged by a whole number. A large repeat is shown little more than once
    /// rather than not enlarged. Where a repeat of the colours, which hang two to a
    /// pair, would not be whole, it is enlarged less, if that helps.
    pub fn of(ground: &Ground, layout: &Layout, colours: &[Rgb], width: f64) -> CloseUp {
        let repeat = ground.upright().width() * layout.grid.step_x_mm();
        let several = width / (2.5 * repeat).max(6.0 * layout.grid.step_x_mm());
        let one = (width / (1.2 * repeat)).min(2.0);
        let times = several.max(one).floor().clamp(1.0, 5.0);
        let pairs = ground.pairs_until_both_repeat(pairs_until_repeat(colours));
        let coloured = repeat * (pairs / ground.hanging().pairs().len()) as f64;
        let fits = (width / coloured).floor();
        let times = if fits >= 1.0 { times.min(fits) } else { times };
        CloseUp { across: width / times, times, whole: coloured <= width / times }
    }

    /// The size in words: `actual size`, or `4 times actual size`.
    pub fn words(self) -> String {
        if self.times == 1.0 { "actual size".to_owned() } else { format!("{} times actual size", self.times) }
    }
}

/// After how many pairs colours repeat, which hang two to a pair.
fn pairs_until_repeat(colours: &[Rgb]) -> usize {
    let repeats = |pairs: &usize| colours.iter().zip(&colours[2 * pairs..]).all(|(a, b)| a == b);
    let pairs = colours.len() / 2;
    (1..pairs).filter(|by| pairs.is_multiple_of(*by)).find(repeats).unwrap_or(pairs)
}

#[cfg(test)]
mod tests {
    use lace::Grid;
    use lace::samples::torchon;

    use super::*;
    use crate::layout::lay_out;

    #[test]
    fn a_whole_repeat_of_the_colours_is_shown_where_it_fits() {
        let ground = Ground::new(torchon("CT pin CT", 0)).unwrap();
        let layout = lay_out(&ground, &Grid::new(4.0, 45.0).unwrap(), 1.0 / 3.0);
        // Two pairs hang to 4 mm.
        let hung = |pairs: usize| -> Vec<Rgb> {
            (0..2 * pairs).map(|thread| if thread < 2 { Rgb::BLACK } else { Rgb::WHITE }).collect()
        };
        let of = |colours: &[Rgb]| CloseUp::of(&ground, &layout, colours, 80.0);
        for (pairs, times, whole) in [(1, 5.0, true), (4, 5.0, true), (10, 4.0, true), (60, 5.0, false)] {
            let close_up = of(&hung(pairs));
            assert_eq!((close_up.times, close_up.whole), (times, whole), "{pairs}");
        }
        let twice = [hung(10), hung(10)].concat();
        assert_eq!(of(&twice), of(&hung(10)));
    }
}
