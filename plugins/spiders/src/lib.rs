//! Four spiders together in torchon ground: legs run from one to the next.

use pairwise_sdk::{
    About, Contribution, Problem, Repeat, Settings, TORCHON, Variety, contribution, in_torchon, spider,
};

/// Four spiders in a diamond.
pub struct Spiders;

impl Contribution for Spiders {
    fn about() -> About {
        let legs = |id, title, count: i32| Variety::new(id, title).set("legs", count);
        About::filling("spiders", "Four spiders together", "torchon")
            .family("spider")
            .used_in(["Torchon"])
            // Torchon is pricked at 3 to 5 mm (common practice, no source).
            .pin_spacing(4.0)
            .notes(
                "Four spiders in a diamond, with a hole in the middle. The lower legs of one are the upper legs \
                 of the next, twisted all the way.",
            )
            .source(
                "spider: Th. de Dillmont, Encyclopedia of Needlework, 1886, Laces of different kinds, figures 789, 790 \
                 and 801; four together: common practice, from memory",
            )
            .choose_count("legs", "Legs on each side of a spider", 2..=3, 2)
            .choose_count("twists", "Twists on the legs", 1..=5, 2)
            .choose_count("rows", "Rows of ground between the groups", 1..=3, 1)
            .choose("ground", "Stitch at the pins of the ground", &TORCHON)
            .variety(legs("two", "Four spiders, two legs a side", 2).notes("Of ten pairs, eight stay, turning back at every spider; two travel between the groups."))
            .variety(legs("three", "Four spiders, three legs a side", 3).notes("Of fourteen pairs, twelve stay, turning back at every spider; two travel between the groups."))
    }

    fn define(settings: &Settings) -> Result<Repeat, Problem> {
        let (legs, twists) = (settings.count("legs")?, settings.count("twists")?);
        let (rows, ground) = (settings.count("rows")?, settings.pick("ground", &TORCHON)?);
        in_torchon(2 * legs, rows, ground, |pillow, (x, y)| {
            let places = [
                ("top", (x, y - legs)),
                ("left", (x - legs, y)),
                ("right", (x + legs, y)),
                ("bottom", (x, y + legs)),
            ];
            let pillow = places.into_iter().fold(pillow, |pillow, (name, at)| {
                let pillow = pillow.twist_all(at.0 - legs..at.0 + legs, twists);
                spider(pillow, name, at, legs)
            });
            pillow.twist_all(-2 * legs..2 * legs, twists)
        })
    }
}

contribution!(Spiders);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_variety_can_be_worked() {
        let warnings = pairwise_sdk::check::<Spiders>();
        assert!(warnings.is_empty(), "{warnings:#?}");
    }

    // Threads of one repeat that travel left, stay and travel right, to match the notes.
    #[test]
    fn colours_go_where_the_notes_say() {
        let expected = [("two", [2, 16, 2]), ("three", [2, 24, 2])];
        assert_eq!(
            pairwise_sdk::travels::<Spiders>(),
            expected.map(|(id, threads)| (id.to_owned(), threads))
        );
    }
}
