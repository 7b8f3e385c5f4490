//! How large lace is shown on a page: enlarged, so that its threads can be
//! followed.

use lace::Ground;

use crate::layout::Layout;

/// How much lace is shown, and how large.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct CloseUp {
    /// Lace shown across, mm.
    pub across: f64,
    /// How many times its size.
    pub times: f64,
}

impl CloseUp {
    /// For a picture of a width in mm: about two and a half repeats, enlarged by
    /// a whole number; of a large repeat a little more than one, rather than not
    /// enlarged.
    pub fn of(ground: &Ground, layout: &Layout, width: f64) -> CloseUp {
        let repeat = ground.upright().width() * layout.grid.step_x_mm();
        let several = width / (2.5 * repeat).max(6.0 * layout.grid.step_x_mm());
        let one = (width / (1.2 * repeat)).min(2.0);
        let times = several.max(one).floor().clamp(1.0, 5.0);
        CloseUp { across: width / times, times }
    }

    /// The size in words: `actual size`, or so many times it.
    pub fn words(self) -> String {
        if self.times == 1.0 { "actual size".to_owned() } else { format!("{} times actual size", self.times) }
    }
}
