//! Collecting the findings.

use crate::check::findings::{Code, Finding, Place};
use crate::repeat::map::Walk;
use crate::repeat::wiring::Wiring;
use crate::repeat::{Leg, Repeat};
use crate::words::quote::quote;

/// The findings on a repeat so far.
pub(super) struct Report<'a> {
    pub repeat: &'a Repeat,
    pub findings: Vec<Finding>,
}

impl<'a> Report<'a> {
    pub fn new(repeat: &'a Repeat) -> Report<'a> {
        Report { repeat, findings: Vec::new() }
    }

    pub fn say(&mut self, code: Code, place: Place, sentence: impl Into<String>) {
        self.findings.push(Finding { code, place, sentence: sentence.into() });
    }

    /// Runs a check and returns whether it found nothing.
    pub fn is_clean(&mut self, question: impl FnOnce(&mut Report<'a>)) -> bool {
        let before = self.findings.len();
        question(self);
        self.findings.len() == before
    }

    /// The name of a stitch, safe to show even when it is not a plain word.
    pub fn id(&self, stitch: usize) -> String {
        quote(&self.repeat.stitches[stitch].id)
    }

    /// The names of stitches, each once.
    pub fn ids(&self, stitches: impl IntoIterator<Item = usize>) -> Vec<String> {
        let mut ids: Vec<String> = Vec::new();
        for s in stitches {
            let id = self.id(s);
            if !ids.contains(&id) {
                ids.push(id);
            }
        }
        ids
    }

    pub fn leg_place(&self, leg: &Leg) -> Place {
        Place::Leg { from: self.id(leg.from.stitch), side: leg.from.side }
    }

    /// The names of the stitches round a face.
    pub fn ids_round(&self, face: &[Walk], wiring: &Wiring) -> Vec<String> {
        self.ids(face.iter().map(|w| {
            let leg = &self.repeat.legs[wiring.leg_of_edge(w.edge)];
            if w.along { leg.from.stitch } else { leg.to.stitch }
        }))
    }
}
