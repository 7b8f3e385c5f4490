//! The table of all varieties, as wide as a terminal of 80 columns at most.

use indexmap::IndexMap;
use sandbox::Kind;
use textwrap::core::display_width;
use textwrap::wrap;

use super::entry::Entry;
use super::keep::{found_lines, word};
use super::{Shown, WIDTH, broken, put};
use crate::cli::{ColoursGo, GroundsArgs, Grouping, ListSort};
use crate::fold::fold;

/// What the rows stand further in than their heading.
const INDENT: &str = "  ";

/// One column after name and title: its head, and what stands there.
struct Column {
    head: &'static str,
    number: bool,
    cell: fn(&Entry<'_>) -> String,
}

impl Column {
    const fn width(&self) -> usize {
        if self.head.len() < 7 && !self.number { 7 } else { self.head.len() }
    }
}

const KIND: Column = Column { head: "kind", number: false, cell: |e| kind(e.plugin.about.kind).to_owned() };
const PAIRS: Column = Column { head: "pairs", number: true, cell: |e| e.pairs_across().to_string() };
const PINS: Column =
    Column { head: " pins", number: true, cell: |e| format!("{:.1}", e.measures.pins_per_cm2) };
const MOVES: Column =
    Column { head: " moves", number: true, cell: |e| format!("{:.1}", e.measures.moves_per_cm2) };
const COLOURS: Column = Column { head: "colours", number: false, cell: |e| word(e.colours_go()).to_owned() };

/// The table, a part for each family or whatever it is divided by.
pub fn table(args: &GroundsArgs, shown: &[Shown<'_>]) -> String {
    let mut text = String::new();
    let all: Vec<&Entry<'_>> = shown.iter().flat_map(|s| &s.entries).collect();
    let mut columns = Vec::new();
    // What a heading says need not be said in every row.
    if args.group != Grouping::Kind {
        columns.push(KIND);
    }
    columns.extend([PAIRS, PINS]);
    if args.sort == Some(ListSort::Moves) {
        columns.push(MOVES);
    }
    if args.group != Grouping::Colours {
        columns.push(COLOURS);
    }
    let others: usize = columns.iter().map(|c| c.width() + 2).sum();
    let (name_width, title_width) = shares(&all, WIDTH - INDENT.len() - others);

    let mut head = format!("{INDENT}{:<name_width$}  {:<title_width$}", "name", "title");
    for column in &columns {
        head.push_str(&format!("  {:<width$}", column.head, width = column.width()));
    }
    text.push_str(head.trim_end());
    text.push('\n');
    for (heading, mut rows) in groups(args.group, &all) {
        if let Some(sort) = args.sort {
            order(sort, &mut rows);
        }
        let many = if rows.len() == 1 { "variety" } else { "varieties" };
        text.push('\n');
        put(&mut text, "", "", &format!("{heading}, {} {many}", rows.len()));
        for entry in rows {
            row(&mut text, entry, name_width, title_width, &columns);
        }
    }
    let found = found_lines(all.iter().copied());
    if !found.is_empty() {
        text.push_str("\nFound by\n");
    }
    for line in found {
        put(&mut text, INDENT, "", &line);
    }
    text.push('\n');
    put(&mut text, "", "", &legend(shown, all.first().copied(), args));
    text
}

/// How wide the columns of names and titles are, of `room` for both: so that
/// the table takes the fewest lines. A longer name stands on a line of its own
/// (which looks worse, and counts twice), a longer title on several.
fn shares(all: &[&Entry<'_>], room: usize) -> (usize, usize) {
    let lines = |name: usize| -> usize {
        let title = broken(room - 2 - name);
        let of = |e: &&Entry<'_>| {
            2 * usize::from(display_width(&e.name()) > name) + wrap(&e.variety.title, &title).len()
        };
        all.iter().map(of).sum()
    };
    let longest = all.iter().map(|e| display_width(&e.name())).max().unwrap_or(0);
    let least = longest.min(room / 4).max("name".len());
    let most = longest.clamp(least, room * 3 / 4);
    let name = (least..=most).min_by_key(|&name| lines(name)).unwrap_or(least);
    (name, room - 2 - name)
}

/// What the numbers mean, and where to go on.
fn legend(shown: &[Shown<'_>], first: Option<&Entry<'_>>, args: &GroundsArgs) -> String {
    let varieties: usize = shown.iter().map(|s| s.entries.len()).sum();
    let of = |wanted: Kind| shown.iter().filter(|s| s.plugin.about.kind == wanted).count();
    let count = |n: usize, one: &str| match n {
        0 => None,
        1 => Some(format!("1 {one}")),
        n => Some(format!("{n} {one}s")),
    };
    let what: Vec<String> = [(Kind::Ground, "ground"), (Kind::Filling, "filling")]
        .into_iter()
        .filter_map(|(kind, word)| count(of(kind), word))
        .collect();
    let Some(first) = first else {
        return "There is nothing to list.".to_owned();
    };
    let (moves, angle) = (
        if args.sort == Some(ListSort::Moves) { " and moves" } else { "" },
        args.pricking.angle.map_or_else(
            || "the angle usual for each".to_owned(),
            |angle| format!("{angle} degrees from the footside"),
        ),
    );
    format!(
        "{} of {}. Pairs: across one repeat. Pins{moves}: per square cm, with {} mm between footside pins, at {angle}. Colours: whether the threads they hang on travel across the lace, stay in their columns, or both. `pairwise grounds NAME` tells all about one.",
        if varieties == 1 { "1 variety".to_owned() } else { format!("{varieties} varieties") },
        what.join(" and "),
        first.measures.pin_spacing_mm,
    )
}

fn kind(kind: Kind) -> &'static str {
    match kind {
        Kind::Ground => "ground",
        Kind::Filling => "filling",
    }
}

/// The parts of the table: heading and rows.
fn groups<'e>(by: Grouping, all: &[&'e Entry<'e>]) -> Vec<(String, Vec<&'e Entry<'e>>)> {
    let mut groups: IndexMap<(usize, String), Vec<&'e Entry<'e>>> = IndexMap::new();
    for &entry in all {
        let about = &entry.plugin.about;
        // The number goes before the order in which they come.
        let keys: Vec<(usize, String)> = match by {
            Grouping::Family => vec![(0, format!("Family {}", about.family))],
            Grouping::Kind => match about.kind {
                Kind::Ground => vec![(0, "Grounds".to_owned())],
                Kind::Filling => vec![(1, "Fillings".to_owned())],
            },
            Grouping::Lace if about.laces.is_empty() => vec![(1, "No lace named".to_owned())],
            Grouping::Lace => about.laces.iter().map(|lace| (0, lace.clone())).collect(),
            Grouping::Colours => match entry.colours_go() {
                ColoursGo::Travels => vec![(0, "Colours travel across the lace".to_owned())],
                ColoursGo::Both => vec![(1, "Some colours travel, some stay".to_owned())],
                ColoursGo::Stays => vec![(2, "Colours stay in their columns".to_owned())],
            },
        };
        for key in keys {
            let rows = groups.entry(key).or_default();
            // A lace that a ground names twice.
            if rows.last().is_none_or(|last| !std::ptr::eq(*last, entry)) {
                rows.push(entry);
            }
        }
    }
    if by == Grouping::Lace {
        groups.sort_by(|a, _, b, _| (a.0, fold(&a.1)).cmp(&(b.0, fold(&b.1))));
    } else {
        groups.sort_by(|a, _, b, _| a.0.cmp(&b.0));
    }
    groups.into_iter().map(|((_, heading), rows)| (heading, rows)).collect()
}

fn order(sort: ListSort, rows: &mut [&Entry<'_>]) {
    let measure = |e: &Entry<'_>| match sort {
        ListSort::Pins => e.measures.pins_per_cm2,
        ListSort::Moves => e.measures.moves_per_cm2,
        ListSort::Pairs => e.pairs_across() as f64,
        ListSort::Name => 0.0,
    };
    match sort {
        ListSort::Name => rows.sort_by_key(|e| e.name()),
        _ => rows.sort_by(|a, b| measure(a).total_cmp(&measure(b))),
    }
}

/// One variety: as many lines as its title needs.
fn row(text: &mut String, entry: &Entry<'_>, name_width: usize, title_width: usize, columns: &[Column]) {
    let mut name = entry.name();
    if display_width(&name) > name_width {
        put(text, INDENT, "", &name);
        name.clear();
    }
    let titles = wrap(&entry.variety.title, broken(title_width));
    for (n, title) in titles.iter().enumerate() {
        let room = " ".repeat(title_width.saturating_sub(display_width(title)));
        let mut line = format!("{INDENT}{name:<name_width$}  {title}{room}");
        name.clear();
        for column in columns.iter().filter(|_| n == 0) {
            let (cell, width) = ((column.cell)(entry), column.width());
            if column.number {
                line.push_str(&format!("  {cell:>width$}"));
            } else {
                line.push_str(&format!("  {cell:<width$}"));
            }
        }
        text.push_str(line.trim_end());
        text.push('\n');
    }
}
