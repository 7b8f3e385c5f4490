//! Names of pairs as people write them: `left 3`, `start right`, `passive left 1`.

use lace::{PairName, Side};

/// The pair with this name, as [`PairName`] writes it. Case does not matter.
pub fn pair_name(text: &str) -> Option<PairName> {
    let lower = text.to_lowercase();
    let words: Vec<&str> = lower.split_whitespace().collect();
    let number = |text: &str| text.parse().ok().filter(|&n: &usize| n > 0);
    Some(match words[..] {
        ["start", side] => PairName::Start(side_named(side)?),
        ["edge", side] => PairName::Edge(side_named(side)?),
        ["top", n] => PairName::Top(number(n)?),
        ["passive", side, n] => PairName::Passive(side_named(side)?, number(n)?),
        [side, n] => PairName::Side(side_named(side)?, number(n)?),
        _ => return None,
    })
}

/// `left` or `right`.
pub(crate) fn side_named(word: &str) -> Option<Side> {
    Side::BOTH.into_iter().find(|side| side.word() == word)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_read_as_they_are_written() {
        let names = [
            PairName::Start(Side::Left),
            PairName::Top(12),
            PairName::Side(Side::Right, 3),
            PairName::Passive(Side::Left, 2),
            PairName::Edge(Side::Right),
        ];
        for name in names {
            assert_eq!(pair_name(&name.to_string()), Some(name));
        }
        assert_eq!(pair_name(" Left  3 "), Some(PairName::Side(Side::Left, 3)));
        for text in
            ["", "left", "left 0", "left -1", "left 3 4", "start", "middle 2", "top x", "passive left"]
        {
            assert_eq!(pair_name(text), None, "{text}");
        }
    }
}
