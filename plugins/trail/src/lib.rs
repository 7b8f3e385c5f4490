//! Straight trails: strips of cloth stitch with strips of torchon ground between
//! them. The worker takes the nearest pair of the ground in at every pin and
//! leaves it out again.

use pairwise_sdk::{About, Contribution, Pillow, Problem, Repeat, Settings, TORCHON, Variety, contribution};

/// What a trail is woven in: id, what the lacemaker reads, the moves; with a
/// pair of the ground at the pins on the right and on the left.
const CLOTHS: [(&str, &str, [&str; 3]); 2] = [
    ("cloth", "cloth stitch", ["CTC", "CTC twist-right pin CTC", "CTC twist-left pin CTC"]),
    ("half", "half stitch", ["CT", "CT twist-right pin CT", "CT twist-left pin CT"]),
];

/// Straight trails in torchon ground.
pub struct Trail;

impl Contribution for Trail {
    fn about() -> About {
        About::ground("trail", "Straight trails and torchon ground")
            .family("cloth")
            .used_in(["Torchon"])
            .notes("Closed strips run down the lace. Twist the worker before it goes round a pin.")
            .source("common practice, from memory")
            .choose("stitch", "Stitch of the trail", &CLOTHS)
            .choose_count("passives", "Passive pairs in a trail", 2..=8, 4)
            .choose_count("strip", "Rows of dots in a strip of ground", 1..=6, 3)
            .choose("ground", "Stitch at the pins of the ground", &TORCHON)
            .variety(Variety::new("cloth", "Cloth stitch trails").notes("Passives and workers stay in their trail; the pairs of the ground stay in their strip, running from trail to trail and back."))
            .variety(Variety::new("half", "Half stitch trails").set("stitch", "half").notes("Threads part at every stitch and slip out of the trail into the ground: some travel to either side, some stay."))
    }

    fn define(settings: &Settings) -> Result<Repeat, Problem> {
        let &[weave, at_right, at_left] = settings.pick("stitch", &CLOTHS)?;
        let (passives, ground) = (settings.count("passives")?, settings.pick("ground", &TORCHON)?);
        // An odd number of pairs in the strip, so that the pins of a trail stand
        // by turns on the right and on the left.
        let strip = 2 * settings.count("strip")? - 1;
        // Passives hang half a step apart, to the left of the pins at (0, 0).
        let width = 0.5 * f64::from(passives + 1);
        let woven = |k: i32| (-0.5 * f64::from(k), 0.2 + 0.6 * f64::from(k) / f64::from(passives + 1));

        // The trail is pairs 0 to `passives`, worker included; then comes the strip.
        let mut pillow = Pillow::new(passives + 1 + strip, width + f64::from(strip));
        let dots = |mut pillow: Pillow, row: i32, first: i32| {
            for x in (first..strip).step_by(2) {
                pillow = pillow.stitch(&format!("dot-{x}"), (x, row), passives + x, ground);
            }
            pillow
        };
        pillow = dots(pillow.stitch("pin-right", (0, 0), passives, at_right), 0, 2);
        for k in 1..=passives {
            pillow = pillow.stitch(&format!("go-{k}"), woven(k), passives - k, weave);
        }
        pillow = dots(pillow.stitch("pin-left", (-width, 1), -1, at_left), 1, 1);
        for k in (1..=passives).rev() {
            let (x, y) = woven(k);
            pillow = pillow.stitch(&format!("back-{k}"), (x, 2.0 - y), passives - k, weave);
        }
        pillow.repeat((0, 2), 0)
    }
}

contribution!(Trail);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_variety_can_be_worked() {
        let warnings = pairwise_sdk::check::<Trail>();
        assert!(warnings.is_empty(), "{warnings:#?}");
    }

    // Threads of a repeat that travel left, stay, travel right: what the notes say.
    #[test]
    fn colours_go_where_the_notes_say() {
        let expected = [("cloth", [0, 20, 0]), ("half", [7, 6, 7])];
        assert_eq!(pairwise_sdk::travels::<Trail>(), expected.map(|(id, threads)| (id.to_owned(), threads)));
    }
}
