//! With how many pairs arrangements are drawn, followed and counted.
//!
//! An arrangement and the repeat of a ground start together only every so many
//! pairs ([`Ground::pairs_until_both_repeat`]): what is counted is counted over
//! that many. What is drawn must not depend on the arrangement at hand, so
//! drawings take a number that suits nearly all of them.

use lace::Ground;

/// Pairs with which grounds are drawn, at least: arrangements of 1, 2, 3, 4, 6,
/// 8, 12 and 24 pairs repeat in it.
pub const USUAL_PAIRS: usize = 24;
/// Most pairs with which they are drawn for the sake of [`USUAL_PAIRS`]: their
/// threads can be numbered with one byte.
const MOST_PAIRS: usize = 120;

/// With how many pairs a drawing suits an arrangement of so many and those of
/// the usual lengths too, its threads numbered with one byte: a multiple of
/// both. `None` where that would be more than a byte can number.
pub fn for_repainting(arrangement: usize) -> Option<usize> {
    (1..=MOST_PAIRS / USUAL_PAIRS).map(|k| USUAL_PAIRS * k).find(|n| n.is_multiple_of(arrangement))
}

/// With how many pairs grounds are drawn for an arrangement of so many: a
/// multiple of it, and nearly always the same. Threads are painted in the order
/// in which they hang, so only then an arrangement gives the same pixels as the
/// same arrangement written twice, and as any other picture of that ground and
/// size.
pub fn for_painting(arrangement: usize) -> usize {
    for_repainting(arrangement).unwrap_or(arrangement)
}

/// How many pairs of a ground are followed in an arrangement of so many: at
/// least `least`, and as many as it takes until both repeat.
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
