//! The catalogue as JSON, format `pairwise-grounds/1`. Keys carry their units.

use catalogue::list::{ColoursGo, Found, Listing, StitchCount, ThreadCounts};
use catalogue::{Kind, OtherName};
use indexmap::IndexMap;
use lace::{Measures, Stitch};
use serde::Serialize;

use super::by_ground;
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
    found_by: Option<FoundEntry<'a>>,
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
    settings: IndexMap<String, String>,
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
    found_by: Option<FoundEntry<'a>>,
}

/// The name by which something was found.
#[derive(Serialize)]
struct FoundEntry<'a> {
    what: &'static str,
    name: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    language: Option<&'a str>,
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
pub fn json(listings: &[Listing]) -> Result<String, Failure> {
    let grounds = by_ground(listings)
        .map(|varieties| {
            let chosen = &varieties[0].chosen;
            let about = chosen.about();
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
                found_by: varieties.iter().find_map(|l| found_by(l, true)),
                varieties: varieties.iter().map(variety).collect(),
                from: chosen.entry.file(),
            }
        })
        .collect();
    let mut text = serde_json::to_string_pretty(&List { format: "pairwise-grounds/1", grounds })?;
    text.push('\n');
    Ok(text)
}

/// By which name a variety was found: one of the ground, or one of its own.
fn found_by(listing: &Listing, of_ground: bool) -> Option<FoundEntry<'_>> {
    let Found { what, name, language, .. } = listing.found.as_ref().filter(|f| f.of_ground == of_ground)?;
    Some(FoundEntry { what, name, language: language.as_deref() })
}

fn variety(listing: &Listing) -> VarietyEntry<'_> {
    let m = &listing.measures;
    let said = listing.variety();
    let ThreadCounts { left, stay, right } = listing.threads;
    VarietyEntry {
        id: &listing.chosen.variety,
        title: &said.title,
        other_names: &said.other_names,
        notes: &said.notes,
        source: &said.source,
        settings: listing.chosen.settings_as_typed(),
        stitches: m.stitches_per_repeat,
        pins: m.pins_per_repeat,
        pairs_across: listing.pairs_across(),
        moves: Moves {
            crosses: m.crosses_per_repeat,
            pair_twists: m.pair_twists_in_stitches_per_repeat + m.pair_twists_on_legs_per_repeat,
            pins: m.pins_per_repeat,
        },
        threads: Threads { left, stay, right },
        colours_go: listing.colours_go(),
        works: listing
            .stitches
            .iter()
            .map(|StitchCount { stitch, times }| WorkEntry {
                moves: stitch,
                words: stitch.words(),
                stitches: *times,
            })
            .collect(),
        measures: m,
        found_by: found_by(listing, false),
    }
}
