//! What a ground takes, as the reports write it.

use schemars::JsonSchema;
use serde::Serialize;

/// What a ground takes at one pin spacing and angle. Areas and widths are those
/// of the lace on the pillow.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Measures {
    /// Distance of two footside pins, mm.
    pub pin_spacing_mm: f64,
    /// Angle between the footside and the diagonals of the grid, degrees.
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
    /// Crosses in a repeat; a cross of two pairs counts once.
    pub crosses_per_repeat: usize,
    /// Twists in the stitches of a repeat; each pair that twists counts.
    pub pair_twists_in_stitches_per_repeat: usize,
    /// Extra twists between the stitches of a repeat; each pair that twists counts.
    pub pair_twists_on_legs_per_repeat: usize,
    /// Moves of the hands in a repeat: crosses, twists and other moves, and the extra twists.
    pub moves_per_repeat: usize,
    /// Pairs per cm of width.
    pub pairs_per_cm: f64,
    /// Pins per square cm.
    pub pins_per_cm2: f64,
    /// Moves of the hands per square cm.
    pub moves_per_cm2: f64,
    /// Moves of the hands per cm of length of a strip one upright repeat wide.
    pub moves_per_cm: f64,
    /// How many pins a pair passes in the height of one repeat, on the average.
    pub pins_per_pair_per_repeat: f64,
}

impl From<&lace::Measures> for Measures {
    fn from(m: &lace::Measures) -> Measures {
        Measures {
            pin_spacing_mm: m.pin_spacing_mm,
            angle_from_footside_deg: m.angle_from_footside_deg,
            repeat_width_mm: m.repeat_width_mm,
            repeat_height_mm: m.repeat_height_mm,
            stitches_per_repeat: m.stitches_per_repeat,
            pairs_per_repeat: m.pairs_per_repeat,
            pins_per_repeat: m.pins_per_repeat,
            crosses_per_repeat: m.crosses_per_repeat,
            pair_twists_in_stitches_per_repeat: m.pair_twists_in_stitches_per_repeat,
            pair_twists_on_legs_per_repeat: m.pair_twists_on_legs_per_repeat,
            moves_per_repeat: m.moves_per_repeat,
            pairs_per_cm: m.pairs_per_cm,
            pins_per_cm2: m.pins_per_cm2,
            moves_per_cm2: m.moves_per_cm2,
            moves_per_cm: m.moves_per_cm,
            pins_per_pair_per_repeat: m.pins_per_pair_per_repeat,
        }
    }
}
