//! Heads of the rows of a table.

use catalogue::Chosen;
use lace::{Stitch, Travel};
use picture::page::contact_sheet::RowHead;

use crate::cell::DrawnGround;
use crate::scale::Scale;

/// Most stitches named below the title.
const STITCHES_NAMED: usize = 3;

/// The head of the row of a ground: its title, and below it the name to type, the
/// window if it is wider than usual, the pin spacing, the stitches, where threads
/// go.
pub(super) fn row_head(drawn: &DrawnGround, scale: &Scale) -> RowHead {
    let chosen = &drawn.chosen;
    let stitches = chosen.ground.distinct_stitches();
    let brief = |stitch: &&Stitch| stitch.letters().unwrap_or_else(|| chosen.ground.kind_in_words(stitch));
    let stitches: Vec<String> = stitches.keys().take(STITCHES_NAMED).map(brief).collect();
    let spacing = scale.spacing_in_short(chosen.about());
    let mut notes = vec![chosen.name(), spacing, stitches.join(", "), travel(chosen)];
    if let Some(window) = drawn.wider_in_words() {
        notes.insert(1, window);
    }
    RowHead { label: chosen.title().to_owned(), notes }
}

fn travel(chosen: &Chosen) -> String {
    let courses = chosen.ground.courses();
    let stay = courses.iter().filter(|c| c.travel == Travel::Stays).map(|c| c.threads).sum::<usize>();
    let all: usize = courses.iter().map(|c| c.threads).sum();
    match stay {
        0 => "all threads travel".to_owned(),
        n if n == all => "all threads stay".to_owned(),
        n => format!("{n} of {all} threads stay"),
    }
}
