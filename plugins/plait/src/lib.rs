//! Plaited ground: plaits or leaves that run slantwise and pass through each
//! other in windmill crossings, each pair used as one thread.

use pairwise_sdk::{About, Contribution, Pillow, Problem, Repeat, Settings, Variety, contribution, tally};

/// What runs between the crossings: id, title, whether woven.
const SIDES: [(&str, &str, bool); 2] = [
    ("plaits", "plaits: half stitch upon half stitch", false),
    ("leaves", "leaves: woven, pointed at both ends", true),
];

/// Plaited ground with windmill crossings.
pub struct Plait;

impl Contribution for Plait {
    fn about() -> About {
        About::ground("plait", "Plaited ground with windmill crossings")
            .family("plait")
            .used_in(["Bedfordshire", "Maltese"])
            // Plaits need room: crossings about 5 mm apart (common practice, no source).
            .pin_spacing(4.0)
            .notes(
                "A lattice of plaits. At a crossing two plaits are worked as one cloth stitch with a pin in it, \
                 each pair used as a single thread. Cluny has crossings of its own (from memory).",
            )
            .source(
                "plait: Th. de Dillmont, Encyclopedia of Needlework, 1886, Laces of different kinds, figure 784; leaf: her lozenge stitch, \
                 text to figures 803 and 804; windmill: \
                 J. Edkins, online lace tutorial, lazy crossing; as a ground: common practice, from memory",
            )
            .choose("sides", "Between the crossings", &SIDES)
            .choose_count("length", "Half stitches in a plait, or times there and back in a leaf", 2..=10, 6)
            .variety(Variety::new("six", "Plaited ground, six half stitches").notes("Small square meshes. Every pair travels: plaits pass straight through each other."))
            .variety(Variety::new("eight", "Plaited ground, eight half stitches").set("length", 8).notes("Large square meshes. Every pair travels: plaits pass straight through each other."))
            .variety(Variety::new("leaves", "Leaves with windmill crossings").set("sides", "leaves").set("length", 4).notes("Four leaves meet at every crossing. Every pair travels straight on through the crossings."))
    }

    fn define(settings: &Settings) -> Result<Repeat, Problem> {
        let length = settings.count("length")?;
        // The distance of the crossings follows the length of the plaits or leaves.
        let (side, apart) = if *settings.pick("sides", &SIDES)? {
            (tally(length), 0.5 * f64::from(length))
        } else {
            ("CT".repeat(length as usize), 0.5 + 0.25 * f64::from(length))
        };
        Pillow::new(4, 2.0 * apart)
            .stitch("top", (0, -0.25), 1, "pair-cross")
            .stitch("left", (-0.25, 0), 0, "pair-twist")
            .stitch("right", (0.25, 0), 2, "pair-twist")
            .stitch("bottom", (0, 0.25), 1, "pin pair-cross")
            .stitch("side-left", (-0.5 * apart, 0.5 * apart), 0, &side)
            .stitch("side-right", (0.5 * apart, 0.5 * apart), 2, &side)
            .repeat((apart, apart), 2)
    }
}

contribution!(Plait);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_variety_can_be_worked() {
        let warnings = pairwise_sdk::check::<Plait>();
        assert!(warnings.is_empty(), "{warnings:#?}");
    }

    // Threads of one repeat that travel left, stay and travel right, to match the notes.
    #[test]
    fn colours_go_where_the_notes_say() {
        let expected = [("six", [4, 0, 4]), ("eight", [4, 0, 4]), ("leaves", [4, 0, 4])];
        assert_eq!(pairwise_sdk::travels::<Plait>(), expected.map(|(id, threads)| (id.to_owned(), threads)));
    }
}
