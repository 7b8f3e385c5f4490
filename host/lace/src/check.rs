//! The check of a repeat: all findings at once, errors and warnings.
//!
//! Each check runs only when the checks it depends on have passed: the faces of
//! a wiring with loose ends mean nothing.

mod cohesion;
mod descent;
mod drawing;
mod faces;
pub mod findings;
mod lattice;
mod names;
mod order;
mod passing;
mod pieces;
mod places;
mod report;
mod sizes;
mod stitches;
mod wiring;

use crate::check::findings::{Code, Finding, Place};
use crate::check::report::Report;
use crate::lattice::point::Point;
use crate::lattice::upright::UprightLattice;
use crate::repeat::Repeat;
use crate::repeat::balanced::balanced_places;
use crate::repeat::wiring::{Wired, Wiring};
use crate::threads::braid::Braid;
use crate::threads::routes::Routes;

/// What the check has established about a repeat without errors.
pub(crate) struct Sound {
    pub wiring: Wiring,
    pub upright: UprightLattice,
    pub routes: Routes,
    pub braid: Braid,
    /// Where each stitch lies, in grid steps: as defined, or balanced.
    pub places: Vec<Point>,
}

/// A repeat that has been checked.
pub(crate) struct Examined {
    /// Errors first, in a stable order.
    pub findings: Vec<Finding>,
    /// Present when there is no error.
    pub sound: Option<Sound>,
}

/// All findings on a repeat, errors first, in a stable order. The limits of its
/// size are in [`crate::limits`].
///
/// # Examples
/// ```
/// use lace::{Code, Lattice, Repeat, check, point};
///
/// let lattice = Lattice { across: point(1.0, 1.0), down: point(-1.0, 1.0) };
/// let empty = Repeat { lattice, stitches: Vec::new(), legs: Vec::new() };
/// let findings = check(&empty);
/// assert_eq!(findings[0].code, Code::NoStitches);
/// assert_eq!(findings[0].sentence, "the repeat has no stitches");
/// ```
pub fn check(repeat: &Repeat) -> Vec<Finding> {
    examine(repeat).findings
}

/// Checks a repeat and keeps the intermediate results.
pub(crate) fn examine(repeat: &Repeat) -> Examined {
    let mut report = Report::new(repeat);
    let sound = questions(&mut report);
    let mut findings = report.listed();
    findings.sort_by_key(|f| !f.is_error());
    let sound = sound.filter(|_| !findings.iter().any(Finding::is_error));
    Examined { findings, sound }
}

fn questions(report: &mut Report<'_>) -> Option<Sound> {
    let repeat = report.repeat;
    if repeat.stitches.is_empty() {
        report.say(Code::NoStitches, Place::Repeat, "the repeat has no stitches");
        return None;
    }
    if !sizes::are_within_limits(report) {
        return None;
    }
    names::are_plain_words(report);
    let numbers = places::are_good(report);
    let wiring = wiring::uses_each_end_once(report);
    stitches::do_something(report);
    let upright = if numbers { lattice::stands_upright(report) } else { None };
    let wiring = wiring?;
    if !pieces::are_one(report, wiring.map()) {
        return None;
    }
    let faces = wiring.map().faces();
    let planar = faces::cover_the_torus_once(report, &wiring, &faces);
    let ordered = order::has_a_beginning(report, &wiring, &faces);
    let upright = upright?;
    if !planar || !ordered {
        return None;
    }
    let wired = Wired { repeat, wiring: &wiring, upright: &upright };
    descent::leads_down(report, wired);
    if !sizes::pairs_are_within_limits(report, wired) {
        return None;
    }
    let given: Option<Vec<Point>> = repeat.stitches.iter().map(|s| s.at).collect();
    let places = given.unwrap_or_else(|| balanced_places(repeat));
    if !sizes::drawing_is_within_limits(report, &places) {
        return None;
    }
    let routes = Routes::new(repeat, &wiring);
    let braid = Braid::new(repeat, &routes);
    cohesion::hangs_together(report, &braid);
    drawing::is_even(report, &wiring, &faces);
    Some(Sound { wiring, upright, routes, braid, places })
}
