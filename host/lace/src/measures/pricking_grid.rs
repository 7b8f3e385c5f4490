//! Measures that need no picture: pairs, pins and moves of a ground, per
//! repeat and at a pin spacing.

use serde::Serialize;
use thiserror::Error;

use crate::ground::Ground;
use crate::repeat::{Point, point};
use crate::stitch::Move;

/// A pricking grid: how grid steps become millimetres.
///
/// Footside pins stand two rows apart; the diagonals make an angle with the
/// footside. A row is half the pin spacing high, a column the row height times
/// the tangent of the angle wide (plain trigonometry).
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Grid {
    pin_spacing_mm: f64,
    angle_deg: f64,
    step_x_mm: f64,
    step_y_mm: f64,
}

/// Why a pin spacing or angle cannot be used.
#[derive(Clone, Copy, Debug, Error, PartialEq)]
pub enum GridError {
    /// Pin spacing out of range.
    #[error("a pin spacing of {0} mm cannot be pricked: give 0.5 to 100 mm")]
    PinSpacing(f64),
    /// Angle out of range.
    #[error("a grid angle of {0} degrees from the footside cannot be pricked: give 20 to 75")]
    Angle(f64),
}

impl Grid {
    /// A grid from the footside pin spacing in millimetres (0.5 to 100) and
    /// the angle in degrees between footside and diagonals (20 to 75).
    ///
    /// # Errors
    /// [`GridError`] when one is out of range or not a number.
    pub fn new(pin_spacing_mm: f64, angle_deg: f64) -> Result<Grid, GridError> {
        if !(0.5..=100.0).contains(&pin_spacing_mm) {
            return Err(GridError::PinSpacing(pin_spacing_mm));
        }
        if !(20.0..=75.0).contains(&angle_deg) {
            return Err(GridError::Angle(angle_deg));
        }
        let step_y_mm = pin_spacing_mm / 2.0;
        // Exact at 45 degrees, where the tangent of pi/4 is not.
        let slope = if angle_deg == 45.0 { 1.0 } else { libm::tan(angle_deg.to_radians()) };
        Ok(Grid { pin_spacing_mm, angle_deg, step_x_mm: step_y_mm * slope, step_y_mm })
    }

    /// Spacing of the footside pins, mm.
    pub fn pin_spacing_mm(&self) -> f64 {
        self.pin_spacing_mm
    }

    /// Angle between footside and diagonals, degrees.
    pub fn angle_deg(&self) -> f64 {
        self.angle_deg
    }

    /// Width of a grid step, mm.
    pub fn step_x_mm(&self) -> f64 {
        self.step_x_mm
    }

    /// Height of a grid step (one row), mm.
    pub fn step_y_mm(&self) -> f64 {
        self.step_y_mm
    }

    /// A place in grid steps, in millimetres.
    pub fn mm(&self, place: Point) -> Point {
        point(place.x * self.step_x_mm, place.y * self.step_y_mm)
    }
}

/// What a ground takes, at one pricking grid. Areas and widths are those of
/// the lace on the pillow.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Measures {
    /// Footside pin spacing, mm.
    pub pin_spacing_mm: f64,
    /// Angle of the diagonals from the footside, degrees.
    pub angle_from_footside_deg: f64,
    /// Width of an upright repeat, mm.
    pub repeat_width_mm: f64,
    /// Height of an upright repeat, mm.
    pub repeat_height_mm: f64,
    /// Stitches in a repeat.
    pub stitches_per_repeat: usize,
    /// Pairs that hang across an upright repeat.
    pub pairs_per_repeat: usize,
    /// Pins in a repeat.
    pub pins_per_repeat: usize,
    /// Crosses in a repeat (a pair cross counts once).
    pub crosses_per_repeat: usize,
    /// Twists in a repeat, counting each pair that twists, in stitches.
    pub pair_twists_in_stitches_per_repeat: usize,
    /// Extra twists on legs in a repeat, counting each pair that twists.
    pub pair_twists_on_legs_per_repeat: usize,
    /// Moves of the hands in a repeat: C, T and other moves, extra twists.
    pub moves_per_repeat: usize,
    /// Pairs per centimetre of width.
    pub pairs_per_cm: f64,
    /// Pins per square centimetre.
    pub pins_per_cm2: f64,
    /// Moves of the hands per square centimetre.
    pub moves_per_cm2: f64,
    /// Moves of the hands per centimetre of length of one upright repeat's width.
    pub moves_per_cm: f64,
    /// How many pins a pair passes, on the average, in one repeat's height.
    pub pins_per_pair_per_repeat: f64,
}

impl Ground {
    /// What the ground takes at a pricking grid.
    pub fn measures(&self, grid: &Grid) -> Measures {
        let works = || self.stitches().iter().map(|s| &s.stitch);
        let count = |wanted: &dyn Fn(Move) -> usize| {
            works().flat_map(|w| w.moves()).map(|&m| wanted(m)).sum::<usize>()
        };
        let pins = works().filter(|w| w.pin().is_some()).count();
        let on_legs: usize = self.legs().iter().map(|l| l.twists as usize).sum();
        let moves = count(&|_| 1) + on_legs;
        let width = self.upright().width * grid.step_x_mm();
        let height = self.upright().step_down.y * grid.step_y_mm();
        let area_cm2 = width * height / 100.0;
        let pairs = self.hanging().pairs().len();
        Measures {
            pin_spacing_mm: grid.pin_spacing_mm(),
            angle_from_footside_deg: grid.angle_deg(),
            repeat_width_mm: width,
            repeat_height_mm: height,
            stitches_per_repeat: self.stitches().len(),
            pairs_per_repeat: pairs,
            pins_per_repeat: pins,
            crosses_per_repeat: count(&|m| usize::from(matches!(m, Move::Cross | Move::PairCross))),
            pair_twists_in_stitches_per_repeat: count(&|m| match m {
                Move::Twist => 2,
                Move::TwistLeft | Move::TwistRight | Move::PairTwist => 1,
                Move::Cross | Move::PairCross => 0,
            }),
            pair_twists_on_legs_per_repeat: on_legs,
            moves_per_repeat: moves,
            pairs_per_cm: pairs as f64 / (width / 10.0),
            pins_per_cm2: pins as f64 / area_cm2,
            moves_per_cm2: moves as f64 / area_cm2,
            moves_per_cm: moves as f64 / (height / 10.0),
            pins_per_pair_per_repeat: 2.0 * pins as f64 / pairs as f64,
        }
    }
}
