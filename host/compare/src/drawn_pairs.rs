//! How many pairs arrangements are drawn, followed and counted over.
//!
//! An arrangement and the repeat of a ground start together again only after
//! [`Ground::pairs_until_both_repeat`] pairs, so counts are made over that many.
//! A drawing must not depend on one arrangement, so drawings use a number of
//! pairs that suits nearly all of them.

use lace::Ground;

/// Least number of pairs in a drawing: arrangements of 1, 2, 3, 4, 6, 8, 12 and
/// 24 pairs repeat in it.
pub const USUAL_PAIRS: usize = 24;
/// Most pairs in a drawing that includes [`USUAL_PAIRS`]: with more, its threads
/// could not be numbered with one byte.
const MOST_PAIRS: usize = 120;

/// Number of pairs for a drawing that suits both an arrangement of this length
/// and the usual lengths: a multiple of both. `None` if its threads could not be
/// numbered with one byte.
pub fn for_repainting(arrangement: usize) -> Option<usize> {
    (1..=MOST_PAIRS / USUAL_PAIRS).map(|k| USUAL_PAIRS * k).find(|n| n.is_multiple_of(arrangement))
}

/// Number of pairs to draw for an arrangement of this length: a multiple of it,
/// and nearly always the same number. Threads are painted from left to right, so
/// only then does an arrangement give the same pixels as the same arrangement
/// written twice, and as any other picture of that ground and size.
pub fn for_painting(arrangement: usize) -> usize {
    for_repainting(arrangement).unwrap_or(arrangement)
}

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
    fn drawings_take_nearly_always_the_same_number_of_pairs() {
        for (arrangement, painted, repainted) in [
            (1, 24, Some(24)),
            (4, 24, Some(24)),
            (5, 120, Some(120)),
            (9, 72, Some(72)),
            (24, 24, Some(24)),
            (7, 7, None),
            (144, 144, None),
            (512, 512, None),
        ] {
            assert_eq!((for_painting(arrangement), for_repainting(arrangement)), (painted, repainted));
            assert!(repainted.is_none_or(|pairs| 2 * pairs <= usize::from(u8::MAX)));
        }
    }

    #[test]
    fn traces_go_over_whole_repeats_of_both() {
        // The rose ground has four pairs.
        let rose = Ground::new(rose("CTCT", "CT pin CT")).unwrap();
        assert_eq!([1, 4, 6, 8].map(|n| for_tracing(&rose, n, 8)), [8, 8, 12, 8]);
    }
}
