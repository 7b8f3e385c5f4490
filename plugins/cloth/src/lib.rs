//! Cloth stitch areas. In each column a worker pair weaves across its passives
//! and back; where two workers meet there is a pin.

use pairwise_sdk::{About, Contribution, Pillow, Problem, Repeat, Settings, Variety, contribution};

const LINEN_1886: &str =
    "Th. de Dillmont, Encyclopedia of Needlework, 1886, Laces of different kinds, linen or cloth ground";
const NET_1886: &str =
    "Th. de Dillmont, Encyclopedia of Needlework, 1886, Laces of different kinds, figures 785 and 786";

/// Stitches of the area: id, title, moves.
const STITCHES: [(&str, &str, &str); 3] = [
    ("cloth", "cloth stitch", "CTC"),
    ("half", "half stitch", "CT"),
    ("cloth-twist", "cloth stitch and twist", "CTCT"),
];

/// Where two workers meet: id, title, moves.
const MEETINGS: [(&str, &str, &str); 3] = [
    ("turn", "cloth stitch, pin, cloth stitch: each goes back", "CTC pin CTC"),
    ("turn-twist", "cloth stitch and twist, pin, the same again: each goes back", "CTCT pin CTCT"),
    ("exchange", "half stitch, pin, half stitch: they change columns", "CT pin CT"),
];

/// Cloth stitch and half stitch areas.
pub struct Cloth;

impl Contribution for Cloth {
    fn about() -> About {
        About::ground("cloth", "Cloth stitch")
            .also_called("en", "whole stitch", "L. Halley, teaching notes")
            .also_called("de", "Leinenschlag", "common practice")
            .also_called("en", "linen stitch", "L. Halley, teaching notes")
            .also_called("fr", "toilé", "common practice")
            .also_called("fr", "point de toile", "C. Kellogg, Bobbins of Belgium, 1920")
            .used_in(["Bedfordshire", "Bucks Point", "Cluny", "Honiton", "Torchon", "Valenciennes"])
            // As in torchon (common practice, no source).
            .pin_spacing(4.0)
            .notes("Solid work: in cloth stitch like woven linen, in half stitch an open slanting lattice.")
            .source("stitches: common practice, from memory; in columns: our own arrangement")
            .choose("stitch", "Stitch of the area", &STITCHES)
            .choose_count("passives", "Passive pairs in each column", 2..=8, 4)
            .choose("meeting", "Where two workers meet", &MEETINGS)
            .choose_count("worker-twists", "Twists of the worker beside the pin", 0..=2, 1)
            .variety(
                Variety::new("columns", "Cloth stitch in columns")
                    .also_called("en", "linen ground", LINEN_1886)
                    .notes("Every pair stays. The passives hang straight down; the worker goes to and fro across its own column."),
            )
            .variety(
                Variety::new("half-columns", "Half stitch in columns")
                    .set("stitch", "half")
                    .also_called("en", "net ground", NET_1886)
                    .also_called("de", "Halbschlag", "common practice, from memory")
                    .also_called("fr", "grillé", "C. Kellogg, Bobbins of Belgium, 1920")
                    .notes("Pairs part at every stitch. The threads wander all over their column but stay in it: colours mix."),
            )
            .variety(
                Variety::new("twisted-columns", "Cloth stitch and twist in columns")
                    .set("stitch", "cloth-twist")
                    .notes("More open than cloth stitch: every pair is twisted between two stitches, and stays as in cloth stitch."),
            )
            .variety(
                Variety::new("exchange", "Cloth stitch in columns, workers exchanged")
                    .set("meeting", "exchange")
                    .notes("Passives stay; workers travel from column to column, one way or the other."),
            )
    }

    /// One column to the right of a pin and one to its left, each with its worker.
    /// The next columns begin half a turn of the worker lower.
    fn define(settings: &Settings) -> Result<Repeat, Problem> {
        let stitch = settings.pick("stitch", &STITCHES)?;
        let (passives, twists) = (settings.count("passives")?, settings.count("worker-twists")?);
        // Passives hang half a grid step apart; rows lie flatter than straight
        // from pin to pin, as weaving presses them together.
        let width = 0.5 * f64::from(passives + 1);
        let place = |k: i32| (0.5 * f64::from(k), 0.25 + 0.5 * f64::from(k) / f64::from(passives + 1));
        let pairs = passives + 1;

        let mut pillow = Pillow::new(2 * pairs, 2.0 * width)
            .stitch("pin", (0, 0), -1, settings.pick("meeting", &MEETINGS)?)
            .twist_all(-1..1, twists);
        for k in 1..=passives {
            let (x, y) = place(k);
            pillow = pillow.stitch(&format!("right-{k}"), (x, y), k - 1, stitch).stitch(
                &format!("left-{k}"),
                (-x, y),
                -1 - k,
                stitch,
            );
        }
        pillow.twist(passives, twists).twist(-pairs, twists).repeat((width, 1), pairs)
    }
}

contribution!(Cloth);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_variety_can_be_worked() {
        let warnings = pairwise_sdk::check::<Cloth>();
        assert!(warnings.is_empty(), "{warnings:#?}");
    }

    // Threads of one repeat that travel left, stay and travel right, to match the notes.
    #[test]
    fn colours_go_where_the_notes_say() {
        let expected = [
            ("columns", [0, 20, 0]),
            ("half-columns", [0, 20, 0]),
            ("twisted-columns", [0, 20, 0]),
            ("exchange", [2, 16, 2]),
        ];
        assert_eq!(pairwise_sdk::travels::<Cloth>(), expected.map(|(id, threads)| (id.to_owned(), threads)));
    }
}
