//! The scale of a run, and the pin spacing and thread in which each ground is
//! drawn. Unless a spacing is given, every ground is drawn at its own usual
//! spacing, and all of them at one scale: a millimetre of lace is as large in
//! every picture.

use catalogue::{About, Chosen};
use lace::{Arrangement, Grid, GridError, Ground, Thread};
use picture::layout::{Layout, lay_out};

use crate::error::Error;
use crate::note::Note;
use crate::window::{WINDOWS, suiting};

/// Side of the lace in a picture in a table, in pin spacings.
const SMALL_WINDOW: f64 = 4.0;
/// Side of the lace in a picture on a page, in pin spacings.
const LARGE_WINDOW: f64 = 6.0;

/// With fewer wraps of thread between two footside pins the lace is crowded:
/// there is no room for the threads side by side in a stitch.
const CROWDED_WRAPS: f64 = 8.0;

/// Pin spacing and angle.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Pricking {
    /// Distance between two footside pins, in mm; `None` for the usual spacing of
    /// each ground.
    pub pin_spacing_mm: Option<f64>,
    /// Angle between the footside and the diagonals, in degrees; `None` for the
    /// usual angle of each ground.
    pub angle_deg: Option<f64>,
}

impl Pricking {
    /// A pricking that can be used: every ground has a usable usual spacing and
    /// angle, so only what is given can be wrong.
    ///
    /// # Errors
    /// A spacing or an angle that cannot be pricked.
    pub fn checked(self) -> Result<Pricking, GridError> {
        let [spacing, angle] = [self.pin_spacing_mm.unwrap_or(4.0), self.angle_deg.unwrap_or(45.0)];
        Grid::new(spacing, angle).map(|_| self)
    }

    /// Distance between two footside pins of a ground, in mm.
    pub fn pin_spacing_mm(&self, about: &About) -> f64 {
        self.pin_spacing_mm.unwrap_or_else(|| about.usual_pin_spacing_mm())
    }

    /// The pricking grid of a ground.
    ///
    /// # Errors
    /// A spacing or an angle that cannot be pricked.
    pub fn grid(&self, about: &About) -> Result<Grid, GridError> {
        Grid::new(self.pin_spacing_mm(about), self.angle_deg.unwrap_or(about.angle))
    }
}

/// The scale and the thread of a run.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Scale {
    pricking: Pricking,
    /// The thread given; `None` for one that suits the spacing of each ground.
    thread: Option<Thread>,
    /// The widest pin spacing of the grounds shown, mm.
    widest_mm: f64,
    /// The window given for small pictures of all grounds, mm.
    window_mm: Option<f64>,
}

impl Scale {
    /// A pricking and a thread as text, such as `30 wraps/cm`; without text, a
    /// thread that suits the pin spacing of each ground.
    ///
    /// # Errors
    /// A text that is not a thread, and an unusable pricking.
    pub fn new(pricking: Pricking, thread: Option<&str>) -> Result<Scale, Error> {
        let pricking = pricking.checked()?;
        let widest_mm = pricking.pin_spacing_mm.unwrap_or(About::TORCHON_SPACING_MM);
        Ok(Scale { pricking, thread: thread.map(str::parse).transpose()?, widest_mm, window_mm: None })
    }

