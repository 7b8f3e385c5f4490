//! Point ground: one stitch at every dot of a steep grid. The pin stands below
//! the twists, or above them, and is not closed.

use pairwise_sdk::{About, Contribution, Grid, Problem, Repeat, Settings, Variety, contribution};

const DILLMONT: &str =
    "Th. de Dillmont, Encyclopedia of Needlework, 1886, Laces of different kinds, figure 795";
/// Dillmont sets the pin after the half stitch, before the two twists.
const SOURCE: &str = "stitch and twists: Th. de Dillmont, Encyclopedia of Needlework, 1886, Laces of different kinds, figure 795, \
                      with the pin before the twists; the pin below them: J. Edkins, online lace tutorial, point ground";

/// Where the pin stands: id, title, whether the twists come before it.
const PINS: [(&str, &str, bool); 2] =
    [("below", "below the twists", true), ("above", "above the twists, as Dillmont has it", false)];

/// Point ground with its varieties.
pub struct Point;

impl Contribution for Point {
    fn about() -> About {
        About::ground("point", "Point ground")
            .family("net")
            .also_called("en", "tulle ground", DILLMONT)
            .also_called("en", "net ground", "common practice")
            .also_called("en", "Lille ground", "common practice")
            .also_called("de", "Tüllgrund", "common practice")
            .also_called("fr", "fond simple", "common practice")
            .also_called("fr", "fond clair", "common practice, from memory")
            .used_in(["Bucks Point", "Chantilly", "Lille", "Tønder"])
            // Bucks Point is pricked at 1.5 to 2 mm (common practice, no source).
            .pin_spacing(1.75)
            .angle(60.0)
            .notes(
                "A fine six-sided net, pricked at 52 to 70 degrees from the footside. \
                 The twists lie between two pins; no stitch closes the pin. English workers set the pin below \
                 the twists; Dillmont (1886) sets it above them.",
            )
            .source(SOURCE)
            .choose("pin", "Where the pin stands", &PINS)
            .choose_count("twists", "Twists after the half stitch", 1..=2, 2)
            .variety(
                Variety::new("plain", "Point ground")
                    .notes("One thread of each pair travels slantwise, the other zigzags and stays."),
            )
            .variety(
                Variety::new("light", "Point ground with one extra twist")
                    .set("twists", 1)
                    .source("common practice, from memory")
                    .notes("Softer. Both threads of a pair stay, so colours hang in columns."),
            )
    }

    fn define(settings: &Settings) -> Result<Repeat, Problem> {
        let twists = "T".repeat(settings.count("twists")?.unsigned_abs() as usize);
        let stitch = if *settings.pick("pin", &PINS)? {
            format!("CT{twists} pin")
        } else {
            format!("CT pin {twists}")
        };
        Grid::new((1, 1), (-1, 1)).dot("pin", (0, 0), stitch).repeat()
    }
}

contribution!(Point);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_variety_can_be_worked() {
        let warnings = pairwise_sdk::check::<Point>();
        assert!(warnings.is_empty(), "{warnings:#?}");
    }

    // Threads of one repeat that travel left, stay and travel right, to match the notes.
    #[test]
    fn colours_go_where_the_notes_say() {
        let expected = [("plain", [1, 2, 1]), ("light", [0, 4, 0])];
        assert_eq!(pairwise_sdk::travels::<Point>(), expected.map(|(id, threads)| (id.to_owned(), threads)));
    }
}
