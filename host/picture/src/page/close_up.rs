//! Close-ups: how much lace a picture on a page shows, enlarged so that its
//! threads can be followed.

use lace::Ground;

use crate::layout::Layout;

/// How much lace is shown, and how much it is enlarged.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct CloseUp {
    /// Width of lace shown, mm.
    pub across: f64,
    /// Enlargement: 1 is actual size.
    pub times: f64,
}

impl CloseUp {
    /// The close-up for a picture of a width in mm: about two and a half repeats,
    /// enlarged by a whole number. A large repeat is shown little more than once
    /// rather than not enlarged.
    pub fn of(ground: &Ground, layout: &Layout, width: f64) -> CloseUp {
        let repeat = ground.upright().width() * layout.grid.step_x_mm();
        let several = width / (2.5 * repeat).max(6.0 * layout.grid.step_x_mm());
        let one = (width / (1.2 * repeat)).min(2.0);
        let times = several.max(one).floor().clamp(1.0, 5.0);
        CloseUp { across: width / times, times }
    }

    /// The size in words: `actual size`, or `4 times actual size`.
    pub fn words(self) -> String {
        if self.times == 1.0 { "actual size".to_owned() } else { format!("{} times actual size", self.times) }
    }
}
