//! `check`: all findings on contributions and charts, variety by variety, and
//! whether they give the same answer twice for the same choices.

mod chart;
mod picture;
mod piece;
mod settings;
mod sits_in;
mod targets;
mod variety;
mod watch;

use std::ffi::OsString;
use std::path::Path;

use catalogue::text::path_name;
use catalogue::{LeftOut, Meant};
use report::check::{Check, Settings, Variety};
use sandbox::{Plugin, Source};

use crate::cli::CheckArgs;
use crate::commands::{Outcome, report_failures};
use crate::failure::Failure;
use crate::output::{print, warn};
use crate::request::sources::Sources;
use crate::sources::{self, Grounds};

use picture::{Picture, Pictures};
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
    /// Pictures that are still to be written.
    pictures: Vec<Picture>,
}

/// What a check is asked for, besides what it checks.
struct Wanted<'a> {
    pictures: &'a Pictures,
    json: bool,
}

/// Checks files and named grounds.
pub fn run(args: &CheckArgs, sources: &Sources) -> Result<Outcome, Failure> {
    if args.watch {
        return watch::run(args, sources);
    }
    let pictures = args.picture.clone().map_or(Pictures::None, Pictures::To);
    once(&Targets::new(args)?, &pictures, args.json, sources)
}

/// Checks once. Pictures come last, so that what was found is printed even if they
/// cannot be written.
fn once(targets: &Targets, pictures: &Pictures, json: bool, sources: &Sources) -> Result<Outcome, Failure> {
    let (grounds, wanted) = (Grounds::new(sources), Wanted { pictures, json });
    let mut checks = Checks::default();
    targets.files.iter().try_for_each(|file| checks.file(file, &wanted, &grounds))?;
    targets.charts.iter().try_for_each(|file| checks.chart_file(file, &wanted, &grounds))?;
    if !targets.names.is_empty() || !targets.any_files() {
        checks.named(&targets.names, sources, &grounds)?;
    }
    let outcome = Outcome::findings(checks.any_errors());
    let left_out = std::mem::take(&mut checks.left_out);
    let drawn = std::mem::take(&mut checks.pictures);
    print(&if json { checks.json()? } else { checks.in_words() })?;
    let outcome = report_failures(&left_out).and(outcome);
    drawn.into_iter().try_for_each(Picture::write)?;
    Ok(outcome)
}

impl Checks {
    /// Checks every variety of a contribution, and that its answers repeat.
    fn contribution(&mut self, plugin: &Plugin, grounds: &Grounds<'_>) -> Result<(), Failure> {
        self.varieties.extend(plugin.about.varieties.keys().map(|id| VarietyFindings::of(plugin, id)));
        self.settings.push(SettingsTried::of(plugin));
        if let Some(unknown) = sits_in::unknown(&plugin.about, grounds)? {
            self.shown_errors = true;
            self.shown.push_str(&format!(
                "{}: error: {}\n    what to do: {}\n",
                plugin.from, unknown.sentence, unknown.remedy
            ));
        }
        Ok(())
    }

    /// Checks a contribution in a file, and draws it if that is wanted.
    fn file(&mut self, file: &Path, wanted: &Wanted<'_>, grounds: &Grounds<'_>) -> Result<(), Failure> {
        std::fs::metadata(file).map_err(Failure::read(file))?;
        match grounds.sandbox()?.load(&Source::File(file.into())) {
            Ok(plugin) => {
                self.contribution(&plugin, grounds)?;
                self.pictures.extend(Picture::of(&plugin, wanted.pictures));
            }
            Err(why) => self.left_out.push(LeftOut { file: path_name(file), ..LeftOut::from(&why) }),
        }
        Ok(())
    }

    /// Checks grounds and varieties by name, or everything there is.
    fn named(&mut self, names: &[OsString], sources: &Sources, grounds: &Grounds<'_>) -> Result<(), Failure> {
        let loaded = sources::load(grounds.sandbox()?, sources)?;
        self.left_out.extend(loaded.left_out.iter().cloned());
        if names.is_empty() {
            return loaded.plugins.iter().try_for_each(|plugin| self.contribution(plugin, grounds));
        }
        let catalogue = loaded.catalogue();
        for name in names {
            let Meant { entry, variety } = catalogue.meant(&name.to_string_lossy())?;
            let about = entry.about();
            about.resolve(variety.as_deref(), &[])?;
            for plugin in loaded.plugins.iter().filter(|plugin| plugin.about.id == about.id) {
                match &variety {
                    None => self.contribution(plugin, grounds)?,
                    Some(variety) => self.varieties.push(VarietyFindings::of(plugin, variety)),
                }
            }
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
