//! The scale and the thread in which everything in one run is drawn.

use lace::{Grid, GridError, Ground, Thread};
use picture::layout::{Layout, lay_out};

use crate::error::Error;
use crate::note::Note;

/// Side of the lace in a picture in a table, in pin spacings.
const SMALL_WINDOW: f64 = 4.0;
/// Side of the lace in a picture on a page, in pin spacings.
const LARGE_WINDOW: f64 = 6.0;

/// With fewer wraps of thread between two footside pins the lace is crowded:
/// there is no room for the threads side by side in a stitch.
const CROWDED_WRAPS: f64 = 8.0;

/// Pin spacing and angle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pricking {
    /// Distance between two footside pins, in mm.
    pub pin_spacing_mm: f64,
    /// Angle between the footside and the diagonals, in degrees; `None` for the
    /// usual angle of each ground.
    pub angle_deg: Option<f64>,
}

impl Pricking {
    /// The pricking grid of a ground, given its usual angle from the footside, in
    /// degrees.
    ///
    /// # Errors
    /// A spacing or an angle that cannot be pricked.
    pub fn grid(&self, usual_angle_deg: f64) -> Result<Grid, GridError> {
        Grid::new(self.pin_spacing_mm, self.angle_deg.unwrap_or(usual_angle_deg))
    }
}

/// The scale and the thread of a run.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Scale {
    /// Footside pin spacing, mm.
    pub pin_spacing_mm: f64,
    /// Thread diameter, mm.
    pub thread_mm: f64,
    pricking: Pricking,
    thread: Thread,
}

impl Scale {
    /// A pricking and a thread as text, such as `30 wraps/cm`; without text, a
    /// thread that suits the pin spacing.
    ///
    /// # Errors
    /// A text that is not a thread, and an unusable pricking.
    pub fn new(pricking: Pricking, thread: Option<&str>) -> Result<Scale, Error> {
        let spacing = pricking.pin_spacing_mm;
        let thread = thread.map_or_else(|| Ok(Thread::suiting(spacing)), str::parse)?;
        let scale = Scale { pin_spacing_mm: spacing, thread_mm: thread.diameter_mm(), pricking, thread };
        // Any usual angle will do for checking the spacing.
        scale.grid(45.0)?;
        Ok(scale)
    }

    /// A note if lace of this thread will be crowded.
    pub fn note(&self) -> Option<Note> {
        let wraps = self.thread.wraps_in(self.pin_spacing_mm);
        let suiting = Thread::suiting(self.pin_spacing_mm);
        (wraps < CROWDED_WRAPS).then(|| Note::Crowded {
            wraps,
            pin_spacing_mm: self.pin_spacing_mm,
            too_thick: self.thread_mm / suiting.diameter_mm(),
        })
    }

    /// The pricking grid of a ground, given its usual angle from the footside, in
    /// degrees.
    ///
    /// # Errors
    /// An angle that cannot be pricked.
    pub fn grid(&self, usual_angle_deg: f64) -> Result<Grid, GridError> {
        self.pricking.grid(usual_angle_deg)
    }

    /// Lays out the threads of a ground, given its usual angle in degrees.
    ///
    /// # Errors
    /// An angle that cannot be pricked.
    pub fn lay_out(&self, ground: &Ground, usual_angle_deg: f64) -> Result<Layout, GridError> {
        Ok(lay_out(ground, &self.grid(usual_angle_deg)?, self.thread_mm))
    }

    /// The side of the square of lace that pictures in a table show, mm.
    pub fn window_mm(&self) -> f64 {
        SMALL_WINDOW * self.pin_spacing_mm
    }

    /// The side of the square of lace that pictures on a page show, mm.
    pub fn large_window_mm(&self) -> f64 {
        LARGE_WINDOW * self.pin_spacing_mm
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn scale(pin_spacing_mm: f64, thread: Option<&str>) -> Result<Scale, Error> {
        Scale::new(Pricking { pin_spacing_mm, angle_deg: None }, thread)
    }

    #[test]
    fn a_thread_suits_the_spacing_unless_it_is_given() {
        let suiting = scale(4.0, None).unwrap();
        assert!((suiting.thread_mm - 4.0 / 12.0).abs() < 1e-12);
        assert_eq!((suiting.note(), suiting.window_mm(), suiting.large_window_mm()), (None, 16.0, 24.0));
        let thick = scale(4.0, Some("15 wraps/cm")).unwrap();
        let Some(Note::Crowded { wraps, too_thick, .. }) = thick.note() else { panic!("{:?}", thick.note()) };
        assert!((wraps - 6.0).abs() < 1e-9 && (too_thick - 2.0).abs() < 1e-9, "{wraps}, {too_thick}");
    }

    #[test]
    fn what_cannot_be_pricked_or_is_no_thread_is_refused() {
        assert!(matches!(scale(-1.0, None), Err(Error::Grid(GridError::PinSpacing(_)))));
        assert!(matches!(scale(4.0, Some("rope")), Err(Error::Thread(_))));
        let steep = Pricking { pin_spacing_mm: 4.0, angle_deg: Some(89.9) };
        assert!(matches!(Scale::new(steep, None), Err(Error::Grid(GridError::Angle(_)))));
    }
}
