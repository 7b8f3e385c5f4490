//! How long it takes to lay threads out, against the number of stitches.
//!
//! `cargo bench -p pairwise-picture --bench layout`

use divan::Bencher;
use lace::{End, Grid, Ground, Lattice, Leg, Repeat, Side, Stitch, point};
use picture::layout::lay_out;

fn main() {
    divan::main();
}

/// The four-pin rose ground, `wide` by `high` units.
fn roses(wide: i32, high: i32) -> Ground {
    let dots = [
        (-1, 0, "CTCT"),
        (1, 0, "CTCT"),
        (0, 0, "CT pin CT"),
        (-1, 1, "CT pin CT"),
        (1, 1, "CT pin CT"),
        (0, 2, "CT pin CT"),
    ];
    // From dot and side to dot and side, in which neighbouring unit.
    let (left, right) = (Side::Left, Side::Right);
    let legs = [
        (0, left, 3, left, [0, 0]),
        (0, right, 2, left, [0, 0]),
        (1, left, 2, right, [0, 0]),
        (1, right, 4, right, [0, 0]),
        (2, left, 3, right, [0, 0]),
        (2, right, 4, left, [0, 0]),
        (3, right, 5, left, [0, 0]),
        (4, left, 5, right, [0, 0]),
        (3, left, 1, left, [0, 1]),
        (5, left, 1, right, [0, 1]),
        (5, right, 0, left, [1, 0]),
        (4, right, 0, right, [1, 0]),
    ];
    let mut repeat = Repeat {
        lattice: Lattice {
            across: point(2.0, 2.0) * f64::from(wide),
            down: point(-2.0, 2.0) * f64::from(high),
        },
        stitches: Vec::new(),
        legs: Vec::new(),
    };
    let stitch = |i: i32, j: i32, dot: usize| (j * wide + i) as usize * dots.len() + dot;
    for j in 0..high {
        for i in 0..wide {
            for (k, (x, y, work)) in dots.into_iter().enumerate() {
                repeat.stitches.push(Stitch {
                    id: format!("s{}", stitch(i, j, k)),
                    at: Some(point(f64::from(x + 2 * i - 2 * j), f64::from(y + 2 * i + 2 * j))),
                    work: work.parse().expect("a work"),
                });
            }
            for (from, exit, to, entry, [across, down]) in legs {
                let there = [i + across, j + down];
                repeat.legs.push(Leg {
                    from: End::new(stitch(i, j, from), exit),
                    to: End::new(stitch(there[0] % wide, there[1] % high, to), entry),
                    cell: [there[0] / wide, there[1] / high],
                    twists: 0,
                });
            }
        }
    }
    Ground::new(repeat).expect("rose ground has no errors")
}

/// One rose repeat of six stitches; then about 10, 100, 1,000 and 2,000 stitches.
#[divan::bench(args = [(1, 1), (1, 2), (4, 4), (12, 14), (18, 18)])]
fn rose(bencher: Bencher, (wide, high): (i32, i32)) {
    let ground = roses(wide, high);
    let grid = Grid::new(4.0, 45.0).expect("a grid");
    bencher
        .counter(divan::counter::ItemsCount::new(ground.stitches().len()))
        .bench(|| lay_out(&ground, &grid, 4.0 / 12.0));
}
