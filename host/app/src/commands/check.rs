//! `check`: all findings on contributions and charts, variety by variety, and
//! whether they give the same answer twice for the same choices.

mod chart;
mod picture;
mod settings;
mod targets;
mod variety;
mod watch;

use catalogue::text::path_name;
use catalogue::{GroundName, LeftOut};
use report::check::{Check, Settings, Variety};
use sandbox::{Plugin, Sandbox, Source};

use crate::cli::CheckArgs;
use crate::commands::{Outcome, report_failures};
use crate::failure::Failure;
use crate::output::{print, warn};
use crate::request::sources::Sources;
use crate::sources::{self, open_sandbox};

use settings::SettingsTried;
use targets::Targets;
use variety::VarietyFindings;

/// What was checked, with the results.
#[derive(Default)]
struct Checks {
    varieties: Vec<VarietyFindings>,
    settings: Vec<SettingsTried>,
    left_out: Vec<LeftOut>,
    /// Findings in charts, each already shown at its line.
    shown: String,
    /// Whether any of those is an error.
    shown_errors: bool,
}

/// Checks files and named grounds.
pub fn run(args: &CheckArgs, sources: &Sources) -> Result<Outcome, Failure> {
    if args.watch {
        return watch::run(args, sources);
    }
    let targets = Targets::new(args)?;
    let mut checks = Checks::default();
    if targets.any_files() {
        let sandbox = open_sandbox(sources)?;
        targets.files.iter().try_for_each(|file| checks.file(file, args, &sandbox))?;
        targets.charts.iter().try_for_each(|file| checks.chart_file(file, args, &sandbox))?;
    }
    if !targets.names.is_empty() || !targets.any_files() {
        checks.named(&targets.names, sources)?;
    }
    let outcome = Outcome::findings(checks.any_errors());
    let left_out = std::mem::take(&mut checks.left_out);
    print(&if args.json { checks.json()? } else { checks.in_words() })?;
    Ok(report_failures(&left_out).and(outcome))
}

impl Checks {
    /// Checks every variety of a contribution, and that its answers repeat.
    fn contribution(&mut self, plugin: &Plugin) {
        self.varieties.extend(plugin.about.varieties.keys().map(|id| VarietyFindings::of(plugin, id)));
        self.settings.push(SettingsTried::of(plugin));
    }

    /// Checks a contribution in a file, and draws it if `--picture` is given.
    fn file(&mut self, file: &str, args: &CheckArgs, sandbox: &Sandbox) -> Result<(), Failure> {
        std::fs::metadata(file).map_err(Failure::read(file.as_ref()))?;
        match sandbox.load(&Source::File(file.into())) {
            Ok(plugin) => {
                self.contribution(&plugin);
                if let Some(out) = &args.picture {
                    picture::write(&plugin, &plugin.about.title, out)?;
                }
            }
            Err(why) => self.left_out.push(LeftOut { file: path_name(file.as_ref()), ..LeftOut::from(&why) }),
        }
        Ok(())
    }

    /// Checks grounds and varieties by name, or everything in the catalogue.
    fn named(&mut self, names: &[GroundName], sources: &Sources) -> Result<(), Failure> {
        let loaded = sources::load(sources)?;
        self.left_out.extend(loaded.left_out.iter().cloned());
        if names.is_empty() {
            loaded.plugins.iter().for_each(|plugin| self.contribution(plugin));
        }
        for GroundName { ground, variety } in names {
            let plugin = loaded.plugin(ground)?;
            let Some(variety) = variety else {
                self.contribution(plugin);
                continue;
            };
            plugin.about.resolve(Some(variety), &[])?;
            self.varieties.push(VarietyFindings::of(plugin, variety));
        }
        Ok(())
    }

    fn any_errors(&self) -> bool {
        self.shown_errors
            || self.varieties.iter().any(VarietyFindings::failed)
            || self.settings.iter().any(SettingsTried::failed)
    }

    fn json(self) -> Result<String, Failure> {
        // Faults of charts that cannot be read come with their lines.
        if !self.shown.is_empty() {
            warn(self.shown.trim_end());
        }
        let varieties = self.varieties.iter().map(Variety::from).collect();
        let settings = self.settings.into_iter().map(Settings::from).collect();
        Ok(report::pretty(&Check::new(varieties, settings))?)
    }

    fn in_words(&self) -> String {
        let varieties: String = self.varieties.iter().map(VarietyFindings::in_words).collect();
        let settings: String = self.settings.iter().map(SettingsTried::in_words).collect();
        format!("{}{varieties}{settings}", self.shown)
    }
}
