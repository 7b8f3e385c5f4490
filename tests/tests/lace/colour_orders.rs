//! The number of arrangements that look different, against published sequences.

use lace::samples::{rose, torchon};
use lace::{Arrangement, ArrangementSymmetry, DistinctArrangements, Ground, Repeat};
use pairwise_tests::data;
use pairwise_tests::house::plugins;
use proptest::prelude::*;
use serde::Deserialize;

/// The terms of a sequence; the first is for `offset` places.
fn terms(name: &str) -> Vec<u128> {
    // Source: On-Line Encyclopedia of Integer Sequences, see the data's README.
    #[derive(Deserialize)]
    struct Row {
        sequence: String,
        terms: String,
    }
    let rows: Vec<Row> = data::rows("oeis_terms.csv");
    let row = rows.iter().find(|row| row.sequence == name).expect("a sequence");
    row.terms.split(' ').map(|term| term.parse().expect("a term")).collect()
}

fn ground(repeat: Repeat) -> Ground {
    Ground::new(repeat).expect("a ground")
}

/// Every pair stays in its column, and each row is the last one moved on by a
/// pair: arrangements look the same when rotated and, since left and right are
/// alike, also when mirrored.
fn turned_and_mirrored() -> Ground {
    ground(torchon("CTCT pin CTCT", 0))
}

/// The same with an extra twist on one side only: no mirror.
fn turned() -> Ground {
    let mut repeat = torchon("CTCT pin CTCT", 0);
    repeat.legs[0].twists = 2;
    ground(repeat)
}

fn enumerated(sameness: &ArrangementSymmetry, colours: usize, exchange: bool) -> u128 {
    DistinctArrangements::new(std::slice::from_ref(sameness), colours, exchange).count() as u128
}

#[test]
fn rotations_make_necklaces_and_mirrors_bracelets() {
    let checks = [
        ("A000031", turned(), 2, false),
        ("A000029", turned_and_mirrored(), 2, false),
        ("A000013", turned(), 2, true),
        ("A000011", turned_and_mirrored(), 2, true),
        ("A001867", turned(), 3, false),
        ("A027671", turned_and_mirrored(), 3, false),
        ("A002076", turned(), 3, true),
        ("A056353", turned_and_mirrored(), 3, true),
        ("A032275", turned_and_mirrored(), 4, false),
        ("A056292", turned(), 4, true),
        ("A056354", turned_and_mirrored(), 4, true),
    ];
    for (name, ground, colours, exchange) in checks {
        // The first term is for no places at all, or for one.
        let (from, terms) = (if ["A032275", "A056292"].contains(&name) { 1 } else { 0 }, terms(name));
        for (places, &term) in terms.iter().enumerate().map(|(k, t)| (k + from, t)) {
            // An arrangement of an odd number of pairs and a repeat of two pairs
            // start together again only after twice as many pairs.
            if !(2..=14).contains(&places) || places % 2 == 1 {
                continue;
            }
            let sameness = ArrangementSymmetry::new(&ground, places);
            assert_eq!(sameness.count(colours, exchange), Some(term), "{name} for {places} pairs");
            if term < 5000 {
                assert_eq!(enumerated(&sameness, colours, exchange), term, "{name} for {places} pairs");
            }
        }
    }
}

// Torchon sends every other pair to the left and the rest to the right. Shifts
// across and down rotate the two rings of pairs independently, and the mirror
// swaps the rings. So n pairs make as many arrangements as there are unordered
// pairs of necklaces with n / 2 beads.
#[test]
fn torchon_makes_two_necklaces() {
    let torchon = ground(torchon("CT pin CT", 0));
    for (name, colours) in [("A000031", 2), ("A001867", 3)] {
        let necklaces = terms(name);
        for (beads, &n) in necklaces.iter().enumerate().skip(1).take(7) {
            let sameness = ArrangementSymmetry::new(&torchon, 2 * beads);
            assert_eq!(sameness.count(colours, false), Some(n * (n + 1) / 2), "{beads} and {beads}");
        }
    }
}

