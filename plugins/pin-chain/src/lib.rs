//! Pin chains: the same two pairs work honeycomb stitches round several pins,
//! one straight below the other, before they part.

use pairwise_sdk::Side::{Left, Right};
use pairwise_sdk::{About, Contribution, Grid, Problem, Repeat, Settings, Variety, contribution};

/// Stitches at a pin: id, title, moves.
const STITCHES: [(&str, &str, &str); 2] = [
    ("honeycomb", "half stitch and twist, pin, half stitch and twist", "CTT pin CTT"),
    ("cloth-twist", "cloth stitch and twist, pin, the same again", "CTCT pin CTCT"),
];

/// Pin chains with two or three pins.
pub struct PinChain;

impl Contribution for PinChain {
    fn about() -> About {
        About::filling("pin-chain", "Pin chains", "point")
            .family("honeycomb")
            .used_in(["Bucks Point", "Chantilly", "Lille", "Tønder"])
            // Bucks Point is pricked at 1.5 to 2 mm (common practice, no source).
            .pin_spacing(1.75)
            .angle(60.0)
            .notes("Chains of pins with long holes between them. The pairs part below each chain and go to the next ones.")
            .source("common practice, from memory")
            .choose("stitch", "Stitch at every pin", &STITCHES)
            .choose_count("pins", "Pins in a chain", 2..=4, 2)
            .variety(Variety::new("two", "Pin chains of two").notes("The pairs turn back at every pin and stay between two columns of chains."))
            .variety(Variety::new("three", "Pin chains of three").set("pins", 3).notes("Longer chains, longer holes. Every pair stays between two columns of chains.").source("chain of two pins: common practice, from memory; with three: ours"))
    }

    fn define(settings: &Settings) -> Result<Repeat, Problem> {
        let (stitch, pins) = (settings.pick("stitch", &STITCHES)?, settings.count("pins")?);
        let depth = 2 * pins - 1;
        let id = |pin: i32| format!("pin-{pin}");
        let grid = (1..=pins).fold(Grid::new((1, depth), (-1, depth)), |grid, pin| {
            grid.dot(&id(pin), (0, 2 * (pin - 1)), stitch)
        });
        (1..pins)
            .fold(grid, |grid, pin| {
                let (upper, lower, at) = (id(pin), id(pin + 1), (0, 2 * pin));
                grid.leg((&upper, Left), (&lower, Left), at).leg((&upper, Right), (&lower, Right), at)
            })
            .repeat()
    }
}

contribution!(PinChain);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_variety_can_be_worked() {
        let warnings = pairwise_sdk::check::<PinChain>();
        assert!(warnings.is_empty(), "{warnings:#?}");
    }

    // Threads of one repeat that travel left, stay and travel right, to match the notes.
    #[test]
    fn colours_go_where_the_notes_say() {
        let expected = [("two", [0, 4, 0]), ("three", [0, 4, 0])];
        assert_eq!(
            pairwise_sdk::travels::<PinChain>(),
            expected.map(|(id, threads)| (id.to_owned(), threads))
        );
    }
}
