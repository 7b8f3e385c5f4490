//! `check`: all findings on contributions, variety by variety.

use std::path::Path;

use lace::Finding;
use sandbox::{Plugin, Source};
use serde::Serialize;

use crate::catalogue::{Catalogue, open_sandbox};
use crate::cli::{CheckArgs, Sources};
use crate::commands::report_failures;
use crate::failure::Failure;
use crate::output::print;

#[derive(Serialize)]
struct Report {
    format: &'static str,
    grounds: Vec<Checked>,
}

#[derive(Serialize)]
struct Checked {
    name: String,
    from: String,
    /// Why there is nothing to check, if there is not.
    problem: Option<String>,
    findings: Vec<FindingReport>,
}

#[derive(Serialize)]
struct FindingReport {
    severity: lace::Severity,
    #[serde(flatten)]
    finding: Finding,
    why: &'static str,
    remedy: &'static str,
}

impl Checked {
    fn failed(&self) -> bool {
        self.problem.is_some() || self.findings.iter().any(|f| f.finding.is_error())
    }
}

/// Checks one variety.
fn check(plugin: &Plugin, variety: &str) -> Checked {
    let repeat = plugin.about.resolve(Some(variety), &[]).and_then(|settings| plugin.define(&settings));
    let (problem, findings) = match repeat {
        Err(why) => (Some(why.to_string()), Vec::new()),
        Ok(repeat) => (None, lace::check(&repeat)),
    };
    let findings = findings
        .into_iter()
        .map(|finding| FindingReport {
            severity: finding.severity(),
            why: finding.code.why(),
            remedy: finding.code.remedy(),
            finding,
        })
        .collect();
    Checked { name: format!("{}/{variety}", plugin.about.id), from: plugin.from.clone(), problem, findings }
}

/// Checks files and named grounds. Returns whether anything is wrong.
pub fn run(args: &CheckArgs, sources: &Sources) -> Result<bool, Failure> {
    let is_file = |target: &String| target.ends_with(".wasm") || Path::new(target).is_file();
    let (files, names): (Vec<String>, Vec<String>) = args.targets.iter().cloned().partition(is_file);
    let mut failures = Vec::new();
    let mut checked = Vec::new();
    if !files.is_empty() {
        let sandbox = open_sandbox(sources)?;
        for file in &files {
            std::fs::metadata(file).map_err(Failure::read(Path::new(file)))?;
            match sandbox.load(&Source::File(file.into())) {
                Ok(plugin) => checked.extend(plugin.about.varieties.keys().map(|v| check(&plugin, v))),
                Err(why) => failures.push((file.clone(), why.to_string())),
            }
        }
    }
    if !names.is_empty() || args.targets.is_empty() {
        let catalogue = Catalogue::load(sources)?;
        failures.extend(catalogue.failures.iter().cloned());
        if names.is_empty() {
            for plugin in &catalogue.plugins {
                checked.extend(plugin.about.varieties.keys().map(|v| check(plugin, v)));
            }
        }
        for name in &names {
            let (id, variety) = name.split_once('/').map_or((name.as_str(), None), |(i, v)| (i, Some(v)));
            let plugin = catalogue.plugin(id)?;
            if let Some(variety) = variety {
                plugin
                    .about
                    .resolve(Some(variety), &[])
                    .map_err(|why| Failure::Contribution(why.to_string()))?;
            }
            let wanted = plugin.about.varieties.keys().filter(|v| variety.is_none_or(|w| w == v.as_str()));
            checked.extend(wanted.map(|v| check(plugin, v)));
        }
    }
    let wrong = checked.iter().any(Checked::failed);
    if args.json {
        let report = Report { format: "pairwise-check/1", grounds: checked };
        let text = serde_json::to_string_pretty(&report)?;
        print(&format!("{text}\n"))?;
    } else {
        print(&checked.iter().map(in_words).collect::<String>())?;
    }
    Ok(report_failures(&failures) || wrong)
}

fn in_words(checked: &Checked) -> String {
    if let Some(problem) = &checked.problem {
        return format!("{}: {problem}\n", checked.name);
    }
    if checked.findings.is_empty() {
        return format!("{}: nothing to find fault with\n", checked.name);
    }
    let mut text = format!("{} ({})\n", checked.name, checked.from);
    for f in &checked.findings {
        let severity = if f.finding.is_error() { "error" } else { "warning" };
        text.push_str(&format!(
            "  {severity} {} at {}: {}\n    why it matters: {}\n    what to do: {}\n",
            f.finding.code, f.finding.place, f.finding.sentence, f.why, f.remedy
        ));
    }
    text
}