/// Places of an array of rows and columns, rotated down and across.
fn torus(rows: usize, columns: usize, mirrors: bool) -> ArrangementSymmetry {
    let map = |change: &dyn Fn(usize, usize) -> (usize, usize)| -> Vec<usize> {
        (0..rows * columns)
            .map(|k| {
                let (r, c) = change(k / columns, k % columns);
                r * columns + c
            })
            .collect()
    };
    let mut generators = vec![map(&|r, c| ((r + 1) % rows, c)), map(&|r, c| (r, (c + 1) % columns))];
    if mirrors {
        generators.push(map(&|r, c| (rows - 1 - r, c)));
        generators.push(map(&|r, c| (r, columns - 1 - c)));
    }
    ArrangementSymmetry::generated(rows * columns, &generators)
}

// A184271 and A222188, and more sizes and colours by brute force.
#[test]
fn rotations_down_and_across_make_torus_arrays() {
    #[derive(Deserialize)]
    struct Row {
        colours: usize,
        rows: usize,
        cols: usize,
        up_to_translation: u128,
        up_to_translation_and_axis_reflections: u128,
    }
    for row in data::rows::<Row>("torus_array_counts.csv") {
        for (mirrors, expected) in
            [(false, row.up_to_translation), (true, row.up_to_translation_and_axis_reflections)]
        {
            let sameness = torus(row.rows, row.cols, mirrors);
            let name = format!("{} by {} in {} colours", row.rows, row.cols, row.colours);
            assert_eq!(sameness.count(row.colours, false), Some(expected), "{name}");
            if expected < 2500 && row.rows * row.cols <= 12 {
                assert_eq!(enumerated(&sameness, row.colours, false), expected, "{name}");
            }
        }
    }
    for (name, mirrors) in [("A184271", false), ("A222188", true)] {
        // Read by antidiagonals: 1 by 1; 1 by 2, 2 by 1; …
        let sizes = (1..).flat_map(|sum: usize| (1..=sum).map(move |r| (r, sum + 1 - r)));
        for ((rows, columns), term) in sizes.zip(terms(name)) {
            assert_eq!(
                torus(rows, columns, mirrors).count(2, false),
                Some(term),
                "{name}: {rows} by {columns}"
            );
        }
    }
}

#[test]
fn every_arrangement_is_found_on_every_built_in_ground() {
    let mut checked = 0;
    for plugin in plugins() {
        for variety in plugin.about.varieties.keys() {
            let repeat = plugin.define(&plugin.about.resolve(Some(variety), &[]).unwrap()).unwrap();
            let ground = ground(repeat);
            for pairs in 1..=12 {
                let sameness = ArrangementSymmetry::new(&ground, pairs);
                for colours in 1..=3 {
                    for exchange in [false, true] {
                        let counted = sameness.count(colours, exchange).expect("a small number");
                        let found = enumerated(&sameness, colours, exchange);
                        assert_eq!(
                            found, counted,
                            "{}/{variety}: {pairs} pairs, {colours} colours, {exchange}",
                            plugin.about.id
                        );
                        checked += 1;
                    }
                }
            }
        }
    }
    assert!(checked >= 33 * 72);
}

proptest! {
    #[test]
    fn arrangements_read_back_as_written(pairs in proptest::collection::vec((0u8..26, 0u8..26), 1..40)) {
        let threads: Vec<u8> = pairs.into_iter().flat_map(|(a, b)| [a, b]).collect();
        let order = Arrangement::of_threads(&threads);
        prop_assert_eq!(order.to_string().parse(), Ok(order.clone()));
        prop_assert_eq!(order.in_runs().parse(), Ok(order.clone()));
        prop_assert_eq!(order.shortest().extended(order.pairs().len()), order);
    }
}

#[test]
fn single_threads_are_counted_too() {
    let ground = ground(rose("CTCT", "CT pin CT"));
    let sameness = ArrangementSymmetry::of_threads(&ground, 4);
    assert_eq!(sameness.places(), 8);
    assert_eq!(Some(enumerated(&sameness, 2, false)), sameness.count(2, false));
    assert!(sameness.count(2, false) > ArrangementSymmetry::new(&ground, 4).count(2, false));
}
