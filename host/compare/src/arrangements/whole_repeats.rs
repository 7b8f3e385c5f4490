//! How the length of an arrangement fits the repeats of grounds.

use catalogue::Chosen;
use indexmap::IndexMap;

use crate::note::Note;

/// The number of pairs, rounded up to whole repeats if all grounds have the same
/// number of pairs in a repeat; with a note about the rounding, or about grounds
/// that start together with the arrangement only after several repeats.
pub(super) fn whole_repeats(pairs: usize, grounds: &[&Chosen]) -> (usize, Option<Note>) {
    let own = |chosen: &Chosen| chosen.ground.hanging().pairs().len();
    let Some((first, others)) = grounds.split_first() else { return (pairs, None) };
    let repeat = own(first);
    if others.iter().all(|other| own(other) == repeat) {
        let shown = pairs.next_multiple_of(repeat);
        let title = others.is_empty().then(|| first.title().to_owned());
        let note = (shown != pairs).then_some(Note::RoundedUp { title, repeat, asked: pairs, shown });
        return (shown, note);
    }
    // Grounds by the number of pairs after which they and the arrangement start
    // together again.
    let mut later: IndexMap<usize, Vec<String>> = IndexMap::new();
    for chosen in grounds.iter().filter(|chosen| !pairs.is_multiple_of(own(chosen))) {
        let titles = later.entry(chosen.ground.pairs_until_both_repeat(pairs)).or_default();
        if titles.last().is_none_or(|last| last != chosen.title()) {
            titles.push(chosen.title().to_owned());
        }
    }
    later.sort_unstable_keys();
    let after: Vec<(usize, Vec<String>)> = later.into_iter().collect();
    (pairs, (!after.is_empty()).then_some(Note::StartTogetherLater { pairs, after }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::samples::chosen;
    use lace::samples::{rose, torchon};

    #[test]
    fn pairs_are_rounded_up_only_where_all_repeats_agree() {
        let rose = chosen("Rose ground", rose("CTCT", "CT pin CT"));
        let torchon = chosen("Torchon ground", torchon("CT pin CT", 0));
        let rounded = |pairs, grounds: &[&Chosen]| {
            let (pairs, note) = whole_repeats(pairs, grounds);
            (pairs, note.map(|note| note.to_string()))
        };
        assert_eq!(rounded(8, &[&rose]), (8, None));
        assert_eq!(
            rounded(6, &[&rose]),
            (8, Some("the repeat of Rose ground has 4 pairs: 6 pairs are rounded up to 8".to_owned()))
        );
        assert_eq!(
            rounded(1, &[&rose, &rose]),
            (4, Some("the repeats of these grounds have 4 pairs: 1 pair is rounded up to 4".to_owned()))
        );
        assert_eq!(
            rounded(6, &[&rose, &torchon]),
            (
                6,
                Some(
                    "an arrangement of 6 pairs and the repeat start together again only after 12 pairs (Rose ground)"
                        .to_owned()
                )
            )
        );
    }
}
