//! Writing a ground as the text of a chart.

use std::fmt::Write as _;

use catalogue::About;
use lace::{Cell, End, Leg, Point, Repeat, Side};
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
    /// The usual distance between two footside pins, mm.
    pub pin_spacing_mm: Option<f64>,
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
        pin_spacing_mm: about.pin_spacing_mm,
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
    let mut text = format!("format = \"{FORMAT}\"\n\n{}", about(origin));
    let lattice = &repeat.lattice;
    let _ = writeln!(text, "\n[repeat]\nacross = {}\ndown = {}", pair(lattice.across), pair(lattice.down));
    let along = along_the_grid(repeat, places);
    for (k, stitch) in repeat.stitches.iter().enumerate() {
        let (id, work) = (words(&stitch.id), words(&repeat.stitch_in_words(k, places)));
        let _ = writeln!(text, "\n[[stitch]]\nid = {id}\nat = {}\nwork = {work}", pair(places[k]));
        for leg in Side::BOTH.iter().filter_map(|side| leaving(repeat, k, *side)) {
            let entries = exit(repeat, places, leg, along.contains(&Way::of(leg)));
            if !entries.is_empty() {
                let _ = writeln!(text, "{} = {{ {} }}", leg.from.side.word(), entries.join(", "));
            }
        }
    }
    text
}

/// The part on what the ground is.
fn about(origin: &Origin<'_>) -> String {
    let mut text = "[about]\n".to_owned();
    let mut line = |key: &str, value: toml::Value| {
        let _ = writeln!(text, "{key} = {value}");
    };
    line("id", words(origin.id));
    line("title", words(origin.title));
    if let Some(ground) = origin.sits_in {
        line("sits-in", words(ground));
    }
    line("family", words(origin.family));
    line("laces", toml::Value::Array(origin.laces.iter().map(|lace| words(lace)).collect()));
    line("angle", toml::Value::Float(origin.angle));
    if let Some(spacing) = origin.pin_spacing_mm {
        line("usual-pin-spacing", toml::Value::Float(spacing));
    }
    line("notes", words(origin.notes));
    line("source", words(origin.source));
    if !origin.names.is_empty() {
        text.push_str("names = [\n");
        for names in &origin.names {
            let [language, name, source] = names.map(words);
            let _ = writeln!(text, "  {{ language = {language}, name = {name}, source = {source} }},");
        }
        text.push_str("]\n");
    }
    text
}

/// A text in quotation marks.
fn words(words: &str) -> toml::Value {
    toml::Value::String(words.to_owned())
}

/// The leg that leaves a stitch on one side.
fn leaving(repeat: &Repeat, stitch: usize, side: Side) -> Option<&Leg> {
    repeat.legs.iter().find(|leg| leg.from.stitch == stitch && leg.from.side == side)
}

/// What a chart says about a leg: where it goes, unless it follows the grid, and
/// its twists.
fn exit(repeat: &Repeat, places: &[Point], leg: &Leg, follows_grid: bool) -> Vec<String> {
    let mut entries = Vec::new();
    if !follows_grid {
        let to = words(&repeat.stitches[leg.to.stitch].id);
        let at = places[leg.to.stitch] + repeat.lattice.place(leg.cell);
        entries.push(format!("to = {to}, at = {}", pair(at)));
        if leg.to.side == leg.from.side {
            entries.push(format!("enters = \"{}\"", leg.to.side.word()));
        }
    }
    if leg.twists > 0 {
        entries.push(format!("twists = {}", leg.twists));
    }
    entries
}

/// Where a leg goes, without its twists.
#[derive(PartialEq)]
struct Way {
    from: End,
    to: End,
    cell: Cell,
}

impl Way {
    fn of(leg: &Leg) -> Way {
        Way { from: leg.from, to: leg.to, cell: leg.cell }
    }
}

/// The legs that pairs would take along the grid; none when the grid gives no
/// repeat.
fn along_the_grid(repeat: &Repeat, places: &[Point]) -> Vec<Way> {
    let lattice = &repeat.lattice;
    let grid = Grid::new((lattice.across.x, lattice.across.y), (lattice.down.x, lattice.down.y));
    let dots = repeat.stitches.iter().zip(places);
    let grid = dots.fold(grid, |grid, (stitch, at)| grid.dot(&stitch.id, (at.x, at.y), "CT"));
    let side = |side| if side == pairwise_sdk::Side::Left { Side::Left } else { Side::Right };
    let legs = grid.repeat().map_or_else(|_| Vec::new(), |repeat| repeat.legs);
    let ways = legs.iter().map(|leg| Way {
        from: End::new(leg.from as usize, side(leg.from_side)),
        to: End::new(leg.to as usize, side(leg.to_side)),
        cell: Cell::from([leg.cell_across, leg.cell_down]),
    });
    ways.collect()
}

/// A place or step, each number in the shortest form that reads back the same.
fn pair(p: Point) -> String {
    format!("[{}, {}]", p.x, p.y)
}
