//! Tallies in torchon ground: two pairs meet at a dot and work a small woven
//! square in place of the pin stitch.

use pairwise_sdk::{
    About, Contribution, Problem, Repeat, Settings, TORCHON, Variety, contribution, in_torchon, tally,
};

/// Tallies in torchon ground.
pub struct Tally;

impl Contribution for Tally {
    fn about() -> About {
        About::filling("tally", "Tallies in torchon ground", "torchon")
            .family("tally")
            .also_called("en", "leadwork", "common practice")
            .also_called("de", "Formenschlag", "common practice")
            .also_called("fr", "point d'esprit", "common practice")
            .used_in(["Torchon"])
            // Torchon is pricked at 3 to 5 mm (common practice, no source).
            .pin_spacing(4.0)
            .notes(
                "One thread weaves over and under the other three of its stitch, there and back. Leave the \
                 weaver slack when the tally is done, until the next stitch holds it.",
            )
            .source("J. Edkins, online lace tutorial, tally; set out in torchon ground: common practice, from memory")
            .choose_count("turns", "Times there and back", 2..=6, 4)
            .choose_count("rows", "Dots of ground between two tallies, along a diagonal", 1..=4, 2)
            .choose_count("twists", "Twists before and after a tally", 0..=3, 1)
            .choose("ground", "Stitch at the pins of the ground", &TORCHON)
            .variety(
                Variety::new("scattered", "Tallies in torchon ground, two dots between")
                    .notes("Two dots of ground lie between one tally and the next on its diagonal: one dot in nine is a tally. Of six pairs, two meet the tallies, turn back there and stay; four travel."),
            )
            .variety(
                Variety::new("close", "Tallies in torchon ground, one dot between")
                    .set("rows", 1)
                    .notes("One dot of ground lies between one tally and the next on its diagonal: one dot in four is a tally. Of four pairs, two meet the tallies, turn back there and stay; two travel."),
            )
    }

    fn define(settings: &Settings) -> Result<Repeat, Problem> {
        let (turns, twists) = (settings.count("turns")?, settings.count("twists")?);
        in_torchon(1, settings.count("rows")?, settings.pick("ground", &TORCHON)?, |pillow, middle| {
            pillow.twist_all(-1..1, twists).dot("tally", middle, tally(turns)).twist_all(-1..1, twists)
        })
    }
}

contribution!(Tally);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_variety_can_be_worked() {
        let warnings = pairwise_sdk::check::<Tally>();
        assert!(warnings.is_empty(), "{warnings:#?}");
    }

    // Threads of one repeat that travel left, stay and travel right, to match the notes.
    #[test]
    fn colours_go_where_the_notes_say() {
        let expected = [("scattered", [4, 4, 4]), ("close", [2, 4, 2])];
        assert_eq!(pairwise_sdk::travels::<Tally>(), expected.map(|(id, threads)| (id.to_owned(), threads)));
    }
}
