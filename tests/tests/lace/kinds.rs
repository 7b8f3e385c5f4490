//! Kinds of pattern against the eye: sixty pictures that five people labelled by looking
//! at them. How they did so, and how far the bounds were chosen by their labels, is in
//! `data/README.md`.

use std::path::Path;

use compare::pattern::{Seen, SoftenedRepeat};
use lace::{Grid, Ground, Thread};
use pairwise_tests::house::plugins;
use picture::layout::lay_out;
use rayon::prelude::*;
use serde::Deserialize;

/// How many of the sixty agree at least.
const AGREE: usize = 57;

/// A picture and what was seen in it.
#[derive(Deserialize)]
struct Looked {
    /// Its number among the hundred.
    n: usize,
    ground: String,
    arrangement: String,
    seen: String,
    /// A second kind, where a picture is between two.
    or: String,
}

fn looked_at() -> Vec<Looked> {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("data/kinds_of_pattern_seen.csv");
    csv::Reader::from_path(file).unwrap().deserialize().collect::<Result<_, _>>().unwrap()
}

/// What the program sees.
fn seen(name: &str, hung: &str) -> Seen {
    let (id, variety) = name.split_once('/').unwrap();
    let plugin = plugins().iter().find(|plugin| plugin.about.id == id).unwrap();
    let repeat = plugin.define(&plugin.about.resolve(Some(variety), &[]).unwrap()).unwrap();
    let ground = Ground::new(repeat).unwrap();
    let grid = Grid::new(4.0, plugin.about.angle).unwrap();
    let layout = lay_out(&ground, &grid, Thread::suiting(4.0).diameter_mm());
    Seen::new(&SoftenedRepeat::new(&ground, &layout), &ground, &hung.parse().unwrap())
}

// `cargo test --workspace --test lace kinds -- --nocapture` prints the figures.
#[test]
#[allow(clippy::print_stdout, reason = "the figures are worth reading")]
fn the_program_sees_what_people_see() {
    let all = looked_at();
    assert_eq!(all.len(), 60);
    assert!(all.iter().filter(|looked| !looked.or.is_empty()).count() <= 8);
    // Loaded on several threads: were these to wait for it, it would never end.
    plugins();
    let said: Vec<Seen> = all.par_iter().map(|looked| seen(&looked.ground, &looked.arrangement)).collect();
    // The even numbers, and the odd ones.
    let mut agree = [0, 0];
    for (looked, seen) in all.iter().zip(&said) {
        assert!((0.0..=1.0).contains(&seen.clearness));
        let word = seen.pattern.word();
        let right = word == looked.seen || word == looked.or;
        agree[looked.n % 2] += usize::from(right);
        println!(
            "{} {} {} {}: {word}, {:.0} % clear; looks like {} {}",
            if right { "  " } else { "no" },
            looked.n,
            looked.ground,
            looked.arrangement,
            100.0 * seen.clearness,
            looked.seen,
            looked.or
        );
    }
    let odd = all.iter().filter(|looked| looked.n % 2 == 1).count();
    println!(
        "agree: {} of {odd} with odd numbers, {} of {} with even ones",
        agree[1],
        agree[0],
        all.len() - odd
    );
    assert!(agree[0] + agree[1] >= AGREE, "{agree:?}");
}
