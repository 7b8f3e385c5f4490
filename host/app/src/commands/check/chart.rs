//! Checking a chart as the component it is packed into.

use std::path::Path;

use catalogue::LeftOut;
use lace::Finding;
use sandbox::{Sandbox, Source};

use super::settings::SettingsTried;
use super::variety::VarietyFindings;
use super::{Checks, picture};
use crate::charts::{self, ChartFile};
use crate::cli::CheckArgs;
use crate::failure::Failure;
use crate::faults::TextFaults;

impl Checks {
    /// Checks a chart in a file and draws it.
    pub(super) fn chart_file(
        &mut self,
        file: &str,
        args: &CheckArgs,
        sandbox: &Sandbox,
    ) -> Result<(), Failure> {
        match charts::open(Path::new(file)) {
            Ok(chart) => self.chart(&chart, args, sandbox),
            Err(Failure::Faults(faults)) => {
                self.shown_errors = true;
                self.show(*faults);
                Ok(())
            }
            Err(failure) => Err(failure),
        }
    }

    fn chart(&mut self, chart: &ChartFile, args: &CheckArgs, sandbox: &Sandbox) -> Result<(), Failure> {
        let name = chart.text.name().to_owned();
        let plugin = match sandbox.load(&Source::Ours { name: name.clone(), bytes: chart.pack()?.into() }) {
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
        let found = if args.json { Vec::new() } else { each_once(&mut varieties) };
        if !found.is_empty() {
            self.show(chart.show(&found));
            // Already printed above, each at its line.
            varieties.retain(|variety| variety.problem.is_some());
        }
        self.varieties.extend(varieties);
        self.settings.push(SettingsTried::of(&plugin));
        if !args.no_picture {
            let out = args.picture.clone().unwrap_or_else(|| format!("{}-check.png", plugin.about.id).into());
            picture::write(&plugin, &chart.read.chart.title, &out)?;
        }
        Ok(())
    }

    fn show(&mut self, faults: TextFaults) {
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
