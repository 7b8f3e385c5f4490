//! The catalogue as JSON, format `pairwise-grounds/1`. Keys carry their units.

use indexmap::IndexMap;
use lace::{Measures, Stitch};
use sandbox::{Kind, OtherName};
use serde::Serialize;

use super::Shown;
use super::entry::Entry;
use super::keep::Found;
use crate::cli::ColoursGo;
use crate::failure::Failure;

#[derive(Serialize)]
struct List<'a> {
    format: &'static str,
    grounds: Vec<GroundEntry<'a>>,
}

#[derive(Serialize)]
struct GroundEntry<'a> {
    id: &'a str,
    title: &'a str,
    kind: Kind,
    family: &'a str,
    other_names: &'a [OtherName],
    laces: &'a [String],
    angle_degrees: f64,
    sits_in: Option<&'a str>,
    notes: &'a str,
    source: &'a str,
    /// By which of its own names `--search` found it.
    #[serde(skip_serializing_if = "Option::is_none")]
    found_by: Option<&'a Found<'a>>,
    varieties: Vec<VarietyEntry<'a>>,
    from: &'a str,
}

#[derive(Serialize)]
struct VarietyEntry<'a> {
    id: &'a str,
    title: &'a str,
    other_names: &'a [OtherName],
    notes: &'a str,
    source: &'a str,
    settings: &'a IndexMap<String, String>,
    /// In one repeat, as the numbers that follow.
    stitches: usize,
    pins: usize,
    pairs_across: usize,
    moves: Moves,
    threads: Threads,
    colours_go: ColoursGo,
    /// The different works; how many is what there is to remember.
    works: Vec<WorkEntry<'a>>,
    measures: &'a Measures,
    /// By which name `--search` found it, where it did not find the whole ground.
    #[serde(skip_serializing_if = "Option::is_none")]
    found_by: Option<&'a Found<'a>>,
}

#[derive(Serialize)]
struct Moves {
    crosses: usize,
    /// Each pair that twists counts, in stitches and between them.
    pair_twists: usize,
    pins: usize,
}

#[derive(Serialize)]
struct Threads {
    left: usize,
    stay: usize,
    right: usize,
}

#[derive(Serialize)]
struct WorkEntry<'a> {
    moves: &'a Stitch,
    words: String,
    stitches: usize,
}

/// The grounds as JSON.
pub fn json(shown: &[Shown<'_>]) -> Result<String, Failure> {
    let grounds = shown
        .iter()
        .map(|ground| {
            let about = &ground.plugin.about;
            GroundEntry {
                id: &about.id,
                title: &about.title,
                kind: about.kind,
                family: &about.family,
                other_names: &about.other_names,
                laces: &about.laces,
                angle_degrees: about.angle,
                sits_in: about.sits_in.as_deref(),
                notes: &about.notes,
                source: &about.source,
                found_by: ground.entries.iter().find_map(|e| e.found.as_ref().filter(|f| f.of_ground)),
                varieties: ground.entries.iter().map(variety).collect(),
                from: &ground.plugin.from,
            }
        })
        .collect();
    let mut text = serde_json::to_string_pretty(&List { format: "pairwise-grounds/1", grounds })?;
    text.push('\n');
    Ok(text)
}

fn variety<'a>(entry: &'a Entry<'_>) -> VarietyEntry<'a> {
    let m = &entry.measures;
    let [left, stay, right] = entry.threads;
    VarietyEntry {
        id: &entry.id,
        title: &entry.variety.title,
        other_names: &entry.variety.other_names,
        notes: &entry.variety.notes,
        source: &entry.variety.source,
        settings: &entry.settings,
        stitches: m.stitches_per_repeat,
        pins: m.pins_per_repeat,
        pairs_across: entry.pairs_across(),
        moves: Moves {
            crosses: m.crosses_per_repeat,
            pair_twists: m.pair_twists_in_stitches_per_repeat + m.pair_twists_on_legs_per_repeat,
            pins: m.pins_per_repeat,
        },
        threads: Threads { left, stay, right },
        colours_go: entry.colours_go(),
        works: entry
            .works
            .iter()
            .map(|(work, stitches)| WorkEntry { moves: work, words: work.words(), stitches: *stitches })
            .collect(),
        measures: m,
        found_by: entry.found.as_ref().filter(|f| !f.of_ground),
    }
}
