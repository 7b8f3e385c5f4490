//! How many pairs are followed for an arrangement.
//!
//! An arrangement and the repeat of a ground start together again only after
//! [`Ground::pairs_until_both_repeat`] pairs, so counts are made over that many.

use lace::Ground;

/// Number of pairs of a ground to follow for an arrangement: at least `least`,
/// and a whole number of repeats of both.
pub fn for_tracing(ground: &Ground, arrangement: usize, least: usize) -> usize {
    least.next_multiple_of(ground.pairs_until_both_repeat(arrangement))
}

#[cfg(test)]
mod tests {
    use super::*;
    use lace::samples::rose;

    #[test]
    fn traces_go_over_whole_repeats_of_both() {
        // The rose ground has four pairs.
        let rose = Ground::new(rose("CTCT", "CT pin CT")).unwrap();
        assert_eq!([1, 4, 6, 8].map(|n| for_tracing(&rose, n, 8)), [8, 8, 12, 8]);
    }
}
