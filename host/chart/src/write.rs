//! Writing a ground as the text of a chart.

use std::fmt::Write as _;

use catalogue::About;
use lace::{Cell, Point, Repeat, Side};
use pairwise_sdk::Grid;

use crate::FORMAT;

/// What a chart says about a ground besides its stitches.
#[derive(Clone, Debug)]
pub struct Origin<'a> {
    /// Plain word by which users name it.
    pub id: &'a str,
    /// The title shown to the lacemaker.
    pub title: &'a str,
    /// For a filling: the ground it sits in.
    pub sits_in: Option<&'a str>,
    /// Family in which it is listed.
    pub family: &'a str,
    /// Laces in which it is used.
    pub laces: Vec<&'a str>,
    /// Names in the trade: language, name, where it is found.
    pub names: Vec<[&'a str; 3]>,
    /// Degrees between the footside and the diagonal lines of pins.
    pub angle: f64,
    /// Notes for the lacemaker.
    pub notes: &'a str,
    /// Where the stitch order comes from.
    pub source: &'a str,
}

/// Writes a variety as a chart with the id `id`. `places` are the places of the
/// stitches of its repeat.
pub fn chart_of(about: &About, variety: &str, id: &str, repeat: &Repeat, places: &[Point]) -> String {
    let named = about.varieties.get(variety);
    let names = about.other_names.iter().chain(named.iter().flat_map(|v| &v.other_names));
    let origin = Origin {
        id,
        title: about.title_of(variety),
        sits_in: about.sits_in.as_deref(),
        family: &about.family,
        laces: about.laces.iter().map(String::as_str).collect(),
        names: names.map(|n| [n.language.as_str(), &n.name, &n.source]).collect(),
        angle: about.angle,
        notes: named.map_or(about.notes.as_str(), |v| &v.notes),
        source: named.map_or(about.source.as_str(), |v| &v.source),
    };
    format!(
        "# {}/{variety} as a chart. Change what you like, then: pairwise check FILE\n{}",
        about.id,
        write(&origin, repeat, places)
    )
}

/// Writes a ground as a chart: every stitch with its place, its work in words
/// and, for pairs that do not follow the grid, where they go. `places` are the
/// places of the stitches, in grid steps.
pub fn write(origin: &Origin<'_>, repeat: &Repeat, places: &[Point]) -> String {
    let mut text = format!("format = \"{FORMAT}\"\n\n[about]\n");
    let mut line = |key: &str, value: toml::Value| {
        let _ = writeln!(text, "{key} = {value}");
    };
    let words = |words: &str| toml::Value::String(words.to_owned());
    line("id", words(origin.id));
    line("title", words(origin.title));
    if let Some(ground) = origin.sits_in {
        line("sits-in", words(ground));
    }
    line("family", words(origin.family));
    line("laces", toml::Value::Array(origin.laces.iter().map(|lace| words(lace)).collect()));
    line("angle", toml::Value::Float(origin.angle));
    line("notes", words(origin.notes));
    line("source", words(origin.source));
    if !origin.names.is_empty() {
        text.push_str("names = [\n");
        for [language, name, source] in &origin.names {
            let [language, name, source] = [language, name, source].map(|text| words(text));
            let _ = writeln!(text, "  {{ language = {language}, name = {name}, source = {source} }},");
        }
        text.push_str("]\n");
    }
    let lattice = &repeat.lattice;
    let _ = writeln!(text, "\n[repeat]\nacross = {}\ndown = {}", pair(lattice.across), pair(lattice.down));
    let along = along_the_grid(repeat, places);
    for (k, stitch) in repeat.stitches.iter().enumerate() {
        let (id, work) = (words(&stitch.id), words(&stitch.stitch.words()));
        let _ = writeln!(text, "\n[[stitch]]\nid = {id}\nat = {}\nwork = {work}", pair(places[k]));
        for side in Side::BOTH {
            let leg = repeat.legs.iter().find(|leg| leg.from.stitch == k && leg.from.side == side);
            let Some(leg) = leg else { continue };
            let mut entries = Vec::new();
            if !along.as_ref().is_some_and(|legs| legs.contains(&(leg.from, leg.to, leg.cell))) {
                let to = &repeat.stitches[leg.to.stitch].id;
                let at = places[leg.to.stitch] + lattice.place(leg.cell);
                entries.push(format!("to = {}, at = {}", words(to), pair(at)));
                if leg.to.side == side {
                    entries.push(format!("enters = {}", words(side.word())));
                }
            }
            if leg.twists > 0 {
                entries.push(format!("twists = {}", leg.twists));
            }
            if !entries.is_empty() {
                let _ = writeln!(text, "{} = {{ {} }}", side.word(), entries.join(", "));
            }
        }
    }
    text
}

type Way = (lace::End, lace::End, Cell);

/// The legs that pairs would take along the grid; none when the grid gives no
/// repeat.
fn along_the_grid(repeat: &Repeat, places: &[Point]) -> Option<Vec<Way>> {
    let lattice = &repeat.lattice;
    let grid = Grid::new((lattice.across.x, lattice.across.y), (lattice.down.x, lattice.down.y));
    let dots = repeat.stitches.iter().zip(places);
    let grid = dots.fold(grid, |grid, (stitch, at)| grid.dot(&stitch.id, (at.x, at.y), "CT"));
    let side = |side| if side == pairwise_sdk::Side::Left { Side::Left } else { Side::Right };
    let legs = grid.repeat().ok()?.legs;
    let ways = legs.iter().map(|leg| {
        (
            lace::End::new(leg.from as usize, side(leg.from_side)),
            lace::End::new(leg.to as usize, side(leg.to_side)),
            Cell::from([leg.cell_across, leg.cell_down]),
        )
    });
    Some(ways.collect())
}

/// A place or step, each number in the shortest form that reads back the same.
fn pair(p: Point) -> String {
    format!("[{}, {}]", p.x, p.y)
}