    /// The same scale for pictures of these grounds: its windows are wide enough
    /// for the widest pin spacing among them.
    #[must_use]
    pub fn showing<'a>(self, grounds: impl IntoIterator<Item = &'a About>) -> Scale {
        self.showing_spacings(grounds.into_iter().map(|about| self.pin_spacing_mm(about)))
    }

    /// The same for pictures of grounds with these pin spacings, in mm.
    #[must_use]
    pub fn showing_spacings(self, spacings: impl Iterator<Item = f64>) -> Scale {
        Scale { widest_mm: spacings.reduce(f64::max).unwrap_or(self.widest_mm), ..self }
    }

    /// The same scale with another pin spacing, in mm, if one is given.
    #[must_use]
    pub fn spaced(self, pin_spacing_mm: Option<f64>) -> Scale {
        let pin_spacing_mm = pin_spacing_mm.or(self.pricking.pin_spacing_mm);
        Scale { pricking: Pricking { pin_spacing_mm, ..self.pricking }, ..self }
    }

    /// The pin spacing that is given for all grounds, mm.
    pub fn given_pin_spacing_mm(&self) -> Option<f64> {
        self.pricking.pin_spacing_mm
    }

    /// The thread that is given for all grounds.
    pub fn given_thread(&self) -> Option<Thread> {
        self.thread
    }

    /// The widest pin spacing of the grounds shown, mm.
    pub fn widest_pin_spacing_mm(&self) -> f64 {
        self.widest_mm
    }

    /// Distance between two footside pins of a ground, in mm.
    pub fn pin_spacing_mm(&self, about: &About) -> f64 {
        self.pricking.pin_spacing_mm(about)
    }

    /// The thread in which a ground is drawn.
    pub fn thread(&self, about: &About) -> Thread {
        self.thread.unwrap_or_else(|| Thread::suiting(self.pin_spacing_mm(about)))
    }

    /// A note if lace of this thread will be crowded in some of these grounds.
    pub fn note<'a>(&self, grounds: impl IntoIterator<Item = &'a About>) -> Option<Note> {
        let thread = self.thread?;
        let wraps = |about: &About| thread.wraps_in(self.pin_spacing_mm(about));
        let mut crowded: Vec<&About> =
            grounds.into_iter().filter(|about| wraps(about) < CROWDED_WRAPS).collect();
        crowded.dedup_by(|one, next| one.id == next.id);
        let narrowest = crowded.iter().min_by(|a, b| wraps(a).total_cmp(&wraps(b)))?;
        let pin_spacing_mm = self.pin_spacing_mm(narrowest);
        Some(Note::Crowded {
            wraps: wraps(narrowest),
            pin_spacing_mm,
            too_thick: thread.diameter_mm() / Thread::suiting(pin_spacing_mm).diameter_mm(),
            titles: match self.pricking.pin_spacing_mm {
                Some(_) => Vec::new(),
                None => crowded.iter().map(|about| about.title.clone()).collect(),
            },
        })
    }

    /// The pricking grid of a ground.
    ///
    /// # Errors
    /// An angle that cannot be pricked.
    pub fn grid(&self, about: &About) -> Result<Grid, GridError> {
        self.pricking.grid(about)
    }

    /// Lays out the threads of a ground.
    ///
    /// # Errors
    /// An angle that cannot be pricked.
    pub fn lay_out(&self, chosen: &Chosen) -> Result<Layout, GridError> {
        self.lay_out_as(&chosen.ground, chosen.about())
    }

    /// Lays out the threads of a ground in the pricking and thread of another.
    ///
    /// # Errors
    /// An angle that cannot be pricked.
    pub fn lay_out_as(&self, ground: &Ground, about: &About) -> Result<Layout, GridError> {
        Ok(lay_out(ground, &self.grid(about)?, self.thread(about).diameter_mm()))
    }

    /// The same scale with pictures in a table that show a square of lace with this
    /// side, mm, of every ground, if one is given.
    ///
    /// # Errors
    /// A side out of [`WINDOWS`], or not a number.
    pub fn with_window(self, mm: Option<f64>) -> Result<Scale, Error> {
        match mm {
            Some(mm) if !WINDOWS.contains(&mm) => Err(Error::Window(mm)),
            _ => Ok(Scale { window_mm: mm, ..self }),
        }
    }

    /// The window given for pictures in a table, mm.
    pub fn given_window_mm(&self) -> Option<f64> {
        self.window_mm
    }

    /// The side of the square of lace that pictures in a table show, mm, unless a
    /// repeat needs more.
    pub fn window_mm(&self) -> f64 {
        self.window_mm.unwrap_or(SMALL_WINDOW * self.widest_mm)
    }

    /// The side of the square of lace that pictures on a page show, mm, unless a
    /// repeat needs more.
    pub fn large_window_mm(&self) -> f64 {
        self.window_mm() * LARGE_WINDOW / SMALL_WINDOW
    }

    /// The side of the square of lace that pictures of a ground in some arrangements
    /// show in a table, mm: what is given for all grounds, or what shows whole
    /// repeats.
    pub fn window_for<'a>(
        &self,
        ground: &Ground,
        grid: &Grid,
        arrangements: impl IntoIterator<Item = &'a Arrangement>,
    ) -> f64 {
        let usual = self.window_mm();
        self.window_mm.unwrap_or_else(|| suiting(ground, grid, arrangements, usual))
    }

    /// The side of the square of lace that the working diagram of a ground shows,
    /// mm: as many pin spacings for every ground, so that its marks are as large.
    pub fn diagram_window_mm(&self, about: &About) -> f64 {
        LARGE_WINDOW * self.pin_spacing_mm(about)
    }

    /// Pin spacing and thread of the run, for the head of a page: what is given,
    /// and that all else is as usual for each ground.
    pub fn in_words(&self) -> String {
        let thread = self.thread.map(|thread| thread.diameter_mm());
        match (self.pricking.pin_spacing_mm, thread) {
            (None, None) => "each ground at its usual pin spacing, in a thread that suits it".to_owned(),
            (None, Some(mm)) => format!("each ground at its usual pin spacing, thread {mm:.2} mm"),
            (Some(spacing), thread) => {
                let mm = thread.unwrap_or_else(|| Thread::suiting(spacing).diameter_mm());
                format!("pin spacing {spacing} mm, thread {mm:.2} mm")
            }
        }
    }

    /// The pin spacing of a ground, and whether it is the usual one: `4 mm between
    /// footside pins, as usual`.
    pub fn spacing_in_words(&self, about: &About) -> String {
        let spacing = self.pin_spacing_mm(about);
        let usual = match (self.pricking.pin_spacing_mm, about.pin_spacing_mm) {
            (Some(_), _) => "",
            (None, Some(_)) => ", as usual",
            (None, None) => " (as in torchon)",
        };
        format!("{spacing} mm between footside pins{usual}")
    }

    /// The same in a few words: `pins 4 mm apart, as usual`.
    pub fn spacing_in_short(&self, about: &About) -> String {
        let spacing = self.pin_spacing_mm(about);
        let usual = if self.pricking.pin_spacing_mm.is_none() { ", as usual" } else { "" };
        format!("pins {spacing} mm apart{usual}")
    }
}

