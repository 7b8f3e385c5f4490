//! Words of crosses and twists: where threads end, what lies over what.
//!
//! Source: `stitch_words.json`. Named words read in Th. de Dillmont,
//! Encyclopedia of Needlework (Project Gutenberg 20776), J. Edkins, online lace
//! tutorial, L. Halley and lacegumnuts.com; effects computed with sympy 1.14.0.

use lace::{PairEffect, Stitch};
use pairwise_tests::data;
use serde::Deserialize;

#[derive(Deserialize)]
struct Words {
    named: Vec<Word>,
    all_words_up_to_length_6: Vec<Word>,
}

#[derive(Deserialize)]
struct Word {
    word: String,
    end_order_of_threads: [usize; 4],
    start_to_end: [usize; 4],
    order: usize,
    cycles: Vec<Vec<usize>>,
    parity: String,
    pairs: String,
    over_under: [String; 4],
    alternating: bool,
    crossings: usize,
}

fn cycles(images: &[usize; 4]) -> Vec<Vec<usize>> {
    let mut seen = [false; 4];
    let mut cycles = Vec::new();
    for start in 0..4 {
        let mut cycle = Vec::new();
        let mut at = start;
        while !seen[at] {
            seen[at] = true;
            cycle.push(at);
            at = images[at];
        }
        if !cycle.is_empty() {
            cycles.push(cycle);
        }
    }
    cycles
}

fn compare(expected: &Word) {
    let name = &expected.word;
    let work: Stitch = name.parse().unwrap_or_else(|error| panic!("{name}: {error}"));
    assert_eq!(work.end_order(), expected.end_order_of_threads, "{name}");
    assert_eq!(work.start_to_end(), expected.start_to_end, "{name}");
    assert_eq!(work.crossings().count(), expected.crossings, "{name}");
    let effect = match work.pair_effect() {
        PairEffect::Return => "pairs_return",
        PairEffect::Swap => "pairs_swap",
        PairEffect::Split => "pairs_split",
    };
    assert_eq!(effect, expected.pairs, "{name}");
    let lies = work.over_under();
    let letters =
        lies.each_ref().map(|t| t.iter().map(|&over| if over { 'O' } else { 'U' }).collect::<String>());
    assert_eq!(letters, expected.over_under, "{name}");
    let alternating = lies.iter().all(|t| t.windows(2).all(|two| two[0] != two[1]));
    assert_eq!(alternating, expected.alternating, "{name}");

    let round = cycles(&work.start_to_end());
    assert_eq!(round, expected.cycles, "{name}");
    let odd = round.iter().filter(|c| c.len() % 2 == 0).count() % 2 == 1;
    assert_eq!(if odd { "odd" } else { "even" }, expected.parity, "{name}");
    let mut repeated = Stitch::new(work.moves().to_vec(), None).unwrap();
    let mut times = 1;
    while repeated.end_order() != [0, 1, 2, 3] {
        let mut moves = repeated.moves().to_vec();
        moves.extend_from_slice(work.moves());
        repeated = Stitch::new(moves, None).unwrap();
        times += 1;
    }
    assert_eq!(times, expected.order, "{name}");
}

#[test]
fn named_words_do_what_was_computed() {
    let words: Words = data::json("stitch_words.json");
    assert!(words.named.len() >= 20);
    words.named.iter().for_each(compare);
}

#[test]
fn all_words_of_up_to_six_moves_do_what_was_computed() {
    let words: Words = data::json("stitch_words.json");
    assert_eq!(words.all_words_up_to_length_6.len(), 2 + 4 + 8 + 16 + 32 + 64);
    words.all_words_up_to_length_6.iter().for_each(compare);
}
