//! Facts about a ground, in words.

use lace::{Grid, Ground, count, number};

/// The measures of a ground on a pricking, and its properties, as pairs of name
/// and value with unit.
pub fn in_words(ground: &Ground, grid: &Grid) -> Vec<(&'static str, String)> {
    let m = ground.measures(grid);
    let repeat = [
        count(m.pairs_per_repeat, "pair", "pairs"),
        count(m.pins_per_repeat, "pin", "pins"),
        count(m.stitches_per_repeat, "stitch", "stitches"),
        count(m.moves_per_repeat, "move", "moves"),
    ];
    let size = format!("{} mm wide, {} mm high", number(m.repeat_width_mm), number(m.repeat_height_mm));
    let sides = if ground.is_mirror_symmetric() { "alike (its own mirror image)" } else { "different" };
    let together = match ground.keeps_pairs() {
        true => "yes, in every stitch",
        false => "no, some stitches part their two threads",
    };
    vec![
        ("A repeat", repeat.join(", ")),
        ("Its size", size),
        ("Pairs", format!("{} per cm of width", number(m.pairs_per_cm))),
        ("Pins", format!("{} per cm\u{b2}", number(m.pins_per_cm2))),
        ("Moves", format!("{} per cm\u{b2}", number(m.moves_per_cm2))),
        ("Left and right", sides.to_owned()),
        ("Pairs stay together", together.to_owned()),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;
    use lace::samples::torchon;

    #[test]
    fn facts_have_their_units() {
        let ground = Ground::new(torchon("CT pin CT", 0)).unwrap();
        let facts = in_words(&ground, &Grid::new(4.0, 45.0).unwrap());
        assert_eq!(facts[0], ("A repeat", "2 pairs, 1 pin, 1 stitch, 4 moves".to_owned()));
        assert_eq!(facts[1], ("Its size", "4 mm wide, 2 mm high".to_owned()));
        assert_eq!(facts[2], ("Pairs", "5 per cm of width".to_owned()));
        assert!(facts.iter().any(|(what, _)| *what == "Pairs stay together"));
    }
}
