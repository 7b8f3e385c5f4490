//! Flowers of four leaves in torchon ground: two leaves come to a pin, two leave
//! it.

use pairwise_sdk::{
    About, Contribution, Problem, Repeat, Settings, TORCHON, Variety, contribution, in_torchon, tally,
};

/// Four leaves round a pin.
pub struct Flower;

impl Contribution for Flower {
    fn about() -> About {
        About::filling("flower", "Flower of four leaves in torchon ground", "torchon")
            .family("tally")
            .used_in(["Torchon"])
            // Torchon is pricked at 3 to 5 mm (common practice, no source).
            .pin_spacing(4.0)
            .notes(
                "Four woven leaves meet in a windmill crossing with a pin in its middle. Leave the weavers of the \
                 first two slack until the crossing holds them. The name is ours.",
            )
            .source(
                "leaves that cross in the middle: Th. de Dillmont, Encyclopedia of Needlework, 1886, Laces of different kinds, \
                 figures 809 and 810; crossed as a windmill with a pin, set in torchon ground: common practice, from memory",
            )
            .choose_count("turns", "Times there and back in a leaf", 2..=4, 3)
            .choose_count("rows", "Rows of ground between the flowers", 1..=4, 1)
            .choose("ground", "Stitch at the pins of the ground", &TORCHON)
            .variety(Variety::new("close", "Flowers of four leaves").notes("One row of ground between the flowers. Every pair travels through flower and ground, half to the left and half to the right."))
            .variety(Variety::new("wide", "Flowers of four leaves, two rows of ground between").set("rows", 2).notes("The flowers stand farther apart. Every pair travels, half to the left and half to the right."))
    }

    fn define(settings: &Settings) -> Result<Repeat, Problem> {
        let leaf = tally(settings.count("turns")?);
        in_torchon(2, settings.count("rows")?, settings.pick("ground", &TORCHON)?, |pillow, (x, y)| {
            let at = |right: f64, down: f64| (f64::from(x) + right, f64::from(y) + down);
            pillow
                .stitch("leaf-1", at(-0.9, -0.9), -2, &leaf)
                .stitch("leaf-2", at(0.9, -0.9), 0, &leaf)
                // The windmill: each pair is used as one thread.
                .stitch("top", at(0.0, -0.25), -1, "pair-cross")
                .stitch("left", at(-0.25, 0.0), -2, "pair-twist")
                .stitch("right", at(0.25, 0.0), 0, "pair-twist")
                .stitch("bottom", at(0.0, 0.25), -1, "pin pair-cross")
                .stitch("leaf-3", at(-0.9, 0.9), -2, &leaf)
                .stitch("leaf-4", at(0.9, 0.9), 0, &leaf)
        })
    }
}

contribution!(Flower);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_variety_can_be_worked() {
        let warnings = pairwise_sdk::check::<Flower>();
        assert!(warnings.is_empty(), "{warnings:#?}");
    }

    // Threads of one repeat that travel left, stay and travel right, to match the notes.
    #[test]
    fn colours_go_where_the_notes_say() {
        let expected = [("close", [6, 0, 6]), ("wide", [8, 0, 8])];
        assert_eq!(pairwise_sdk::travels::<Flower>(), expected.map(|(id, threads)| (id.to_owned(), threads)));
    }
}
