//! Pin spacing, angle and thread.

use compare::scale::{Pricking, Scale};

use crate::cli::{GaugeArgs, PrickingArgs, WindowArgs};
use crate::failure::Failure;

impl From<PrickingArgs> for Pricking {
    fn from(args: PrickingArgs) -> Pricking {
        Pricking { pin_spacing_mm: args.pin_spacing, angle_deg: args.angle }
    }
}

/// Reads the pricking and the thread.
pub fn scale(args: &GaugeArgs) -> Result<Scale, Failure> {
    Ok(Scale::new(args.pricking.into(), args.thread.as_deref())?)
}

/// Reads the pricking, the thread and how much lace pictures show.
pub fn windowed_scale(args: &GaugeArgs, window: &WindowArgs) -> Result<Scale, Failure> {
    Ok(scale(args)?.with_window(window.window)?)
}
