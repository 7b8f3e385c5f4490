//! Times laying out threads against the number of stitches.
//!
//! `cargo bench -p pairwise-picture --bench layout`

use divan::Bencher;
use lace::samples::rose;
use lace::{Grid, Ground};
use picture::layout::lay_out;

fn main() {
    divan::main();
}

/// One rose repeat of six stitches; then about 10, 100, 1,000 and 2,000 stitches.
#[divan::bench(args = [(1, 1), (1, 2), (4, 4), (12, 14), (18, 18)], sample_count = 10)]
fn roses(bencher: Bencher, (wide, high): (u16, u16)) {
    let ground =
        Ground::new(rose("CTCT", "CT pin CT").set_out(wide, high)).expect("rose ground has no errors");
    let grid = Grid::new(4.0, 45.0).expect("a grid");
    bencher
        .counter(divan::counter::ItemsCount::new(ground.stitches().len()))
        .bench(|| lay_out(&ground, &grid, 4.0 / 12.0));
}
