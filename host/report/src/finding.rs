//! A finding as the reports write it. Codes and their words are those of
//! [`lace::Code`], the schema's list of them too.

use std::borrow::Cow;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::{Serialize, Serializer};

use crate::repeat::Side;

/// How serious a finding is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Severity {
    /// The ground can be worked, but look at it.
    Warning,
    /// The ground cannot be worked as written.
    Error,
}

impl From<lace::Severity> for Severity {
    fn from(severity: lace::Severity) -> Severity {
        match severity {
            lace::Severity::Warning => Severity::Warning,
            lace::Severity::Error => Severity::Error,
        }
    }
}

/// What kind of fault a finding is, by its word, such as `lifts-off`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Code(pub lace::Code);

impl Serialize for Code {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.0.word())
    }
}

impl JsonSchema for Code {
    fn schema_name() -> Cow<'static, str> {
        "Code".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        let one = |code: &lace::Code| serde_json::json!({ "description": code.means(), "type": "string", "const": code.word() });
        let all: Vec<_> = lace::Code::ALL.iter().map(one).collect();
        json_schema!({
            "description": "What kind of fault it is; `pairwise explain CODE` says more.",
            "oneOf": all,
        })
    }
}

/// Where in the repeat a finding lies.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Place {
    /// The repeat as a whole.
    Repeat,
    /// These stitches, by name.
    Stitches(Vec<String>),
    /// The pair that leaves a stitch.
    Leg {
        /// Name of the stitch that it leaves.
        from: String,
        /// Which of its two pairs.
        side: Side,
    },
    /// Several pairs.
    Pairs(Vec<PairOf>),
}

/// A pair by the stitch that it leaves.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PairOf {
    /// Name of the stitch that it leaves.
    pub from: String,
    /// Which of its two pairs.
    pub side: Side,
}

impl From<&lace::Place> for Place {
    fn from(place: &lace::Place) -> Place {
        match place {
            lace::Place::Repeat => Place::Repeat,
            lace::Place::Stitches(ids) => Place::Stitches(ids.clone()),
            lace::Place::Leg { from, side } => Place::Leg { from: from.clone(), side: (*side).into() },
            lace::Place::Pairs(pairs) => {
                let pair =
                    |(from, side): &(String, lace::Side)| PairOf { from: from.clone(), side: (*side).into() };
                Place::Pairs(pairs.iter().map(pair).collect())
            }
        }
    }
}

/// One thing found in a repeat.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Finding {
    /// What kind of fault.
    pub code: Code,
    /// Where.
    pub place: Place,
    /// What exactly, in one sentence.
    pub sentence: String,
}

impl From<&lace::Finding> for Finding {
    fn from(finding: &lace::Finding) -> Finding {
        Finding {
            code: Code(finding.code),
            place: (&finding.place).into(),
            sentence: finding.sentence.clone(),
        }
    }
}
