//! The grid on which a pricking is drawn, and what a ground needs on it: pairs,
//! pins and moves by width, length and area.

use thiserror::Error;

use crate::ground::Ground;
use crate::lattice::point::{Point, point};
use crate::limits::{GRID_ANGLE_DEG, PIN_SPACING_MM};

/// A pricking grid: how grid steps become millimetres.
///
/// Footside pins stand two rows apart, so a row is half the pin spacing high.
/// The width of a column is the row height times the tangent of the angle
/// between the diagonals and the footside.
#[derive(Clone, Copy, Debug, PartialEq)]
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
    #[error("a pin spacing of {0} mm cannot be pricked: give {min} to {max} mm", min = PIN_SPACING_MM[0], max = PIN_SPACING_MM[1])]
    PinSpacing(f64),
    /// Angle out of range.
    #[error("a grid angle of {0} degrees from the footside cannot be pricked: give {min} to {max}", min = GRID_ANGLE_DEG[0], max = GRID_ANGLE_DEG[1])]
    Angle(f64),
}

impl Grid {
    /// A grid from the footside pin spacing in millimetres
    /// ([`PIN_SPACING_MM`]) and the angle in degrees between footside and
    /// diagonals ([`GRID_ANGLE_DEG`]).
    ///
    /// # Errors
    /// [`GridError`] when either is out of range or not a number.
    pub fn new(pin_spacing_mm: f64, angle_deg: f64) -> Result<Grid, GridError> {
        let within = |[least, most]: [f64; 2], value: f64| (least..=most).contains(&value);
        if !within(PIN_SPACING_MM, pin_spacing_mm) {
            return Err(GridError::PinSpacing(pin_spacing_mm));
        }
        if !within(GRID_ANGLE_DEG, angle_deg) {
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

/// What a ground needs on one pricking grid. Areas and widths are those of the
/// lace on the pillow.
#[derive(Clone, Copy, Debug, PartialEq)]
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
    /// Moves of the hands per centimetre of length, across one upright repeat.
    pub moves_per_cm: f64,
    /// How many pins a pair passes in the height of one repeat, on average.
    pub pins_per_pair_per_repeat: f64,
}

impl Ground {
    /// What the ground needs on a pricking grid.
    pub fn measures(&self, grid: &Grid) -> Measures {
        let counts = self.counts();
        let width = self.upright().width() * grid.step_x_mm();
        let height = self.upright().row_height() * grid.step_y_mm();
        let area_cm2 = width * height / 100.0;
        let [pairs, pins, moves] = [counts.pairs, counts.pins, counts.moves].map(|n| n as f64);
        Measures {
            pin_spacing_mm: grid.pin_spacing_mm(),
            angle_from_footside_deg: grid.angle_deg(),
            repeat_width_mm: width,
            repeat_height_mm: height,
            stitches_per_repeat: counts.stitches,
            pairs_per_repeat: counts.pairs,
            pins_per_repeat: counts.pins,
            crosses_per_repeat: counts.crosses,
            pair_twists_in_stitches_per_repeat: counts.twists_in_stitches,
            pair_twists_on_legs_per_repeat: counts.twists_on_legs,
            moves_per_repeat: counts.moves,
            pairs_per_cm: pairs / (width / 10.0),
            pins_per_cm2: pins / area_cm2,
            moves_per_cm2: moves / area_cm2,
            moves_per_cm: moves / (height / 10.0),
            pins_per_pair_per_repeat: 2.0 * pins / pairs,
        }
    }
}
