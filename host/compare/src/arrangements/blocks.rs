//! Arrangements that are one block of a named kind, repeated.

use lace::{Arrangement, ArrangementName};

/// Most ways to choose colours that are tried.
const MOST_WAYS: usize = 200_000;

/// All arrangements of `pairs` pairs that repeat one block of a named kind,
/// starting at any of its pairs; none for names that belong to no block.
pub(super) fn repeated(name: ArrangementName, colours: usize, pairs: usize) -> Vec<Arrangement> {
    blocks(name, colours, pairs)
        .into_iter()
        .filter(|block| !block.is_empty() && pairs.is_multiple_of(block.len()))
        .flat_map(|block| {
            (0..block.len()).map(move |turn| {
                let mut turned = block.clone();
                turned.rotate_left(turn);
                turned
            })
        })
        .map(|block| Arrangement::of_pairs(&block).extended(pairs))
        .collect()
}

fn blocks(name: ArrangementName, colours: usize, pairs: usize) -> Vec<Vec<u8>> {
    let of = |count, lengths: &dyn Fn(usize) -> usize| runs(&ways(colours as u8, count), lengths);
    match name {
        ArrangementName::OneColour => of(1, &|_| 1),
        ArrangementName::OneIn(n) => of(2, &|k| if k == 0 { n.saturating_sub(1) } else { 1 }),
        ArrangementName::InTurn(n) => {
            (2..=colours.min(pairs / n.max(1))).flat_map(|many| of(many, &|_| n)).collect()
        }
        ArrangementName::HalfAndHalf => (4..=pairs / 2).flat_map(|half| of(2, &|_| half)).collect(),
        ArrangementName::Graded | ArrangementName::Symmetrical => Vec::new(),
    }
}

/// Every way to choose `count` different colours in order.
fn ways(colours: u8, count: usize) -> Vec<Vec<u8>> {
    let mut ways: Vec<Vec<u8>> = vec![Vec::new()];
    for _ in 0..count {
        ways = ways
            .iter()
            .flat_map(|way| {
                (0..colours)
                    .filter(|c| !way.contains(c))
                    .map(|c| way.iter().copied().chain([c]).collect::<Vec<u8>>())
            })
            .take(MOST_WAYS)
            .collect();
    }
    ways
}

/// Each way with a run of pairs for each of its colours.
fn runs(ways: &[Vec<u8>], lengths: &dyn Fn(usize) -> usize) -> Vec<Vec<u8>> {
    let run = |way: &Vec<u8>| {
        way.iter().enumerate().flat_map(|(k, &colour)| std::iter::repeat_n(colour, lengths(k))).collect()
    };
    ways.iter().map(run).collect()
}
