//! Lines of text in columns.

/// Rows of cells as lines, each column as wide as its widest cell.
pub(super) fn columns(rows: &[Vec<String>], indent: &str) -> Vec<String> {
    let width = |column: usize| {
        rows.iter().filter_map(|row| row.get(column)).map(|cell| cell.chars().count()).max().unwrap_or(0)
    };
    let widths: Vec<usize> = (0..rows.iter().map(Vec::len).max().unwrap_or(0)).map(width).collect();
    let line = |row: &Vec<String>| {
        let cells = row.iter().zip(&widths).map(|(cell, &width)| format!("{cell:width$}"));
        format!("{indent}{}", cells.collect::<Vec<_>>().join("  ")).trim_end().to_owned()
    };
    rows.iter().map(line).collect()
}
