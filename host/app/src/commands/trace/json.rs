//! A trace as JSON (format `pairwise-trace/1`).

use compare::trace::Traced;
use lace::Trace;
use serde::Serialize;

use crate::failure::Failure;

/// What `--json` prints.
#[derive(Serialize)]
struct Json<'a> {
    /// `pairwise-trace/1`.
    format: &'static str,
    ground: &'a str,
    variety: &'a str,
    arrangement: String,
    colours: Vec<String>,
    /// The colours that hang in each place: left and right thread.
    hung: &'a [[u8; 2]],
    #[serde(flatten)]
    trace: &'a Trace,
    sentences: &'a [String],
    pattern: lace::Pattern,
    period: lace::ColourPeriod,
}

/// The trace as JSON.
pub fn json(traced: &Traced) -> Result<String, Failure> {
    let request = &traced.request;
    let ground = &request.chosen.ground;
    let json = Json {
        format: "pairwise-trace/1",
        ground: &request.chosen.about().id,
        variety: &request.chosen.variety,
        arrangement: request.arrangement.to_string(),
        colours: request.palette.names(),
        hung: &traced.hung,
        trace: &traced.trace,
        sentences: &traced.sentences,
        pattern: ground.pattern(&request.arrangement),
        period: ground.colour_period(&request.arrangement),
    };
    Ok(format!("{}\n", serde_json::to_string_pretty(&json)?))
}
