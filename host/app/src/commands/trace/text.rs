//! A trace as text: sentences, then a line for each pair followed.

use compare::palette::Palette;
use compare::trace::Traced;
use lace::{Arrangement, Pattern, Side, Trace};

/// Width of a line, and of what comes before and after the places, in
/// characters.
const LINE: usize = 80;
const HEAD: usize = 18;
const TAIL: usize = 14;
/// Longest name for the colours of a pair, in characters.
const NAME: usize = 13;
/// Most visits to the footsides printed for one pair.
const VISITS: usize = 3;

/// The trace as text.
pub fn text(traced: &Traced) -> String {
    let mut text = sentences(traced);
    let trace = &traced.trace;
    let rows = trace.rows.len() - 1;
    let cell = if trace.places >= 100 { 4 } else { 3 };
    let shown_rows = rows.min((LINE - HEAD - TAIL) / cell);
    text.push_str(&format!("\n{:<HEAD$} place after each row\n{:<HEAD$}", "begins in place", ""));
    for row in 0..=shown_rows {
        text.push_str(&format!("{row:>cell$}"));
    }
    text.push_str(if trace.footsides { "  footsides\n" } else { "  is back\n" });
    for (k, _) in traced.followed.iter().enumerate().filter(|(_, followed)| **followed) {
        text.push_str(&format!("{:>3}  {:<NAME$}", k + 1, name(traced.hung[k], &traced.request.palette)));
        for row in &trace.rows[..=shown_rows] {
            let place = row[k].rem_euclid(trace.places as i64) + 1;
            text.push_str(&format!("{place:>cell$}"));
        }
        text.push_str(&format!("  {}\n", end(trace, k)));
    }
    if shown_rows < rows {
        text.push_str(&format!("(rows {} to {rows} are in --json)\n", shown_rows + 1));
    }
    if !trace.footsides {
        text.push_str("\nIs back: from this row on it takes the same places again, as from row 0.\n");
    }
    text
}

/// What is traced, and where the colours go.
fn sentences(traced: &Traced) -> String {
    let (trace, request) = (&traced.trace, &traced.request);
    let rows = trace.rows.len() - 1;
    let unit = if trace.by_threads { "threads" } else { "pairs" };
    let width = if trace.footsides { "between two footsides" } else { "on an endless width" };
    let (chosen, arrangement) = (&request.chosen, &request.arrangement);
    let mut text = format!("{} ({}). Hang on {arrangement}, repeating.\n", chosen.title(), chosen.name());
    text.push_str(&format!("{} {unit} over {rows} rows of repeats, {width}\n\n", trace.places));
    for sentence in &traced.sentences {
        text.push_str(&format!("  {sentence}\n"));
    }
    if !trace.footsides {
        let pattern = pattern(traced.seen.pattern);
        text.push_str(&format!("  The colours make {pattern}.\n"));
    }
    if trace.by_threads {
        text.push_str("\n  Some stitches part the threads of a pair, so single threads are followed.\n");
    }
    text
}

/// A pattern for the sentence "the colours make …".
fn pattern(pattern: Pattern) -> &'static str {
    match pattern {
        Pattern::Plain => "no pattern: all pairs have one colour",
        Pattern::EvenMix => "an even mix",
        other => other.words(),
    }
}

/// The colours of a pair by letter and name.
fn name(hung: [u8; 2], palette: &Palette) -> String {
    let names: Vec<&str> = hung
        .iter()
        .take(if hung[0] == hung[1] { 1 } else { 2 })
        .filter_map(|&c| palette.colours().get(usize::from(c)).map(|c| c.name.as_str()))
        .collect();
    let name = format!("{} {}", Arrangement::of_threads(&hung), names.join("/"));
    name.chars().take(NAME).collect()
}

/// Where a pair comes to a footside, or when it is back.
fn end(trace: &Trace, k: usize) -> String {
    if !trace.footsides {
        return trace.returns[k].map_or("not yet".to_owned(), |row| format!("row {row}"));
    }
    let side = |side: Side| if side == Side::Left { "left" } else { "right" };
    let visits = trace.visits[k].iter().take(VISITS);
    visits.map(|v| format!("{} {}", side(v.side), v.row)).collect::<Vec<_>>().join(", ")
}
