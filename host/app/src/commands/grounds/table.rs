//! The table of all varieties, at most 80 columns wide.

use catalogue::Kind;
use catalogue::list::{Listing, found_lines, groups, sort};
use textwrap::core::display_width;
use textwrap::wrap;

use super::{WIDTH, broken, by_ground, put};
use crate::cli::{GroundsArgs, Grouping, ListSort};

/// Indent of the rows below their heading.
const INDENT: &str = "  ";

/// One column after name and title: its head and its cells.
struct Column {
    head: &'static str,
    number: bool,
    cell: fn(&Listing) -> String,
}

impl Column {
    const fn width(&self) -> usize {
        if self.head.len() < 7 && !self.number { 7 } else { self.head.len() }
    }
}

const KIND: Column = Column { head: "kind", number: false, cell: |e| kind(e.about().kind).to_owned() };
const PAIRS: Column = Column { head: "pairs", number: true, cell: |e| e.pairs_across().to_string() };
const PINS: Column =
    Column { head: " pins", number: true, cell: |e| format!("{:.1}", e.measures.pins_per_cm2) };
const MOVES: Column =
    Column { head: " moves", number: true, cell: |e| format!("{:.1}", e.measures.moves_per_cm2) };
const COLOURS: Column = Column { head: "colours", number: false, cell: |e| e.colours_go().word().to_owned() };

/// The table, with a part for each family or other group.
pub fn table(args: &GroundsArgs, listings: &[Listing]) -> String {
    let mut text = String::new();
    let mut columns = Vec::new();
    // Rows do not repeat what their heading says.
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
    let (name_width, title_width) = shares(listings, WIDTH - INDENT.len() - others);

    let mut head = format!("{INDENT}{:<name_width$}  {:<title_width$}", "name", "title");
    for column in &columns {
        head.push_str(&format!("  {:<width$}", column.head, width = column.width()));
    }
    text.push_str(head.trim_end());
    text.push('\n');
    for mut group in groups(args.group.into(), listings) {
        if let Some(by) = args.sort {
            sort(by.into(), &mut group.rows);
        }
        let many = if group.rows.len() == 1 { "variety" } else { "varieties" };
        text.push('\n');
        put(&mut text, "", "", &format!("{}, {} {many}", group.heading, group.rows.len()));
        for listing in group.rows {
            row(&mut text, listing, name_width, title_width, &columns);
        }
    }
    let found = found_lines(listings);
    if !found.is_empty() {
        text.push_str("\nFound by\n");
    }
    for line in found {
        put(&mut text, INDENT, "", &line);
    }
    text.push('\n');
    put(&mut text, "", "", &legend(listings, args));
    text
}

/// Widths of the name and title columns, which share `room` columns, so that the
/// table takes the fewest lines. A longer name gets a line of its own (which
/// looks worse, and counts twice); a longer title is wrapped.
fn shares(all: &[Listing], room: usize) -> (usize, usize) {
    let lines = |name: usize| -> usize {
        let title = broken(room - 2 - name);
        let of = |l: &Listing| {
            2 * usize::from(display_width(&l.chosen.name()) > name) + wrap(&l.variety().title, &title).len()
        };
        all.iter().map(of).sum()
    };
    let longest = all.iter().map(|e| display_width(&e.chosen.name())).max().unwrap_or(0);
    let least = longest.min(room / 4).max("name".len());
    let most = longest.clamp(least, room * 3 / 4);
    let name = (least..=most).min_by_key(|&name| lines(name)).unwrap_or(least);
    (name, room - 2 - name)
}

/// What the numbers mean, and which command shows more.
fn legend(listings: &[Listing], args: &GroundsArgs) -> String {
    let varieties = listings.len();
    let of = |kind: Kind| by_ground(listings).filter(|ground| ground[0].about().kind == kind).count();
    let count = |n: usize, one: &str| match n {
        0 => None,
        1 => Some(format!("1 {one}")),
        n => Some(format!("{n} {one}s")),
    };
    let what: Vec<String> = [(Kind::Ground, "ground"), (Kind::Filling, "filling")]
        .into_iter()
        .filter_map(|(kind, word)| count(of(kind), word))
        .collect();
    if listings.is_empty() {
        return "There is nothing to list.".to_owned();
    }
    let (moves, spacing, angle) = (
        if args.sort == Some(ListSort::Moves) { " and moves" } else { "" },
        args.pricking.pin_spacing.map_or_else(
            || "footside pins as far apart as usual for each".to_owned(),
            |spacing| format!("{spacing} mm between footside pins"),
        ),
        args.pricking.angle.map_or_else(
            || "the angle usual for each".to_owned(),
            |angle| format!("{angle} degrees from the footside"),
        ),
    );
    format!(
        "{} of {}. Pairs: across one repeat. Pins{moves}: per square cm, with {spacing}, at {angle}. Colours: whether the threads they hang on travel across the lace, stay in their columns, or both. `pairwise grounds NAME` shows one in full.",
        if varieties == 1 { "1 variety".to_owned() } else { format!("{varieties} varieties") },
        what.join(" and "),
    )
}

fn kind(kind: Kind) -> &'static str {
    match kind {
        Kind::Ground => "ground",
        Kind::Filling => "filling",
    }
}

/// One variety: as many lines as its title needs.
fn row(text: &mut String, listing: &Listing, name_width: usize, title_width: usize, columns: &[Column]) {
    let mut name = listing.chosen.name();
    if display_width(&name) > name_width {
        put(text, INDENT, "", &name);
        name.clear();
    }
    let titles = wrap(&listing.variety().title, broken(title_width));
    for (n, title) in titles.iter().enumerate() {
        let room = " ".repeat(title_width.saturating_sub(display_width(title)));
        let mut line = format!("{INDENT}{name:<name_width$}  {title}{room}");
        name.clear();
        for column in columns.iter().filter(|_| n == 0) {
            let (cell, width) = ((column.cell)(listing), column.width());
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
