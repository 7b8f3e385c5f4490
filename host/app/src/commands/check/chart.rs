//! Checking a chart as the component it is packed into.

use std::path::Path;

use catalogue::LeftOut;
use lace::Finding;
use sandbox::Source;

use super::picture::Picture;
use super::settings::SettingsTried;
use super::variety::VarietyFindings;
use super::{Checks, Wanted, sits_in};
use crate::charts::{self, ChartFile};
use crate::failure::Failure;
use crate::faults::TextFaults;
use crate::sources::Grounds;

impl Checks {
    /// Checks a chart in a file and draws it.
    pub(super) fn chart_file(
        &mut self,
        file: &Path,
        wanted: &Wanted<'_>,
        grounds: &Grounds<'_>,
    ) -> Result<(), Failure> {
        let text = charts::text(file)?;
        if piece::is_piece(&text) {
            return self.piece(file, &text, wanted, grounds);
        }
        match charts::read(file, &text) {
            Ok(chart) => self.chart(&chart, wanted, grounds),
            Err(Failure::Faults(faults)) => {
                self.shown_errors = true;
                self.show(*faults);
                Ok(())
            }
            Err(failure) => Err(failure),
        }
    }

    fn chart(
        &mut self,
        chart: &ChartFile,
        wanted: &Wanted<'_>,
        grounds: &Grounds<'_>,
    ) -> Result<(), Failure> {
        let name = chart.text.name().to_owned();
        let plugin = match grounds
            .sandbox()?
            .load(&Source::Ours { name: name.clone(), bytes: chart.pack()?.into() })
        {
            Ok(plugin) => plugin,
            Err(why) => {
                self.left_out.push(LeftOut { file: name, ..LeftOut::from(&why) });
                return Ok(());
            }
        };
        let varieties = plugin.about.varieties.keys();
        let mut varieties: Vec<VarietyFindings> =
            varieties.map(|id| VarietyFindings::of(&plugin, id)).collect();
        self.shown_errors |= varieties.iter().any(|variety| variety.findings.iter().any(Finding::is_error));
        let found = if wanted.json { Vec::new() } else { each_once(&mut varieties) };
        if !found.is_empty() {
            self.show(chart.show(&found));
            // Already printed above, each at its line.
            varieties.retain(|variety| variety.problem.is_some());
        }
        self.varieties.extend(varieties);
        self.settings.push(SettingsTried::of(&plugin));
        if let Some(unknown) = sits_in::unknown(&plugin.about, grounds)? {
            let at = chart.read.sits_in.clone().map_or_else(Vec::new, |at| vec![at.into()]);
            let fault = chart.text.fault(at, unknown.sentence, unknown.remedy);
            self.shown_errors = true;
            self.show(chart.text.report([fault]));
        }
        self.pictures.extend(Picture::of(&plugin, wanted.pictures));
        Ok(())
    }

    pub(super) fn show(&mut self, faults: TextFaults) {
        self.shown.push_str(&format!("{:?}\n", miette::Report::new(faults)));
    }
}

/// The findings of all varieties, each once, with the varieties it was found in
/// unless it was found in all of them.
fn each_once(varieties: &mut [VarietyFindings]) -> Vec<(Finding, String)> {
    let mut found: Vec<(Finding, Vec<String>)> = Vec::new();
    for variety in varieties.iter_mut() {
        for fault in variety.findings.drain(..) {
            match found.iter_mut().find(|(finding, _)| *finding == fault) {
                Some((_, whose)) => whose.push(variety.name.clone()),
                None => found.push((fault, vec![variety.name.clone()])),
            }
        }
    }
    let everywhere = varieties.len();
    let whose = |names: Vec<String>| match names.len() {
        n if n == everywhere => String::new(),
        _ => format!(" in {}", names.join(", ")),
    };
    found.into_iter().map(|(finding, names)| (finding, whose(names))).collect()
}
