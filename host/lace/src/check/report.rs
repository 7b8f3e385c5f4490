//! Collecting the findings.

use indexmap::IndexMap;

use crate::check::findings::{Code, Finding, Place};
use crate::limits::MAX_FINDINGS;
use crate::repeat::map::Walk;
use crate::repeat::wiring::Wiring;
use crate::repeat::{Leg, Repeat};
use crate::words::number::count;
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

    /// The findings, at most [`MAX_FINDINGS`] of each code; the last of them says how
    /// many more there are.
    pub fn listed(self) -> Vec<Finding> {
        let mut found: IndexMap<Code, usize> = IndexMap::new();
        for finding in &self.findings {
            *found.entry(finding.code).or_default() += 1;
        }
        let mut before: IndexMap<Code, usize> = IndexMap::new();
        let keep = |mut finding: Finding| {
            let nth = before.entry(finding.code).or_default();
            *nth += 1;
            let more = found[&finding.code] - *nth;
            if *nth == MAX_FINDINGS && more > 0 {
                let more = count(more, "more place", "more places");
                finding.sentence = format!("{}; the same is found in {more}", finding.sentence);
            }
            (*nth <= MAX_FINDINGS).then_some(finding)
        };
        self.findings.into_iter().filter_map(keep).collect()
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
