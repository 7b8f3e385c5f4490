//! Whether some stitch can be worked first: no stitches wait for each other in a
//! circle.

use crate::check::findings::{Code, Place};
use crate::check::report::Report;
use crate::repeat::map::{Walk, is_directed};
use crate::repeat::wiring::Wiring;

pub(super) fn has_a_beginning(report: &mut Report<'_>, wiring: &Wiring, faces: &[Vec<Walk>]) -> bool {
    report.is_clean(|report| {
        for face in faces.iter().filter(|f| is_directed(f)) {
            let ids = report.ids_round(face, wiring);
            let sentence = match &ids[..] {
                [one] => format!("stitch {one} waits for itself"),
                _ => "each of these stitches waits for the one before it, in a circle".to_owned(),
            };
            report.say(Code::NoOrder, Place::Stitches(ids), sentence);
        }
    })
}
