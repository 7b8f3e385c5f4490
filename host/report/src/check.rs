//! `pairwise-check/1`: all findings on contributions and charts, and what came
//! of asking for every choice.

use schemars::JsonSchema;
use serde::Serialize;

use crate::finding::{Code, Place, Severity};

/// Name and number of the format.
pub const FORMAT: &str = "pairwise-check/1";

/// All findings on some grounds.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[schemars(title = FORMAT)]
pub struct Check {
    /// Name and number of the format.
    #[schemars(extend("const" = FORMAT))]
    pub format: &'static str,
    /// Every variety that was checked.
    pub grounds: Vec<Variety>,
    /// What came of asking each contribution for its choices.
    pub settings: Vec<Settings>,
}

/// What was found in one variety.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Variety {
    /// Its name, GROUND/VARIETY.
    pub name: String,
    /// The file of its contribution, or that it is built in.
    pub from: String,
    /// Why there is nothing to check, if there is not.
    pub problem: Option<String>,
    /// What was found, errors and warnings.
    pub findings: Vec<ExplainedFinding>,
}

/// A finding, with why it matters and what to do.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct ExplainedFinding {
    /// How serious it is.
    pub severity: Severity,
    /// What kind of fault.
    pub code: Code,
    /// Where.
    pub place: Place,
    /// What exactly, in one sentence.
    pub sentence: String,
    /// Why it matters on the pillow.
    pub why: &'static str,
    /// What to do about it.
    pub remedy: &'static str,
}

/// What came of asking a contribution for sets of its choices, each twice.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Settings {
    /// Id of the ground.
    pub ground: String,
    /// How many sets of choices were asked for.
    pub sets: usize,
    /// Whether these were all there are.
    pub all: bool,
    /// How many sets of two values were left out because there are too many.
    pub left_out: usize,
    /// Whether every repeat that was answered is a ground.
    pub grounds: bool,
    /// Sets that give no ground, with why. A set that no variety names may be one of these.
    pub refused: Vec<Refused>,
    /// Sets that were answered differently the second time, or not at all, with why.
    pub failed: Vec<Refused>,
    /// Most WebAssembly instructions that an answer took.
    pub most_instructions: u64,
    /// Most memory that an answer took, bytes.
    pub most_memory_bytes: usize,
}

/// A set of choices, such as `stitch=double`, and why it gives no ground.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Refused(pub String, pub String);

impl Check {
    /// The findings on some varieties, and what came of asking for choices.
    pub fn new(grounds: Vec<Variety>, settings: Vec<Settings>) -> Check {
        Check { format: FORMAT, grounds, settings }
    }
}

impl From<&lace::Finding> for ExplainedFinding {
    fn from(finding: &lace::Finding) -> ExplainedFinding {
        ExplainedFinding {
            severity: finding.severity().into(),
            code: Code(finding.code),
            place: (&finding.place).into(),
            sentence: finding.sentence.clone(),
            why: finding.code.why(),
            remedy: finding.code.remedy(),
        }
    }
}
