//! What is found on one variety.

use lace::Finding;
use sandbox::{Plugin, SandboxError};
use serde::Serialize;

/// The findings on a variety.
#[derive(Serialize)]
pub struct VarietyFindings {
    /// The variety, as `GROUND/VARIETY`.
    pub name: String,
    from: String,
    /// Why there is nothing to check, if there is not.
    pub problem: Option<String>,
    /// What was found.
    pub findings: Vec<FindingReport>,
}

/// A finding with its explanation.
#[derive(Serialize)]
pub struct FindingReport {
    severity: lace::Severity,
    /// The finding.
    #[serde(flatten)]
    pub finding: Finding,
    why: &'static str,
    remedy: &'static str,
}

impl VarietyFindings {
    /// Checks one variety.
    pub fn of(plugin: &Plugin, variety: &str) -> VarietyFindings {
        let settings = plugin.about.resolve(Some(variety), &[]).map_err(SandboxError::from);
        let (problem, findings) = match settings.and_then(|settings| plugin.define(&settings)) {
            Err(why) => (Some(why.to_string()), Vec::new()),
            Ok(repeat) => (None, lace::check(&repeat)),
        };
        let explained = |finding: Finding| FindingReport {
            severity: finding.severity(),
            why: finding.code.why(),
            remedy: finding.code.remedy(),
            finding,
        };
        VarietyFindings {
            name: format!("{}/{variety}", plugin.about.id),
            from: plugin.from.clone(),
            problem,
            findings: findings.into_iter().map(explained).collect(),
        }
    }

    /// Whether it cannot be worked.
    pub fn failed(&self) -> bool {
        self.problem.is_some() || self.findings.iter().any(|f| f.finding.is_error())
    }

    /// For the terminal.
    pub fn in_words(&self) -> String {
        if let Some(problem) = &self.problem {
            return format!("{}: {problem}\n", self.name);
        }
        if self.findings.is_empty() {
            return format!("{}: nothing to find fault with\n", self.name);
        }
        let mut text = format!("{} ({})\n", self.name, self.from);
        for f in &self.findings {
            let severity = if f.finding.is_error() { "error" } else { "warning" };
            text.push_str(&format!(
                "  {severity} {} at {}: {}\n    why it matters: {}\n    what to do: {}\n",
                f.finding.code, f.finding.place, f.finding.sentence, f.why, f.remedy
            ));
        }
        text
    }
}
