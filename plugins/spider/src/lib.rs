//! Spiders in torchon ground. The legs, twisted, come in from both sides, are
//! woven through each other in cloth stitch, pinned in the middle and woven
//! back, so that each leaves on the side it came from.

use pairwise_sdk::{
    About, Contribution, Problem, Repeat, Settings, TORCHON, Variety, contribution, in_torchon, spider,
};

const DILLMONT: &str =
    "Th. de Dillmont, Encyclopedia of Needlework, 1886, Laces of different kinds, figures 789 and 790";
/// "4, 6, 8 pairs of bobbins, sometimes even more are used (see likewise fig. 801)".
const MORE_LEGS: &str =
    "Th. de Dillmont, Encyclopedia of Needlework, 1886, Laces of different kinds, figures 789, 790 and 801";

/// Spiders with two to five legs a side.
pub struct Spider;

impl Contribution for Spider {
    fn about() -> About {
        let legs = |id, title, count: i32| Variety::new(id, title).set("legs", count);
        About::filling("spider", "Spider", "torchon")
            .also_called("en", "wheel", DILLMONT)
            .also_called("de", "Spinne", "common practice")
            .also_called("fr", "araignée", "common practice")
            .used_in(["Torchon"])
            // Torchon is pricked at 3 to 5 mm (common practice, no source).
            .pin_spacing(4.0)
            .notes(
                "A round woven body in the middle of a diamond, on long twisted legs. The pairs of the legs \
                 stay, turning back at every spider; those that run between the spiders travel. Dillmont (1886) twists \
                 the legs once; here they have more.",
            )
            .source(MORE_LEGS)
            .choose_count("legs", "Legs on each side", 2..=5, 3)
            .choose_count("twists", "Twists on the legs", 1..=5, 2)
            .choose_count("rows", "Rows of ground between the spiders", 1..=3, 1)
            .choose("ground", "Stitch at the pins of the ground", &TORCHON)
            .variety(
                legs("three", "Spider, three legs a side", 3).notes("Of eight pairs, six stay and two travel."),
            )
            .variety(
                legs("two", "Spider, two legs a side", 2)
                    .notes("Of six pairs, four stay and two travel.")
                    .source(DILLMONT),
            )
            .variety(
                legs("four", "Spider, four legs a side", 4).notes("Of ten pairs, eight stay and two travel."),
            )
            .variety(
                legs("five", "Spider, five legs a side", 5).notes("Of twelve pairs, ten stay and two travel."),
            )
    }

    fn define(settings: &Settings) -> Result<Repeat, Problem> {
        let (legs, twists) = (settings.count("legs")?, settings.count("twists")?);
        in_torchon(legs, settings.count("rows")?, settings.pick("ground", &TORCHON)?, |pillow, middle| {
            let legs_of_all = -legs..legs;
            let pillow = pillow.twist_all(legs_of_all.clone(), twists);
            spider(pillow, "body", middle, legs).twist_all(legs_of_all, twists)
        })
    }
}

contribution!(Spider);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_variety_can_be_worked() {
        let warnings = pairwise_sdk::check::<Spider>();
        assert!(warnings.is_empty(), "{warnings:#?}");
    }

    // Threads of one repeat that travel left, stay and travel right, to match the notes.
    #[test]
    fn colours_go_where_the_notes_say() {
        let legs = [("three", 3), ("two", 2), ("four", 4), ("five", 5)];
        let expected = legs.map(|(id, legs)| (id.to_owned(), [2, 4 * legs, 2]));
        assert_eq!(pairwise_sdk::travels::<Spider>(), expected);
    }
}
