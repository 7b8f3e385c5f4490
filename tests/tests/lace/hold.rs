//! Whether woven fabrics hang together.
//!
//! Source: C. R. J. Clapham, "When a fabric hangs together", Bulletin of the
//! London Mathematical Society 12, 1980, 161-164. `fabric_examples.json` and
//! `fabric_hang_together_counts.csv` were computed with networkx 3.6.1.

use std::collections::{BTreeMap, BTreeSet};

use lace::{Over, fabric_layers};
use pairwise_tests::data;
use serde::Deserialize;

#[derive(Deserialize)]
struct Examples {
    examples: BTreeMap<String, Example>,
}

#[derive(Deserialize)]
struct Example {
    matrix: Vec<Vec<u8>>,
    hangs_together: bool,
    layers_top_to_bottom: Vec<Vec<String>>,
}

/// Rows are numbered before columns; 1 means that the row lies over the column.
fn overs(matrix: &[Vec<u8>]) -> Vec<Over> {
    let rows = matrix.len();
    let crossings = matrix
        .iter()
        .enumerate()
        .flat_map(|(r, row)| row.iter().enumerate().map(move |(c, &over)| (r, rows + c, over == 1)));
    crossings.map(|(row, column, over)| laid(row, column, over)).collect()
}

fn laid(row: usize, column: usize, row_over: bool) -> Over {
    let (upper, lower) = if row_over { (row, column) } else { (column, row) };
    Over { upper, lower }
}

#[test]
fn fabrics_have_the_layers_computed_outside() {
    let examples: Examples = data::json("fabric_examples.json");
    assert!(examples.examples.len() > 40);
    for (name, example) in examples.examples {
        let rows = example.matrix.len();
        let threads = rows + example.matrix[0].len();
        let overs = overs(&example.matrix);
        let layers = fabric_layers(threads, overs.iter().copied());
        assert_eq!(layers.len() == 1, example.hangs_together, "{name}");
        let words = |layer: &Vec<usize>| -> BTreeSet<String> {
            layer.iter().map(|&t| if t < rows { format!("r{t}") } else { format!("c{}", t - rows) }).collect()
        };
        let ours: BTreeSet<BTreeSet<String>> = layers.iter().map(words).collect();
        let theirs: BTreeSet<BTreeSet<String>> =
            example.layers_top_to_bottom.iter().map(|l| l.iter().cloned().collect()).collect();
        assert_eq!(ours, theirs, "{name}");
        // Layers that do not touch may come in any order, but none may come
        // before one that lies over it.
        let mut rank = vec![0; threads];
        for (depth, layer) in layers.iter().enumerate() {
            layer.iter().for_each(|&thread| rank[thread] = depth);
        }
        assert!(overs.iter().all(|over| rank[over.upper] <= rank[over.lower]), "{name}");
    }
}

#[derive(Deserialize)]
struct Count {
    rows: usize,
    cols: usize,
    matrices_total: usize,
    hang_together: usize,
    fall_apart: usize,
}

#[test]
fn the_number_of_fabrics_that_hang_together_is_as_published() {
    let counts: Vec<Count> = data::rows("fabric_hang_together_counts.csv");
    // Larger ones take seconds.
    let small = counts.iter().filter(|c| c.matrices_total <= 1 << 16);
    let mut compared = 0;
    for count in small {
        let (rows, cols) = (count.rows, count.cols);
        let hang = (0..count.matrices_total).filter(|bits| {
            let overs = (0..rows * cols).map(|k| {
                let (row, column) = (k / cols, rows + k % cols);
                laid(row, column, bits >> k & 1 == 1)
            });
            fabric_layers(rows + cols, overs).len() == 1
        });
        let hang = hang.count();
        assert_eq!(hang, count.hang_together, "{rows} x {cols}");
        assert_eq!(count.matrices_total - hang, count.fall_apart, "{rows} x {cols}");
        compared += 1;
    }
    assert_eq!(compared, 22);
}
