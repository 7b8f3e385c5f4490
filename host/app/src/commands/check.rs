//! `check`: all findings on contributions and charts, variety by variety; and
//! that they answer alike twice, whatever is chosen.

mod picture;
mod settings;
mod watch;

use std::path::Path;

use catalogue::{GroundName, LeftOut};
use lace::Finding;
use sandbox::{Plugin, SandboxError, Source};
use serde::Serialize;

use crate::charts::{self, ChartFile};
use crate::cli::{CheckArgs, Sources};
use crate::commands::{Outcome, report_failures};
use crate::failure::Failure;
use crate::output::{note, print, warn};
use crate::sources::{self, open_sandbox};

use settings::{Asked, ask_all};

#[derive(Serialize)]
struct Report {
    format: &'static str,
    grounds: Vec<Checked>,
    settings: Vec<Asked>,
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
    let repeat = plugin.about.resolve(Some(variety), &[]).map_err(SandboxError::from);
    let repeat = repeat.and_then(|settings| plugin.define(&settings));
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

/// What has been checked so far.
#[derive(Default)]
struct Stitch {
    checked: Vec<Checked>,
    asked: Vec<Asked>,
    left_out: Vec<LeftOut>,
    /// Findings of charts, which are shown where they stand.
    shown: String,
    wrong: bool,
}

impl Stitch {
    fn plugin(&mut self, plugin: &Plugin) {
        self.checked.extend(plugin.about.varieties.keys().map(|v| check(plugin, v)));
        self.asked.push(ask_all(plugin));
    }

    fn wrong(&self) -> bool {
        self.wrong || self.checked.iter().any(Checked::failed) || self.asked.iter().any(Asked::failed)
    }
}

/// Checks files and named grounds.
pub fn run(args: &CheckArgs, sources: &Sources) -> Result<Outcome, Failure> {
    if args.watch {
        return watch::run(args, sources);
    }
    let work = once(args, sources)?;
    let wrong = work.wrong();
    if args.json {
        let report = Report { format: "pairwise-check/1", grounds: work.checked, settings: work.asked };
        let text = serde_json::to_string_pretty(&report)?;
        print(&format!("{text}\n"))?;
    } else {
        let words: String = work.checked.iter().map(in_words).collect();
        let asked: String = work.asked.iter().map(Asked::in_words).collect();
        print(&format!("{}{words}{asked}", work.shown))?;
    }
    Ok(report_failures(&work.left_out).and(Outcome::findings(wrong)))
}

fn once(args: &CheckArgs, sources: &Sources) -> Result<Stitch, Failure> {
    let mut work = Stitch::default();
    let is_file = |target: &String| target.ends_with(".wasm") || Path::new(target).is_file();
    let (files, names): (Vec<String>, Vec<String>) = args.targets.iter().cloned().partition(is_file);
    let (charts, files): (Vec<String>, Vec<String>) =
        files.into_iter().partition(|file| charts::is_chart(Path::new(file)));
    if let Some(picture) = &args.picture {
        crate::export::Format::of(picture)?;
        if charts.len() + files.len() != 1 {
            return Err(Failure::Value {
                what: format!("--picture is for one file; there are {}", charts.len() + files.len()),
                help: "check one chart or contribution (.toml, .wasm) at a time, or leave --picture out"
                    .to_owned(),
            });
        }
    }
    if !files.is_empty() || !charts.is_empty() {
        let sandbox = open_sandbox(sources)?;
        for file in &files {
            std::fs::metadata(file).map_err(Failure::read(Path::new(file)))?;
            match sandbox.load(&Source::File(file.into())) {
                Ok(plugin) => {
                    work.plugin(&plugin);
                    if let Some(out) = &args.picture {
                        draw(&plugin, &plugin.about.title, out)?;
                    }
                }
                Err(why) => work.left_out.push(LeftOut { file: file.clone(), why: why.to_string() }),
            }
        }
        for file in &charts {
            let chart = match charts::open(Path::new(file)) {
                Ok(chart) => chart,
                Err(Failure::Chart(faults)) => {
                    work.wrong = true;
                    work.shown.push_str(&format!("{:?}\n", miette::Report::new(*faults)));
                    continue;
                }
                Err(failure) => return Err(failure),
            };
            check_chart(&chart, args, &sandbox, &mut work)?;
        }
    }
    if !names.is_empty() || args.targets.is_empty() {
        let loaded = sources::load(sources)?;
        work.left_out.extend(loaded.left_out.iter().cloned());
        if names.is_empty() {
            loaded.plugins.iter().for_each(|plugin| work.plugin(plugin));
        }
        for name in &names {
            let GroundName { ground, variety } = name.as_str().into();
            let plugin = loaded.plugin(&ground)?;
            let Some(variety) = variety else {
                work.plugin(plugin);
                continue;
            };
            plugin.about.resolve(Some(&variety), &[])?;
            work.checked.push(check(plugin, &variety));
        }
    }
    Ok(work)
}

/// Checks a chart as the component that it becomes, and draws it.
fn check_chart(
    chart: &ChartFile,
    args: &CheckArgs,
    sandbox: &sandbox::Sandbox,
    work: &mut Stitch,
) -> Result<(), Failure> {
    let bytes = chart.pack()?.into();
    let plugin = match sandbox.load(&Source::Bytes { name: chart.name.clone(), bytes }) {
        Ok(plugin) => plugin,
        Err(why) => {
            work.left_out.push(LeftOut { file: chart.name.clone(), why: why.to_string() });
            return Ok(());
        }
    };
    let mut checked: Vec<Checked> = plugin.about.varieties.keys().map(|v| check(&plugin, v)).collect();
    // The same fault of several varieties is shown once.
    let mut found: Vec<(Finding, Vec<String>)> = Vec::new();
    for variety in &mut checked {
        for report in variety.findings.drain(..) {
            work.wrong |= report.finding.is_error();
            match found.iter_mut().find(|(finding, _)| *finding == report.finding) {
                Some((_, whose)) => whose.push(variety.name.clone()),
                None => found.push((report.finding, vec![variety.name.clone()])),
            }
        }
    }
    let all = checked.len();
    let said: Vec<(Finding, String)> = (found.iter())
        .map(|(finding, whose)| {
            let whose = if whose.len() == all { String::new() } else { format!(" in {}", whose.join(", ")) };
            (finding.clone(), whose)
        })
        .collect();
    if !said.is_empty() {
        work.shown.push_str(&format!("{:?}\n", miette::Report::new(chart.show(&said))));
        // Said above, each at its place.
        checked.retain(|variety| variety.problem.is_some());
    }
    work.checked.extend(checked);
    work.asked.push(ask_all(&plugin));
    if !args.no_picture {
        let out = args.picture.clone().unwrap_or_else(|| format!("{}-check.png", plugin.about.id).into());
        draw(&plugin, &chart.read.chart.title, &out)?;
    }
    Ok(())
}

/// Draws what can be drawn of a contribution.
fn draw(plugin: &Plugin, title: &str, out: &Path) -> Result<(), Failure> {
    match picture::draw(plugin, title) {
        Some(picture) => {
            crate::export::export(&[picture], out, picture::PX)?;
            warn(&format!("{}: {title} as it is written", out.display()));
        }
        None => note(&format!("{title} cannot be drawn: no places are known, or too many stitches")),
    }
    Ok(())
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