/// A thread as it is drawn and counted: `0.33 mm thick, 30 wraps/cm`.
pub fn thread_in_words(thread: Thread) -> String {
    format!("{:.2} mm thick, {:.0} wraps/cm", thread.diameter_mm(), thread.wraps_per_cm())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::samples::chosen_at;
    use lace::samples::torchon;

    fn scale(pin_spacing_mm: Option<f64>, thread: Option<&str>) -> Result<Scale, Error> {
        Scale::new(Pricking { pin_spacing_mm, angle_deg: None }, thread)
    }

    fn ground(title: &str, spacing_mm: Option<f64>) -> Chosen {
        chosen_at(title, spacing_mm, torchon("CT pin CT", 0))
    }

    #[test]
    fn a_thread_suits_the_spacing_unless_it_is_given() {
        let torchon = ground("Torchon", None);
        let suiting = scale(Some(4.0), None).unwrap();
        assert!((suiting.thread(torchon.about()).diameter_mm() - 4.0 / 12.0).abs() < 1e-12);
        assert_eq!(suiting.note([torchon.about()]), None);
        assert_eq!((suiting.window_mm(), suiting.large_window_mm()), (16.0, 24.0));
        let thick = scale(Some(4.0), Some("15 wraps/cm")).unwrap();
        let note = thick.note([torchon.about()]);
        let Some(Note::Crowded { wraps, too_thick, titles, .. }) = note else { panic!("{note:?}") };
        assert!((wraps - 6.0).abs() < 1e-9 && (too_thick - 2.0).abs() < 1e-9, "{wraps}, {too_thick}");
        assert!(titles.is_empty());
    }

    #[test]
    fn each_ground_has_its_own_spacing_unless_one_is_given() {
        let (point, torchon) = (ground("Point", Some(1.75)), ground("Torchon", None));
        let usual = scale(None, None).unwrap().showing([point.about(), torchon.about()]);
        let spacing = |scale: &Scale| {
            [&point, &torchon].map(|chosen| scale.lay_out(chosen).unwrap().grid.pin_spacing_mm())
        };
        assert_eq!(spacing(&usual), [1.75, 4.0]);
        assert!((usual.thread(point.about()).diameter_mm() - 1.75 / 12.0).abs() < 1e-12);
        // One window for all, wide enough for the widest; alone, for its own.
        assert_eq!(usual.window_mm(), 16.0);
        assert_eq!(usual.showing([point.about()]).window_mm(), 7.0);
        assert_eq!(usual.spacing_in_words(point.about()), "1.75 mm between footside pins, as usual");
        assert_eq!(usual.spacing_in_words(torchon.about()), "4 mm between footside pins (as in torchon)");
        assert_eq!(usual.in_words(), "each ground at its usual pin spacing, in a thread that suits it");
        let given = scale(Some(3.0), None).unwrap().showing([point.about(), torchon.about()]);
        assert_eq!((spacing(&given), given.window_mm()), ([3.0, 3.0], 12.0));
        assert_eq!(given.spacing_in_short(point.about()), "pins 3 mm apart");
        assert_eq!(given.in_words(), "pin spacing 3 mm, thread 0.25 mm");
    }

    #[test]
    fn a_given_thread_crowds_the_grounds_with_narrow_spacing() {
        let (point, torchon) = (ground("Point", Some(1.75)), ground("Torchon", None));
        let both = [point.about(), torchon.about()];
        let note = scale(None, Some("30 wraps/cm")).unwrap().note(both);
        let Some(Note::Crowded { pin_spacing_mm, titles, .. }) = note else { panic!("{note:?}") };
        assert_eq!((pin_spacing_mm, titles), (1.75, vec!["Point".to_owned()]));
        assert_eq!(scale(None, Some("70 wraps/cm")).unwrap().note(both), None);
    }

    #[test]
    fn what_cannot_be_pricked_or_is_no_thread_is_refused() {
        assert!(matches!(scale(Some(-1.0), None), Err(Error::Grid(GridError::PinSpacing(_)))));
        assert!(matches!(scale(None, Some("rope")), Err(Error::Thread(_))));
        let steep = Pricking { pin_spacing_mm: None, angle_deg: Some(89.9) };
        assert!(matches!(Scale::new(steep, None), Err(Error::Grid(GridError::Angle(_)))));
    }
}
