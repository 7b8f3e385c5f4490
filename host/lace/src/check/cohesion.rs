//! Whether the lace hangs together.

use crate::check::findings::{Code, Place};
use crate::check::report::Report;
use crate::threads::braid::Braid;
use crate::threads::cohesion::layers;

pub(super) fn hangs_together(report: &mut Report<'_>, braid: &Braid) {
    let layers = layers(report.repeat.stitches.len(), braid);
    if layers.len() > 1 {
        let top = Place::Stitches(report.ids(layers[0].iter().copied()));
        report.say(Code::LiftsOff, top, "threads that enter here go under none of the others");
    }
}
