//! The likeness of two results.
//!
//! Five things are compared, each from 0 (nothing alike) to 1 (the same); their
//! weighted mean is the likeness. The weights are our own, chosen so that the
//! kind of pattern, which is seen first, counts most.

use lace::Pattern;

use crate::cell::Cell;

/// Weights; their sum is 1. The help text of `grid --like` repeats them.
const PATTERN: f64 = 0.35;
const SHARES: f64 = 0.20;
const MIXING: f64 = 0.20;
const OPEN: f64 = 0.15;
const PERIOD: f64 = 0.10;

/// Likeness of two cells, 0 to 1: symmetric, and 1 for a cell and itself.
pub fn likeness(a: &Cell, b: &Cell) -> f64 {
    PATTERN * kind(a.pattern, b.pattern)
        + SHARES * shares(a, b)
        + MIXING * (1.0 - (a.mixing - b.mixing).abs())
        + OPEN * (1.0 - (a.open() - b.open()).abs())
        + PERIOD * (nearness(Some(a.across_mm), Some(b.across_mm)) + nearness(a.down_mm, b.down_mm)) / 2.0
}

/// Half alike: diagonals either way, checks and spots.
fn kind(a: Pattern, b: Pattern) -> f64 {
    use Pattern::{Checks, DiagonalsLeft, DiagonalsRight, Spots};
    match (a, b) {
        _ if a == b => 1.0,
        (DiagonalsLeft, DiagonalsRight)
        | (DiagonalsRight, DiagonalsLeft)
        | (Checks, Spots)
        | (Spots, Checks) => 0.5,
        _ => 0.0,
    }
}

/// The overlap of the colours' shares of the visible thread.
fn shares(a: &Cell, b: &Cell) -> f64 {
    let of = |cell: &Cell, k: usize| {
        let all: f64 = cell.visible_shares.iter().sum();
        if all > 0.0 { cell.visible_shares.get(k).unwrap_or(&0.0) / all } else { 0.0 }
    };
    let apart: f64 =
        (0..a.visible_shares.len().max(b.visible_shares.len())).map(|k| (of(a, k) - of(b, k)).abs()).sum();
    1.0 - apart / 2.0
}

/// The smaller length as a share of the larger.
fn nearness(a: Option<f64>, b: Option<f64>) -> f64 {
    match (a, b) {
        (Some(a), Some(b)) if a.max(b) > 0.0 => a.min(b) / a.max(b),
        (Some(_), None) | (None, Some(_)) => 0.0,
        _ => 1.0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::window::{Repeats, Shown};

    fn cell(pattern: Pattern, seen: [f64; 2], mixing: f64, across_mm: f64) -> Cell {
        let repeats = Repeats { stitches: [4.0, 4.0], colours_across: across_mm, colours_down: None };
        Cell {
            pattern,
            clearness: 0.5,
            shown: Shown { window_mm: 16.0, usual_mm: 16.0, repeats },
            across_mm,
            down_mm: None,
            visible_shares: seen.to_vec(),
            length_shares: vec![0.5, 0.5],
            mixing,
            contrast: None,
        }
    }

    #[test]
    fn likeness_is_one_for_the_same_and_falls_with_each_difference() {
        let one = cell(Pattern::Columns, [0.3, 0.3], 0.4, 8.0);
        assert!((likeness(&one, &one) - 1.0).abs() < 1e-12);
        let others = [
            cell(Pattern::Checks, [0.3, 0.3], 0.4, 8.0),
            cell(Pattern::Columns, [0.6, 0.0], 0.4, 8.0),
            cell(Pattern::Columns, [0.3, 0.3], 0.0, 8.0),
            cell(Pattern::Columns, [0.4, 0.4], 0.4, 8.0),
            cell(Pattern::Columns, [0.3, 0.3], 0.4, 16.0),
        ];
        // By hand, from the weights: another kind 0.35; half the shares 0.2 / 2;
        // 0.4 of the mixing's 0.2; 0.2 of the openness's 0.15; half of half 0.1.
        for (other, expected) in others.iter().zip([0.65, 0.9, 0.92, 0.97, 0.975]) {
            let found = likeness(&one, other);
            assert!((found - expected).abs() < 1e-12, "{found}, expected {expected}");
            assert_eq!(found, likeness(other, &one));
        }
        assert_eq!(kind(Pattern::DiagonalsLeft, Pattern::DiagonalsRight), 0.5);
        assert_eq!(kind(Pattern::Plain, Pattern::EvenMix), 0.0);
    }
}
