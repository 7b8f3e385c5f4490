//! The list of all pictures with their places and facts (format
//! `pairwise-grid/1`).

use compare::comparison::Comparison;
use report::grid::{Cell, Each, Grid};

use super::pages::Written;
use crate::failure::Failure;

/// The list as JSON, with the grounds and contributions that were left out.
pub fn json(
    comparison: &Comparison,
    written: &Written,
    grounds_left_out: usize,
    contributions_left_out: usize,
) -> Result<Vec<u8>, Failure> {
    let cells = Each(|| {
        let places = written.places.iter();
        places.map(|(page, place)| Cell::new(comparison, &written.pages[*page].file, place))
    });
    let pages = written.pages.clone();
    let list = Grid::new(comparison, pages, grounds_left_out, contributions_left_out, cells);
    let mut bytes = serde_json::to_vec(&list)?;
    bytes.push(b'\n');
    Ok(bytes)
}
