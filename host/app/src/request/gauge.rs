//! Pin spacing, angle and thread.

use compare::scale::{Pricking, Scale};

use crate::cli::{GaugeArgs, PrickingArgs};
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
