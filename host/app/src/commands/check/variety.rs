//! The findings on one variety.

use lace::Finding;
use report::check::{ExplainedFinding, Variety};
use sandbox::{Plugin, SandboxError};

/// The findings on a variety.
pub struct VarietyFindings {
    /// The variety, as `GROUND/VARIETY`.
    pub name: String,
    from: String,
    /// Why there is nothing to check, if so.
    pub problem: Option<String>,
    /// The findings.
    pub findings: Vec<Finding>,
}

impl VarietyFindings {
    /// Checks one variety.
    pub fn of(plugin: &Plugin, variety: &str) -> VarietyFindings {
        let settings = plugin.about.resolve(Some(variety), &[]).map_err(SandboxError::from);
        let (problem, findings) = match settings.and_then(|settings| plugin.define(&settings)) {
            Err(why) => (Some(why.to_string()), Vec::new()),
            Ok(repeat) => (None, lace::check(&repeat)),
        };
        let name = format!("{}/{variety}", plugin.about.id);
        VarietyFindings { name, from: plugin.from.clone(), problem, findings }
    }

    /// Whether any finding is an error.
    pub fn failed(&self) -> bool {
        self.problem.is_some() || self.findings.iter().any(Finding::is_error)
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
            let severity = if f.is_error() { "error" } else { "warning" };
            text.push_str(&format!(
                "  {severity} {} at {}: {}\n    why it matters: {}\n    what to do: {}\n",
                f.code,
                f.place,
                f.sentence,
                f.code.why(),
                f.code.remedy()
            ));
        }
        text
    }
}

impl From<&VarietyFindings> for Variety {
    fn from(found: &VarietyFindings) -> Variety {
        Variety {
            name: found.name.clone(),
            from: found.from.clone(),
            problem: found.problem.clone(),
            findings: found.findings.iter().map(ExplainedFinding::from).collect(),
        }
    }
}
