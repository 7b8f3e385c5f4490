//! Six-pointed star ground: pairs that hang straight down and pairs that run
//! slantwise to either side meet in twos, always in the same stitch.

use pairwise_sdk::{About, Contribution, Pillow, Problem, Repeat, Settings, Variety, contribution};

/// Stitches where two slanting pairs meet: id, title, moves.
const PINS: [(&str, &str, &str); 3] = [
    ("open", "cloth stitch and twist, pin, left open", "CTCT pin"),
    ("closed", "half stitch, pin, half stitch", "CT pin CT"),
    ("doubled", "cloth stitch and twist, pin, cloth stitch and twist", "CTCT pin CTCT"),
];

/// Six-pointed star ground with its varieties.
pub struct Star;

impl Contribution for Star {
    fn about() -> About {
        About::ground("star", "Six-pointed star ground")
            .family("net")
            .also_called("en", "kat stitch", "common practice")
            .also_called("en", "Paris ground", "common practice")
            .also_called("en", "wire ground", "common practice, from memory")
            .also_called("fr", "fond chant", "common practice")
            .also_called("fr", "point de Paris", "common practice")
            .used_in(["Bucks Point", "Chantilly", "Point de Paris"])
            // A little wider than point ground (common practice, no source).
            .pin_spacing(2.0)
            .angle(60.0)
            .notes(
                "Six-sided holes, each with six small triangles round it: a star. A pair hangs straight down \
                 between each two neighbouring columns of pins; the others run slantwise.",
            )
            .source("common practice, from memory")
            .choose("pin", "At the pins", &PINS)
            .choose_count("twists", "Extra twists on every pair", 0..=2, 0)
            .variety(Variety::new("plain", "Six-pointed star ground").notes(
                "The pin stands below the stitch and is not closed. Slanting pairs travel, half to either side; the pairs that hang down stay.",
            ))
            .variety(Variety::new("closed", "Six-pointed star ground, closed pins").set("pin", "closed").notes(
                "The pin stands in the middle of the stitch: a small hole. Slanting pairs travel, the pairs that hang down stay.",
            ))
    }

    fn define(settings: &Settings) -> Result<Repeat, Problem> {
        let twists = settings.count("twists")?;
        // Pairs 0 and 3 hang straight down, 1 and 2 meet at the pin.
        Pillow::new(4, 2)
            .stitch("pin", (0, 0), 1, settings.pick("pin", &PINS)?)
            .twist_all(1..3, twists)
            .stitch("left", (-0.5, 0.5), 0, "CTCT")
            .stitch("right", (0.5, 0.5), 2, "CTCT")
            .twist_all(0..4, twists)
            .repeat((1, 1), 2)
    }
}

contribution!(Star);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_variety_can_be_worked() {
        let warnings = pairwise_sdk::check::<Star>();
        assert!(warnings.is_empty(), "{warnings:#?}");
    }

    // Threads of one repeat that travel left, stay and travel right, to match the notes.
    #[test]
    fn colours_go_where_the_notes_say() {
        let expected = [("plain", [2, 4, 2]), ("closed", [2, 4, 2])];
        assert_eq!(pairwise_sdk::travels::<Star>(), expected.map(|(id, threads)| (id.to_owned(), threads)));
    }
}
